"""What a two-stroke or four-stroke outboard costs over the years it is owned."""
