"""Answers to questions about a plan."""
