"""Pure questions about the garden, answered without a solver."""
