"""The whole site in one garden year, to scale, seen from above: where the beds lie and what grows in them.

The pole side (north; south in the southern hemisphere) is up; where south is up, west is right: the picture is turned,
never mirrored. In each strip what comes first in the year is drawn at the left and what follows right of it. Beds
without a place on the site stand side by side below. A bed's or an obstacle's bearing turns it about its middle.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from itertools import groupby
from typing import TYPE_CHECKING

from rotasolve.domain.bed import Bed
from rotasolve.domain.seasons import say_year
from rotasolve.domain.strips import part_breadth_cm, parts_of, strip_depth_cm, strips_per_part
from rotasolve.relations.ground import part_and_row
from rotasolve.views.bed_year import Stay, stays_in
from rotasolve.views.family_marks import FamilyMark, family_marks, mark_definitions, swatches
from rotasolve.views.look import Look
from rotasolve.views.svg import (
    INK,
    PAPER,
    Drawing,
    Markup,
    badges,
    box,
    element,
    join,
    label,
    number,
    opening,
    paragraph,
    text_width,
)
from rotasolve.views.wording import clean, say_length

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from rotasolve.domain.obstacle import Obstacle
    from rotasolve.domain.plan import Plan
    from rotasolve.domain.scenario import Scenario
    from rotasolve.relations.garden import Garden

_EDGE = 20
_LEAST_WIDTH, _MOST_WIDTH = 680, 2000
_LEAST_SIDE = 64
"""The shorter side of the smallest bed in user units, if the page does not grow too wide for it."""
_MOST_SCALE = 0.9
_APART_CM = 60
_NAME = 14
_SCALE_BARS_CM = (50, 100, 200, 500, 1000, 2000, 5000)
_SCALE_BARS_FT = (2, 4, 8, 20, 40, 80, 160)
_CM_PER_FOOT = 30.48
_ALPHABET = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
_LETTER = 13


@dataclass(frozen=True)
class _Lies:
    """A bed or an obstacle with its number and its upper left corner, before it is turned, in cm from the drawing's."""

    number: int
    thing: Bed | Obstacle
    right: float
    down: float
    degrees: float = 0

    @property
    def reach(self) -> tuple[float, float, float, float]:
        """Left, top, right and bottom in cm as it lies turned."""
        wide, deep, angle = self.thing.breadth_cm, self.thing.depth_cm, math.radians(self.degrees)
        half = (wide * math.cos(angle) + deep * abs(math.sin(angle))) / 2
        high = (deep * math.cos(angle) + wide * abs(math.sin(angle))) / 2
        across, along = self.right + wide / 2, self.down + deep / 2
        return across - half, along - high, across + half, along + high


@dataclass(frozen=True)
class _Cell:
    """The ground of a crop in user units, before it is turned with its bed (clockwise, about the bed's middle)."""

    crop: str
    x: float
    y: float
    width: float
    height: float
    turn: _Turn


@dataclass(frozen=True)
class _Turn:
    """A turn of so many degrees clockwise about a place."""

    degrees: float
    x: float
    y: float

    def of(self, x: float, y: float) -> tuple[float, float]:
        """Return where a place comes to lie."""
        angle, across, down = math.radians(self.degrees), x - self.x, y - self.y
        return (
            self.x + across * math.cos(angle) - down * math.sin(angle),
            self.y + across * math.sin(angle) + down * math.cos(angle),
        )

    def box(self, x: float, y: float, width: float, height: float) -> str:
        """Return a rectangle as part of a path. Its hatch is not turned with it: it would look like another's."""
        if not self.degrees:
            return box(x, y, width, height)
        corners = (self.of(x + a * width, y + b * height) for a, b in ((0, 0), (1, 0), (1, 1), (0, 1)))
        return "M" + "L".join(f"{number(across)} {number(down)}" for across, down in corners) + "z"


@dataclass(frozen=True)
class _Frame:
    garden: Garden
    look: Look
    scale: float
    marks: dict[str, FamilyMark]
    stays: dict[str, tuple[Stay, ...]]
    letters: dict[str, str]


