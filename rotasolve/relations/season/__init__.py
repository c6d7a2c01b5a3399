"""Seasons of a site: climate, frost, windows, ripeness and thirst."""
