"""Frozen records of the garden: no reading, no solving, no printing."""