def site_drawing(garden: Garden, plan: Plan, year: int, inches: bool = False) -> Drawing:
    """Return the drawing of the site in a garden year.

    Parameters
    ----------
    garden
        The garden of the plan.
    plan
        The plan.
    year
        The garden year.
    inches
        Whether lengths are said in inches and feet. Default: no.
    """
    south, look = garden.scenario.site.south, Look(inches=inches)
    placed, loose = _placed(garden.scenario), _loose(garden.scenario.beds)
    scale = _scale(garden.scenario.beds, placed + loose)
    stays = {bed: stays_in(garden, plan, bed, year) for bed in garden.beds}
    frame = _Frame(garden, look, scale, family_marks(garden.catalogue), stays, _letters(stays.values()))
    across = max(lies.reach[2] for lies in placed + loose) * scale
    width = max(_LEAST_WIDTH, round(across + 2 * _EDGE))
    said = say_year(year, south)
    title = f"{garden.scenario.title}, {said}"
    parts, down = opening(_EDGE, width, (title, 24), (_how_to_read(frame, bool(placed)), 14), 8)
    compass, height = _compass(frame, down)
    parts.append(compass)
    down += height
    for beds, note in ((placed, ""), (loose, "No place on the site is known of these beds: they stand side by side.")):
        if beds:
            drawn, height = _ground(frame, beds, down, note if placed else "", width)
            parts.append(drawn)
            down += height
    listed, height = _list(frame, sorted(placed + loose, key=lambda lies: lies.number), down, width)
    return Drawing(
        title=clean(title),
        description=f"The beds of {clean(garden.scenario.title)} to scale, with the crops of {said}.",
        width=width,
        height=round(down + height + _EDGE),
        body=join([*parts, listed]),
        definitions=mark_definitions(_used(frame)),
    )


