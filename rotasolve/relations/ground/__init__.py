"""Ground and what stands on it: families, blocks, sowings, plantings, and the garden that joins them."""
