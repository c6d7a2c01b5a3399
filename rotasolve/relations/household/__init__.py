"""What a household wants, and what a plan gives it."""
