"""Words, numbers and tables that all views share."""
