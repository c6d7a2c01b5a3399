"""Processes as Linux lists them: their states, children and memory."""

from __future__ import annotations

from pathlib import Path

PROC = Path("/proc")


def state_of(process: int) -> str:
    """Return how the system calls the state of a process, X where there is none any more."""
    try:
        return (PROC / str(process) / "stat").read_text().rsplit(")", 1)[1].split()[0]
    except OSError:
        return "X"


def children_of(process: int, word: str = "") -> set[int]:
    """Return the processes that one has started, those whose command line has a word in it."""
    found = set()
    for folder in PROC.glob("[0-9]*"):
        try:
            parent = int((folder / "stat").read_text().rsplit(")", 1)[1].split()[1])
            words = (folder / "cmdline").read_bytes()
        except OSError:
            continue
        if parent == process and word.encode() in words:
            found.add(int(folder.name))
    return found


def resident_bytes(process: int) -> int:
    """Return the memory that a process takes, 0 if it is gone."""
    try:
        pages = int((PROC / str(process) / "statm").read_text().split()[1])
    except OSError:
        return 0
    return pages * 4096
