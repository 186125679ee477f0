"""Checks against the outside world, by hand, of each file, and of the rules of the house."""
