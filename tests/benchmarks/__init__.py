"""Measurements of speed, run by hand: they measure the machine as much as the code."""
