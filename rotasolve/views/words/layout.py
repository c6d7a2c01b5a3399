"""Tables, blocks and paragraphs in a given width, measured in terminal columns."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from rotasolve.views.words.look import Look
from rotasolve.views.words.wording import TIED, clean

_GAP = 2


@dataclass(frozen=True)
class Column:
    """A column of a table: its heading, and whether its cells are numbers, set to the right."""

    heading: str
    number: bool = False


def columns_of(text: str) -> int:
    """Return the terminal columns a text takes: 2 for wide letters, 0 for combining marks."""
    return sum(0 if unicodedata.combining(sign) else 1 + (unicodedata.east_asian_width(sign) in "WF") for sign in text)


def pad(text: str, width: int, right: bool = False) -> str:
    """Return a text filled up with blanks to ``width`` columns."""
    blanks = " " * max(0, width - columns_of(text))
    return blanks + text if right else text + blanks


def cut(text: str, width: int) -> str:
    """Return as much of a text as fits into ``width`` columns."""
    while columns_of(text) > width:
        text = text[:-1]
    return text


def wrap(text: str, width: int, indent: str = "", later: str | None = None) -> list[str]:
    """Break a text into lines of at most ``width`` columns; ``later`` indents all lines but the first."""
    later = indent if later is None else later
    lines: list[str] = []
    line, empty = indent, True
    for word in clean(text).split(" "):
        while word:
            joined = line + ("" if empty else " ") + word
            if columns_of(joined) <= width:
                line, empty = joined, False
                break
            if not empty:
                lines.append(line)
                line, empty = later, True
                continue
            # A word longer than a whole line is broken, or it would run out of its column.
            part = cut(word, max(1, width - columns_of(line))) or word[0]
            lines.append(line + part)
            line, word = later, word[len(part) :]
    if not empty or not lines:
        lines.append(line)
    return [line.replace(TIED, " ").rstrip() for line in lines]


def heading(text: str, look: Look, under: str = "") -> list[str]:
    """Return a heading, underlined with ``under`` if given."""
    lines = wrap(text, look.width)
    shown = [f"\x1b[1m{line}\x1b[0m" for line in lines] if look.bold else lines
    return shown + ([under * max(columns_of(line) for line in lines)] if under else [])


def table(columns: Sequence[Column], rows: Iterable[Sequence[str]], look: Look, indent: str = "") -> list[str]:
    """Return the lines of a table, or of one block for each row where the page is too narrow.

    Cells are broken between words when the table is wider than the page; a column that is empty throughout is
    left out.
    """
    shown, cells = without_empty(columns, [tuple(clean(cell) for cell in row) for row in rows])
    if not cells:
        return []
    widths = None if look.narrow else _widths(shown, cells, look.width - len(indent))
    if widths is None:
        return _blocks(shown, cells, look, indent)
    lines = _row_lines([column.heading for column in shown], shown, widths, indent)
    rule = "-" if look.plain else "─"
    lines.append(indent + (" " * _GAP).join(rule * width for width in widths))
    for row in cells:
        lines += _row_lines(row, shown, widths, indent)
    return lines


def without_empty(columns: Sequence[Column], rows: Sequence[Sequence[str]]) -> tuple[list[Column], list[list[str]]]:
    """Return columns and rows without the columns that are empty throughout."""
    used = [n for n in range(len(columns)) if any(row[n] for row in rows)]
    return [columns[n] for n in used], [[row[n] for n in used] for row in rows]


def _widths(columns: Sequence[Column], cells: list[list[str]], room: int) -> list[int] | None:
    """Return the columns' widths, or None if words would have to be broken; the widest column gives way first."""
    least, widths = [], []
    for n, column in enumerate(columns):
        texts = [row[n] for row in cells]
        least.append(max(columns_of(word) for text in [column.heading, *texts] for word in text.split(" ")))
        widths.append(max(least[-1], *(columns_of(text) for text in texts)))
    room -= _GAP * (len(columns) - 1)
    if sum(least) > room:
        return None
    while sum(widths) > room:
        widths[max((n for n in range(len(widths)) if widths[n] > least[n]), key=lambda n: widths[n])] -= 1
    return widths


def _row_lines(row: Sequence[str], columns: Sequence[Column], widths: Sequence[int], indent: str) -> list[str]:
    wrapped = [wrap(cell, width) for cell, width in zip(row, widths, strict=True)]
    lines = []
    for place in range(max(len(lines_here) for lines_here in wrapped)):
        parts = [
            pad(lines_here[place] if place < len(lines_here) else "", width, column.number)
            for lines_here, width, column in zip(wrapped, widths, columns, strict=True)
        ]
        lines.append((indent + (" " * _GAP).join(parts)).rstrip())
    return lines


def _blocks(columns: Sequence[Column], cells: list[list[str]], look: Look, indent: str) -> list[str]:
    lines = []
    for row in cells:
        lines += wrap(row[0], look.width, indent, indent + "  ")
        for column, cell in zip(columns[1:], row[1:], strict=True):
            if cell:
                # Only the first letter: units such as degC keep theirs.
                label = column.heading[:1].lower() + column.heading[1:]
                lines += wrap(f"{label}: {cell}", look.width, indent + "  ", indent + "    ")
    return lines
