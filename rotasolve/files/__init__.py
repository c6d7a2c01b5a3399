"""Files in, records out; every fault with file, line and column."""
