"""A file on disk becomes checked data."""