def _letters(stays: Iterable[tuple[Stay, ...]]) -> dict[str, str]:
    """Return letters for the crops of a year, by name: A to Z, then AA, AB and so on."""
    crops = sorted({stay.crop for here in stays for stay in here}, key=str.casefold)
    return {
        crop: (_ALPHABET[nth // 26 - 1] if nth >= 26 else "") + _ALPHABET[nth % 26] for nth, crop in enumerate(crops)
    }


def _used(frame: _Frame) -> list[FamilyMark]:
    return [frame.marks[frame.garden.crops[crop].family] for crop in frame.letters]


def _placed(scenario: Scenario) -> list[_Lies]:
    """Return the beds that have a place, and beside them the obstacles, numbered on after the last bed."""
    things: list[tuple[int, Bed | Obstacle, float, float]] = [
        (nth, bed, bed.east, bed.north)
        for nth, bed in enumerate(scenario.beds, start=1)
        if bed.east is not None and bed.north is not None
    ]
    if not things:
        return []
    first = len(scenario.beds) + 1
    things += [(nth, one, one.east, one.north) for nth, one in enumerate(scenario.obstacles, start=first)]
    if scenario.site.south:
        lying = [_Lies(nth, one, -east - one.breadth_cm, north, one.bearing) for nth, one, east, north in things]
    else:
        lying = [_Lies(nth, one, east, -north - one.depth_cm, one.bearing) for nth, one, east, north in things]
    left, top = (min(lies.reach[side] for lies in lying) for side in (0, 1))
    return [replace(lies, right=lies.right - left, down=lies.down - top) for lies in lying]


def _loose(beds: tuple[Bed, ...]) -> list[_Lies]:
    found: list[_Lies] = []
    loose = [(n, bed) for n, bed in enumerate(beds, start=1) if not bed.is_placed]
    widest = max([6 * _APART_CM, *(bed.breadth_cm for _, bed in loose)], default=0)
    row_of = max(widest, sum(bed.breadth_cm + _APART_CM for _, bed in loose) ** 0.5 * 30)
    right = down = deepest = 0.0
    for told, bed in loose:
        if right and right + bed.breadth_cm > row_of:
            right, down, deepest = 0.0, down + deepest + _APART_CM, 0.0
        found.append(_Lies(told, bed, right, down))
        right += bed.breadth_cm + _APART_CM
        deepest = max(deepest, bed.depth_cm)
    return found


def _scale(beds: tuple[Bed, ...], lying: list[_Lies]) -> float:
    across = max(lies.reach[2] for lies in lying)
    fits = (_LEAST_WIDTH - 2 * _EDGE) / across
    wished = _LEAST_SIDE / min(min(bed.breadth_cm, bed.depth_cm) for bed in beds)
    return min(_MOST_SCALE, max(fits, min(wished, (_MOST_WIDTH - 2 * _EDGE) / across)))


def _how_to_read(frame: _Frame, placed: bool) -> str:
    south = frame.garden.scenario.site.south
    pole, west = ("South", "right") if south else ("North", "left")
    text = f"{pole}, the pole side, is up, west is {west}. "
    if not placed:
        text += "The beds have no place on the site yet: they stand side by side. "
    text += "In each strip what comes first in the year is at the left, what follows is right of it. "
    return text + "The letters are the crops named below."


def _compass(frame: _Frame, top: float) -> tuple[Markup, float]:
    """Return the arrow to the pole and the scale bar side by side, and their height."""
    south = frame.garden.scenario.site.south
    arrow = element("path", d=f"M{_EDGE + 8} {number(top)}l9 22h-6v14h-6v-14h-6z", fill=INK)
    words = label(_EDGE + 26, top + 28, f"{'S' if south else 'N'} (pole side)", 14, bold=True)
    if frame.look.inches:
        lengths = [(feet * _CM_PER_FOOT, f"{feet} ft") for feet in _SCALE_BARS_FT]
    else:
        lengths = [(float(cm), say_length(cm, frame.look)) for cm in _SCALE_BARS_CM]
    cm, said = next(((cm, said) for cm, said in lengths if cm * frame.scale >= 80), lengths[-1])
    x, long = _EDGE + 170, cm * frame.scale
    half = element("rect", x=x, y=top + 20, width=long / 2, height=8, fill=INK)
    bar = element("rect", x=x, y=top + 20, width=long, height=8, fill=PAPER, stroke=INK, stroke_width=1.5)
    return join((arrow, words, bar, half, label(x + long + 10, top + 29, said, 14, bold=True))), 56


def _ground(frame: _Frame, beds: list[_Lies], top: float, note: str, width: float) -> tuple[Markup, float]:
    """Return the beds with their top at ``top``, and their height; ``note`` stands above them."""
    parts: list[Markup] = []
    if note:
        written, height = paragraph(_EDGE, top, note, width - 2 * _EDGE, 14, bold=True)
        parts.append(written)
        top += height
    top += 22
    cells = [cell for lies in beds for cell in _cells(frame, lies, top)]
    outlines, shadows = "", ""
    for lies in beds:
        x, y = _EDGE + lies.right * frame.scale, top + lies.down * frame.scale
        outline = _turn(frame, lies, top).box(
            x, y, lies.thing.breadth_cm * frame.scale, lies.thing.depth_cm * frame.scale
        )
        if isinstance(lies.thing, Bed):
            outlines += outline
        else:
            shadows += outline
    if shadows:
        parts.append(element("path", d=shadows, fill="#c9c9c9", stroke=INK, stroke_width=1, stroke_dasharray="5 3"))
    parts += _filled(frame, cells)
    parts.append(element("path", d=outlines, fill="none", stroke=INK, stroke_width=2.5))
    parts += _names(frame, beds, top)
    foot = max(lies.reach[3] for lies in beds) * frame.scale
    return join(parts), top + foot + 14 - (top - 22 - (height if note else 0))


def _turn(frame: _Frame, lies: _Lies, top: float) -> _Turn:
    return _Turn(
        lies.degrees,
        _EDGE + (lies.right + lies.thing.breadth_cm / 2) * frame.scale,
        top + (lies.down + lies.thing.depth_cm / 2) * frame.scale,
    )


def _cells(frame: _Frame, lies: _Lies, top: float) -> Iterator[_Cell]:
    """Yield the ground of each crop of a bed: strips that carry the same in turn are one cell for each crop."""
    bed, scale = lies.thing, frame.scale
    if not isinstance(bed, Bed):
        return
    turn = _turn(frame, lies, top)
    x, y = _EDGE + lies.right * scale, top + lies.down * scale
    share, deep = part_breadth_cm(bed) * scale, strip_depth_cm(bed) * scale
    south = frame.garden.scenario.site.south
    here = frame.stays[bed.name]
    for part in range(parts_of(bed)):
        left = x + (parts_of(bed) - 1 - part if south else part) * share
        first = part * strips_per_part(bed) + 1
        every = range(first, first + strips_per_part(bed))
        column = [(strip, tuple(stay for stay in here if strip in stay.strips)) for strip in every]
        for standing, group in groupby(column, key=lambda pair: pair[1]):
            strips = [strip for strip, _ in group]
            upper = y + (part_and_row(bed, strips[0])[1] - 1) * deep
            for nth, stay in enumerate(standing):
                wide = share / len(standing)
                yield _Cell(stay.crop, left + nth * wide, upper, wide, len(strips) * deep, turn)


def _filled(frame: _Frame, cells: list[_Cell]) -> list[Markup]:
    """Return the cells, those of a family in one element, and their letters on white plates."""
    grounds: dict[FamilyMark, str] = {}
    plates, letters = "", []
    for cell in cells:
        mark = frame.marks[frame.garden.crops[cell.crop].family]
        grounds[mark] = grounds.get(mark, "") + cell.turn.box(cell.x, cell.y, cell.width, cell.height)
        letter = frame.letters[cell.crop]
        wide, high = text_width(letter, _LETTER, bold=True) + 4, _LETTER + 3
        if wide <= cell.width - 1 and high <= cell.height - 1:
            x, y = cell.turn.of(cell.x + cell.width / 2, cell.y + cell.height / 2)
            plates += box(x - wide / 2, y - high / 2, wide, high)
            letters.append(label(x, y + _LETTER * 0.37, letter))
    found = [element("path", d=path, fill=mark.fill, stroke=INK) for mark, path in grounds.items()]
    if letters:
        found.append(element("path", d=plates, fill=PAPER))
        found.append(element("g", *letters, font_size=_LETTER, font_weight="bold", text_anchor="middle"))
    return found


def _names(frame: _Frame, beds: list[_Lies], top: float) -> list[Markup]:
    """Write each bed's number at its upper left corner, and its name above it where there is room."""
    told, names = [], []
    for lies in beds:
        turn = _turn(frame, lies, top)
        if not isinstance(lies.thing, Bed):
            told.append((turn.x, turn.y, str(lies.number)))
            continue
        x, y = turn.of(_EDGE + lies.right * frame.scale, top + lies.down * frame.scale)
        told.append((x + 12, y - 2, str(lies.number)))
        name = clean(lies.thing.name)
        wide = 28 + text_width(name, _NAME, bold=True)
        room = wide <= (lies.thing.breadth_cm + _APART_CM / 2) * frame.scale and not lies.degrees
        if room and not _taken(frame, lies, beds, wide):
            names.append(label(x + 28, y - 5, name))
    return [badges(told), element("g", *names, font_size=_NAME, font_weight="bold")]


def _taken(frame: _Frame, lies: _Lies, beds: list[_Lies], wide: float) -> bool:
    """Return whether the name above a bed would lie on something else, on another's name, or on a number."""
    high, along = (_NAME + 16) / frame.scale, wide / frame.scale
    for other in beds:
        left, upper, right, lower = other.reach
        if other is lies or left >= lies.right + along or right <= lies.right:
            continue
        if upper - high < lies.down and lower > lies.down - high:
            return True
    return False


def _list(frame: _Frame, beds: list[_Lies], top: float, width: float) -> tuple[Markup, float]:
    """Return what grows in each bed in words, then the families' marks, and their height."""
    parts: list[Markup] = []
    told = []
    down = top + 10
    for lies in beds:
        words = _say(frame, lies.thing)
        written, height = paragraph(_EDGE + 34, down, words, width - 2 * _EDGE - 34)
        told.append((_EDGE + 13, down + 10, str(lies.number)))
        parts.append(written)
        down += max(height, 22) + 5
    listed, height = swatches(_used(frame), _EDGE, down + 8, width - 2 * _EDGE)
    return join([*parts, badges(told), listed]), down + 8 + height - top


def _say(frame: _Frame, thing: Bed | Obstacle) -> str:
    if not isinstance(thing, Bed):
        kind = "" if thing.kind == thing.name else f"{thing.kind}, "
        return f"{thing.name}: {kind}{say_length(thing.height, frame.look)} high"
    names = dict.fromkeys(stay.crop for stay in frame.stays[thing.name])
    crops = ", ".join(f"{frame.letters[name]} {name}" for name in names)
    return f"{thing.name}: {crops or 'free all the year'}"
