"""What the program's exit status says."""

from __future__ import annotations

FINE = 0
"""Done; also a plan that is good but not proven best, or that was cut short with Ctrl-C."""
FOUND = 1
"""No plan can hold every rule; a plan breaks rules; a checked scenario has faults; there is no place for a crop."""
COULD_NOT_RUN = 2
"""Wrong use, a file that cannot be used, or no plan within the time."""
OUR_FAULT = 3
"""A defect of rotasolve, not of the files it was given."""
LEFT = 130
"""Left by Ctrl-C (128 + the signal's number, as shells count)."""
READER_GONE = 141
"""Whatever read the answer went away (128 + SIGPIPE)."""

TABLE = (
    "Exit status: 0 done; 1 no plan can hold every rule, a plan breaks rules, a checked scenario has faults, or there "
    "is no place for a crop; 2 could not run, or no plan in time; 3 a defect of rotasolve; 130 left with Ctrl-C."
)
