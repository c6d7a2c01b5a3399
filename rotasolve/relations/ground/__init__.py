"""Ground and what stands on it: families, lots, sowings, plantings, and the garden that joins them."""
