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
from itertools import zip_longest
from typing import TYPE_CHECKING

from rotasolve.views.drawings.svg import INK, Markup, element, join, paragraph

if TYPE_CHECKING:
    from rotasolve.domain.catalogue import Catalogue
    from rotasolve.views.drawings.hatch_fields import SharedParts

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
HATCHES = (
    "rising lines",
    "level lines",
    "lattice",
    "upright lines",
    "zigzag",
    "falling lines",
    "grid",
    "level dashes",
    "crosses",
    "upright dashes",
    "steps",
    "bricks",
    "double level lines",
    "double rising lines",
    "tents",
    "plain",
    "double upright lines",
)
"""The lines of each are in ``hatch_fields``."""
_KEY_ROW = 26
_TINT = 0.72
"""Share of white in the ground of a mark: dark plants and lines must stand off it."""
_SHADE, _SHADES = 0.25, {"yellow": 0.42}
"""Share of ink in the lines of a hatch, of all colours and of those that would not show on white paper."""


@dataclass(frozen=True)
class FamilyMark:
    """A family's mark: ``tint`` is the colour of its ground, ``line`` that of its hatch."""

    family: str
    name: str
    number: int
    colour: str
    hatch: str

    @property
    def key(self) -> str:
        """The identity of the mark's hatch; it holds nothing a user wrote."""
        return f"m{self.number}"

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
    colours, hatches = list(COLOURS), HATCHES
    found = {}
    for nth, family in enumerate([*named, *others]):
        # The numbers of hatches and colours have no factor in common: all pairs come before one comes again.
        colour = colours[nth % len(colours)]
        name = family if named.get(family, family) == family else f"{family} ({named[family]})"
        found[family] = FamilyMark(family, name, nth + 1, colour, hatches[nth % len(hatches)])
    return found


def mixed(colour: str, other: str, share: float) -> str:
    """Return a colour (``#rrggbb``) with a share of another mixed into it."""
    parts = [round(int(colour[i : i + 2], 16) * (1 - share) + int(other[i : i + 2], 16) * share) for i in (1, 3, 5)]
    return "#" + "".join(f"{part:02x}" for part in parts)


def key_of(marks: Iterable[FamilyMark], width: float, parts: SharedParts) -> tuple[Markup, float]:
    """Return marks with the families' names in two columns over a width, and their height."""
    ordered = sorted(set(marks), key=lambda mark: mark.number)
    grounds, names, down = list[Markup](), list[Markup](), 0.0
    for left, right in zip_longest(ordered[: (len(ordered) + 1) // 2], ordered[(len(ordered) + 1) // 2 :]):
        heights = [float(_KEY_ROW)]
        for mark, x in ((left, 0.0), (right, width / 2)):
            if mark is not None:
                grounds.append(parts.ground(mark, 30, 20, round(x), round(down)))
                written, height = paragraph(round(x) + 40, round(down), mark.name, width / 2 - 42, 14)
                names.append(written)
                heights.append(height + 8)
        down += max(heights)
    return element("g", *grounds, stroke=INK) + join(names), down
