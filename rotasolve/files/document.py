"""A file as plain data that remembers where each key and each value was written."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple, TypeAlias

from rotasolve.domain.fault import Fault
from rotasolve.domain.signs import blanked, shortened

if TYPE_CHECKING:
    from collections.abc import Mapping

Plain: TypeAlias = "bool | int | float | str | list[Plain] | dict[str, Plain] | None"
"""What a data file may hold."""
KeyPath: TypeAlias = tuple[str | int, ...]
"""Where a value lies inside a file, such as ``("beds", 0, "length")``."""

WIDEST_SOURCE_LINE = 76
_BEFORE, _BEHIND, _CUT = 40, 16, "..."


class TextPlace(NamedTuple):
    """A place in a file; line and column count from 1, the column in characters."""

    line: int
    column: int


BEGINNING = TextPlace(1, 1)
"""Where faults of a whole file are shown."""
MOST_FAULTS = 200
"""Faults of a file that are looked into; those behind them wait until these are mended."""


def quoted(value: object, most: int = 60) -> str:
    """Return a value between single quotes for a message, on one line and at most ``most`` characters long."""
    text = blanked(value if isinstance(value, str) else say_plain(value))
    return f"'{shortened(text, most)}'"


def say_plain(value: object) -> str:
    """Say a value as it is written in the file; groups of values are named by their kind."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if value is None:
        return "nothing"
    if isinstance(value, dict):
        return "a group of fields"
    if isinstance(value, list | tuple):
        return "a list"
    return str(value)


@dataclass(frozen=True, eq=False)
class Document:
    """Plain data with the place of every key and value.

    ``file`` is the name shown in messages; ``keys`` and ``values`` map a key path to its place.
    """

    file: str
    lines: tuple[str, ...]
    data: Plain
    keys: Mapping[KeyPath, TextPlace]
    values: Mapping[KeyPath, TextPlace]

    def at(self, path: KeyPath) -> Plain:
        """Return the value at a path, or None if there is none."""
        found = self.data
        for step in path:
            if isinstance(found, dict) and isinstance(step, str):
                found = found.get(step)
            elif isinstance(found, list) and isinstance(step, int) and step < len(found):
                found = found[step]
            else:
                return None
        return found

    def place_of_value(self, path: KeyPath) -> TextPlace:
        """Return where a value begins; an empty value and one that is not there are shown at the nearest key."""
        if path in self.values and (path not in self.keys or self.at(path) is not None):
            return self.values[path]
        return self.place_of_key(path)

    def place_of_key(self, path: KeyPath) -> TextPlace:
        """Return where a key begins; for an entry of a list where the entry begins, else the nearest one above."""
        for length in range(len(path), -1, -1):
            above = path[:length]
            if above in self.keys:
                return self.keys[above]
            if above in self.values:
                return self.values[above]
        return TextPlace(1, 1)

    def fault(self, place: TextPlace, what: str, mend: str = "") -> Fault:
        """Return a fault at a place of this file, with the line as it stands there."""
        return fault_at(self.file, self.lines, place, what, mend)

    def value_fault(self, path: KeyPath, what: str, mend: str = "") -> Fault:
        """Return a fault at the value of a path."""
        return self.fault(self.place_of_value(path), what, mend)

    def key_fault(self, path: KeyPath, what: str, mend: str = "") -> Fault:
        """Return a fault at the key of a path."""
        return self.fault(self.place_of_key(path), what, mend)


def fault_at(file: str, lines: tuple[str, ...], place: TextPlace, what: str, mend: str = "") -> Fault:
    """Return a fault with 76 characters of its source line: the first ones, or those about a place far behind.

    What is said of the end of a file may stand behind it, and is shown at the last place there is.
    """
    number = min(place.line, max(1, len(lines)))
    line = lines[number - 1] if lines else ""
    column = min(place.column, len(line) + 1) if number == place.line and lines else len(line) + 1
    skipped = max(0, column - 1 - _BEFORE) if column > WIDEST_SOURCE_LINE - _BEHIND else 0
    # Cut before it is blanked: a file may be one line of a million letters with a fault in each tenth of them.
    shown = blanked(line[skipped : skipped + WIDEST_SOURCE_LINE]).rstrip()
    if skipped and shown:
        shown = _CUT + shown[len(_CUT) :]
    return Fault(file, number, column, what, mend, shown, skipped)
