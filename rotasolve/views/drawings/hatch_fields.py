"""The hatches of the family marks as fields of lines, each seen through the ground it fills.

An SVG pattern would become a picture of dots for every shape when a page is printed: a PDF of 20 MB for a garden of
eight beds, and blurred. Lines stay lines. A field is made of a few broad strokes, cut into slices by their dashes and
seen through bands; only zigzag and tents are drawn row by row. All have tiles of 12 by 12.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import ceil, floor
from typing import TYPE_CHECKING

from rotasolve.views.drawings.family_marks import HATCHES
from rotasolve.views.drawings.svg import NOTHING, Markup, element, number, polygon

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from rotasolve.views.drawings.family_marks import FamilyMark

WIDE = TALL = 348
"""The size of a field in user units: whole tiles, and more than any strip on a bed's sheet."""
_LINE = 1.1
_TILE = 12
_ROOT = 2**0.5


@dataclass(frozen=True)
class _Stroke:
    """A stroke of a field: its path, its width, its dashes (none: an unbroken line), the bands it is seen through.

    ``repeated``: it is the first row of tiles only.
    """

    path: str
    width: float = _LINE
    dashes: str = ""
    bands: str = ""
    repeated: bool = False


class SharedParts:
    """Elements that stand once in a page's definitions and are used wherever they come again."""

    def __init__(self) -> None:
        self._keys: dict[Markup, str] = {}
        self._clips: dict[str, str] = {}
        self._marks: dict[FamilyMark, None] = {}

    def use(self, part: Markup, x: float = 0, y: float = 0) -> Markup:
        """Return an element that shows a part with its own origin at a point."""
        key = self._keys.setdefault(part, f"p{len(self._keys)}")
        return element("use", href=f"#{key}", x=x or None, y=y or None)

    def ground(self, mark: FamilyMark, width: float, height: float, x: float = 0, y: float = 0) -> Markup:
        """Return a rectangle from (x, y) on, filled with a mark; its edge is drawn with the stroke of what holds it."""
        if width > WIDE or height > TALL:
            return self.shape(mark, ((x, y), (x + width, y), (x + width, y + height), (x, y + height)))
        self._marks[mark] = None
        return element("use", href=f"#{mark.key}", x=x or None, y=y or None, width=width, height=height)

    def shape(self, mark: FamilyMark, corners: Sequence[tuple[float, float]]) -> Markup:
        """Return a shape of any size with some corners, as ``ground``. A turned one's hatch is not turned with it."""
        path = polygon(corners)
        clip = self._clips.setdefault(path, f"c{len(self._clips)}")
        (left, right), (top, foot) = ((floor(min(each)), ceil(max(each)) + 1) for each in zip(*corners, strict=True))
        fields = [
            self.ground(mark, min(WIDE, right - x), min(TALL, foot - y), x, y)
            for x in range(left, right, WIDE)
            for y in range(top, foot, TALL)
        ]
        # The ground below the fields, lest paper shows at the joints between them.
        below = element("path", d=path, fill=mark.tint)
        inner = element("g", below, element("g", *fields, clip_path=f"url(#{clip})"), stroke="none")
        return inner + element("path", d=path, fill="none")

    def definitions(self) -> Markup:
        """Return all parts used so far, each with the key it is used by."""
        # A symbol is cut off at the size it is used with, and its shares are shares of that size.
        symbols = (
            element(
                "symbol",
                element("rect", width="100%", height="100%", fill=mark.tint, stroke_width=2),
                hatch_field(mark),
                id=mark.key,
            )
            for mark in self._marks
        )
        clips = (element("clipPath", element("path", d=path), id=key) for path, key in self._clips.items())
        return element("defs", *(element("g", part, id=key) for part, key in self._keys.items()), *symbols, *clips)


def hatch_field(mark: FamilyMark) -> Markup:
    """Return a mark's hatch over a whole field, without its ground; empty for a plain mark."""
    strokes = _FIELDS[mark.hatch]
    if not strokes:
        return NOTHING
    drawn = []
    for nth, one in enumerate(strokes):
        path = element("path", d=one.path, stroke_width=one.width, stroke_dasharray=one.dashes or None)
        if one.bands:
            clip = f"{mark.key}-{nth}"
            drawn.append(element("clipPath", element("path", d=one.bands), id=clip))
            path = element("g", path, clip_path=f"url(#{clip})")
        if one.repeated:
            path = _repeated(path, f"{mark.key}-{nth}")
        drawn.append(path)
    return element("g", *drawn, stroke=mark.line, fill="none", stroke_linecap="butt")


