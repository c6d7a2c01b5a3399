"""Jobs, seeds, seedlings and shopping that a plan brings."""
