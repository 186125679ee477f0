"""Questions that people ask at the counter, one file a theme, each answered by the model's own sums."""
