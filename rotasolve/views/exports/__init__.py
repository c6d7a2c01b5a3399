"""Answers for other programs: JSON and calendar files."""
