"""The mark of each crop family: a colour and a hatch, the same in every drawing, on screen and on paper.

Colours are the eight that Okabe and Ito published for readers with any kind of colour vision ("Color Universal Design",
2008; values from memory), grey standing in for their black. Each of the first sixteen families has a hatch of its own,
so that a black-and-white print tells them apart as well; further families repeat the hatches in other colours, and no
two of the first 128 share colour and hatch. No hatch has dots, because dots are plants. A mark never stands alone: the
family's or the crop's name is always written beside it.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from rotasolve.views.drawings.svg import INK, NOTHING, Markup, element, join, paragraph

if TYPE_CHECKING:
    from rotasolve.domain.catalogue import Catalogue

COLOURS = {
    "bluish green": "#009e73",
    "vermillion": "#d55e00",
    "sky blue": "#56b4e9",
    "reddish purple": "#cc79a7",
    "orange": "#e69f00",
    "blue": "#0072b2",
    "yellow": "#f0e442",
    "grey": "#808080",
}
# Name of the hatch and its lines in a tile of 12 by 12.
HATCHES = {
    "rising lines": "M-3 3L3 -3M0 12L12 0M9 15L15 9",
    "level lines": "M0 3H12M0 9H12",
    "lattice": "M0 0L12 12M0 12L12 0",
    "upright lines": "M3 0V12M9 0V12",
    "zigzag": "M0 8L3 4L6 8L9 4L12 8",
    "falling lines": "M-3 9L3 15M0 0L12 12M9 -3L15 3",
    "grid": "M0 6H12M6 0V12",
    "level dashes": "M1 3H6M7 9H12",
    "crosses": "M3 6H9M6 3V9",
    "upright dashes": "M3 1V6M9 7V12",
    "steps": "M0 9H6V3H12V9",
    "bricks": "M0 0H12M0 6H12M3 0V6M9 6V12",
    "double level lines": "M0 4H12M0 7H12",
    "double rising lines": "M-1 1L1 -1M0 12L12 0M-1 9L9 -1M7 13L13 7M11 13L13 11",
    "tents": "M2 9L6 3L10 9Z",
    "plain": "",
}
_TILE = 12
_TINT = 0.72
"""Share of white in the ground of a mark: dark plants and lines must stand off it."""
_SHADE, _SHADES = 0.25, {"yellow": 0.42}
"""Share of ink in the lines of a hatch, of all colours and of those that would not show on white paper."""


@dataclass(frozen=True)
class FamilyMark:
    """A family's mark: ``fill`` is what a shape's fill attribute says; ``tint`` its ground, ``line`` its hatch."""

    family: str
    name: str
    number: int
    colour: str
    hatch: str

    @property
    def key(self) -> str:
        """The identity of the mark's pattern; it holds nothing a user wrote."""
        return f"mark-{self.number}"

    @property
    def fill(self) -> str:
        """The value of a fill attribute."""
        return f"url(#{self.key})"

    @property
    def tint(self) -> str:
        """The ground's colour."""
        return mixed(COLOURS[self.colour], "#ffffff", _TINT)

    @property
    def line(self) -> str:
        """The colour of the hatch."""
        return mixed(COLOURS[self.colour], INK, _SHADES.get(self.colour, _SHADE))


def family_marks(catalogue: Catalogue) -> dict[str, FamilyMark]:
    """Return the mark of each family: those of the catalogue in its order, then those only crops name, sorted."""
    named = {family.name: family.common_name for family in catalogue.families}
    others = sorted({crop.family for crop in catalogue.crops} - named.keys())
    colours, hatches = list(COLOURS), list(HATCHES)
    found = {}
    for nth, family in enumerate([*named, *others]):
        colour = colours[(nth + nth // len(hatches)) % len(colours)]
        name = family if named.get(family, family) == family else f"{family} ({named[family]})"
        found[family] = FamilyMark(family, name, nth + 1, colour, hatches[nth % len(hatches)])
    return found


def mark_definitions(marks: Iterable[FamilyMark]) -> Markup:
    """Return the patterns of some marks, to stand once in a page or a file."""
    ordered = sorted(set(marks), key=lambda mark: mark.number)
    return element("defs", *(_pattern(mark) for mark in ordered)) if ordered else NOTHING


def _pattern(mark: FamilyMark) -> Markup:
    ground = element("rect", width=_TILE, height=_TILE, fill=mark.tint)
    lines = HATCHES[mark.hatch]
    hatch = [element("path", d=lines, stroke=mark.line, stroke_width=1.1, fill="none")] if lines else []
    return element("pattern", ground, *hatch, id=mark.key, width=_TILE, height=_TILE, patternUnits="userSpaceOnUse")


def mixed(colour: str, other: str, share: float) -> str:
    """Return a colour (``#rrggbb``) with a share of another mixed into it."""
    parts = [round(int(colour[i : i + 2], 16) * (1 - share) + int(other[i : i + 2], 16) * share) for i in (1, 3, 5)]
    return "#" + "".join(f"{part:02x}" for part in parts)


def swatches(marks: Iterable[FamilyMark], x: float, y: float, width: float) -> tuple[Markup, float]:
    """Return a list of marks with the families' names from (x, y) down, and its height."""
    parts: list[Markup] = []
    down = y
    for mark in sorted(set(marks), key=lambda mark: mark.number):
        parts.append(element("rect", x=x, y=down, width=30, height=20, fill=mark.fill, stroke=INK, stroke_width=1))
        written, height = paragraph(x + 40, down + 1, mark.name, width - 40, 15)
        parts.append(written)
        down += max(26, height + 6)
    return join(parts), down - y
