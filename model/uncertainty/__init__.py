"""Trials: the same ownership many times over, on hours, prices and failures that differ."""
