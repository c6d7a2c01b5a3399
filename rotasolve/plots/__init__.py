"""Many gardens at once: which there are, the engines that plan them side by side, and what became of each."""
