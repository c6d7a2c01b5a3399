"""How a page is to look: its width, the signs it may use, and the units lengths are said in."""

from __future__ import annotations

from dataclasses import dataclass

NARROW = 60
"""Below so many columns a table turns into one word a line: each row becomes a block instead."""
WIDEST_TEXT = 100
"""Longer lines of running text are hard to read, however wide the terminal is."""


@dataclass(frozen=True)
class Look:
    """``plain`` True draws with ASCII only; ``bold`` True may use terminal codes for headings.

    ``codes`` True names rules by their codes beside their names.
    """

    width: int = 80
    plain: bool = False
    inches: bool = False
    bold: bool = False
    codes: bool = False

    @property
    def narrow(self) -> bool:
        """Whether tables become blocks."""
        return self.width < NARROW

    @property
    def text_width(self) -> int:
        """Columns for running text."""
        return min(self.width, WIDEST_TEXT)

    @property
    def dash(self) -> str:
        """The dash between the ends of a range."""
        return "-" if self.plain else "–"  # noqa: RUF001 - an en dash is meant
