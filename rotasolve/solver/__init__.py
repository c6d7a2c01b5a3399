"""Solving: one linear whole-number program, handed to CP-SAT and HiGHS, and read back as a plan."""
