"""Direct sun on the ground, and who takes it."""
