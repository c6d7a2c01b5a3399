"""One fault in a file: what, where, why and how to mend it."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Fault:
    """A fault at a place in a file; ``line`` and ``column`` count from 1, and both are 1 for that of a whole file.

    ``source_line`` shows the line, or what of a long one stands about the place; ``skipped`` signs of it are not shown
    in front.
    """

    file: str
    line: int
    column: int
    what: str
    mend: str = ""
    source_line: str = ""
    skipped: int = 0

    def __str__(self) -> str:
        """Say the fault as ``file:line:column: what - mend``."""
        return f"{self.file}:{self.line}:{self.column}: {self.what}" + (f" - {self.mend}" if self.mend else "")