def _level(*places: float) -> _Stroke:
    """Return level lines at some heights of every tile: one stroke down the field, as broad as the field."""
    return _Stroke(f"M{WIDE / 2:g} {number(places[0] - _LINE / 2, 2)}V{TALL}", WIDE, _slices(places, _TILE))


def _upright(*places: float) -> _Stroke:
    return _Stroke(f"M{number(places[0] - _LINE / 2, 2)} {TALL / 2:g}H{WIDE}", TALL, _slices(places, _TILE))


def _rising(*places: float) -> _Stroke:
    """Return lines rising to the right; ``places`` are where they cross the upper edge of a tile."""
    first = places[0] / 2 - _LINE / 2 / _ROOT
    path = f"M{number(first, 2)} {number(first, 2)}L{TALL} {TALL}"
    return _Stroke(path, 2 * TALL, _slices([place / _ROOT for place in places], _TILE / _ROOT))


def _falling() -> _Stroke:
    first = _LINE / 2 / _ROOT
    path = f"M{number(-first, 2)} {number(TALL + first, 2)}L{TALL} 0"
    return _Stroke(path, 2 * TALL, _slices([0], _TILE / _ROOT))


def _slices(places: Iterable[float], tile: float) -> str:
    """Return the dashes that leave a line at each place of a tile, from the first place on."""
    ordered = list(places)
    gaps = [after - before for before, after in zip(ordered, [*ordered[1:], ordered[0] + tile], strict=True)]
    return " ".join(f"{_LINE} {number(gap - _LINE, 3)}" for gap in gaps)


def _between(stroke: _Stroke, first: int, last: int) -> _Stroke:
    """Return level lines seen only from ``first`` to ``last`` of each tile's width."""
    bands = "".join(f"M{left + first} 0h{last - first}v{TALL}h{first - last}z" for left in range(0, WIDE, _TILE))
    return replace(stroke, bands=bands)


def _beneath(stroke: _Stroke, first: int, last: int) -> _Stroke:
    """Return upright lines seen only from ``first`` to ``last`` of each tile's height."""
    bands = "".join(f"M0 {top + first}h{WIDE}v{last - first}h-{WIDE}z" for top in range(0, TALL, _TILE))
    return replace(stroke, bands=bands)


def _rows(begin: str, tile: str) -> _Stroke:
    """Return a line through a row of tiles, by relative moves that begin at ``begin`` of a tile; rows are repeated."""
    return _Stroke(f"M{begin}{tile * (WIDE // _TILE)}", repeated=True)


def _repeated(row: Markup, key: str) -> Markup:
    """Return a row of tiles and all rows below it: each step shows twice as many as the one before."""
    shown, tall, nth = element("g", row, id=f"{key}-0"), _TILE, 0
    while tall < TALL:
        again = element("use", href=f"#{key}-{nth}", y=tall)
        nth, tall = nth + 1, 2 * tall
        shown = element("g", shown, again, id=f"{key}-{nth}")
    return shown


_FIELDS: dict[str, tuple[_Stroke, ...]] = {
    "rising lines": (_rising(0),),
    "level lines": (_level(3, 9),),
    "lattice": (_rising(0), _falling()),
    "upright lines": (_upright(3, 9),),
    "zigzag": (_rows("0 8", "l3-4 3 4 3-4 3 4"),),
    "falling lines": (_falling(),),
    "grid": (_level(6), _upright(6)),
    "level dashes": (_between(_level(3), 1, 6), _between(_level(9), 7, 12)),
    "crosses": (_between(_level(6), 3, 9), _beneath(_upright(6), 3, 9)),
    "upright dashes": (_beneath(_upright(3), 1, 6), _beneath(_upright(9), 7, 12)),
    "steps": (_between(_level(9), 0, 6), _between(_level(3), 6, 12), _beneath(_upright(0, 6), 3, 9)),
    "bricks": (_level(0, 6), _beneath(_upright(3), 0, 6), _beneath(_upright(9), 6, 12)),
    "double level lines": (_level(4, 7),),
    "double rising lines": (_rising(0, 8),),
    "tents": (_rows("2 9", "l4-6 4 6zm12 0"),),
    "plain": (),
    "double upright lines": (_upright(4, 7),),
}
assert tuple(_FIELDS) == HATCHES
