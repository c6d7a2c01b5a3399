"""The whole site in one garden year, to scale, seen from above: where the beds lie and what grows in them.

The pole side (north; south in the southern hemisphere) is up; where south is up, west is right: the picture is turned,
never mirrored. In each strip stands, with its name, the crop that has it longest in the year; the words say what comes
before and after. Beds without a place on the site stand side by side below. A bed's or an obstacle's bearing turns it
about its middle.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import groupby
from typing import TYPE_CHECKING

from rotasolve.domain.bed import Bed
from rotasolve.domain.seasons import say_year, year_end, year_start
from rotasolve.domain.strips import part_breadth_cm, parts_of, strip_depth_cm, strips_per_part
from rotasolve.relations.ground.lie_of_beds import part_and_row
from rotasolve.views.drawings.family_marks import FamilyMark, family_marks, key_of
from rotasolve.views.drawings.hatch_fields import SharedParts
from rotasolve.views.drawings.site_layout import (
    APART_CM,
    EDGE,
    Lies,
    Turn,
    compass,
    loose_in,
    placed_on,
    say_up,
    scale_of,
    turn_of,
)
from rotasolve.views.drawings.svg import (
    INK,
    NOTHING,
    PAPER,
    WIDTH,
    Drawing,
    Markup,
    badges,
    box,
    element,
    join,
    label,
    paragraph,
    text_width,
    with_words,
)
from rotasolve.views.words.bed_stays import said_in_bed
from rotasolve.views.words.bed_year import Stay, stays_in
from rotasolve.views.words.look import Look
from rotasolve.views.words.wording import clean, say_length

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping

    from rotasolve.domain.obstacle import Obstacle
    from rotasolve.domain.plan import Plan
    from rotasolve.relations.ground.garden import Garden

_NAME = 14
_CROP_SIZES = (13, 11, 9, 8)
"""A crop's name is written in the largest of these sizes that its ground has room for, on two lines if need be."""


@dataclass(frozen=True)
class _Cell:
    """The ground of a crop in user units, before it is turned with its bed (clockwise, about the bed's middle)."""

    crop: str
    x: float
    y: float
    width: float
    height: float
    turn: Turn


@dataclass(frozen=True)
class _Frame:
    garden: Garden
    scale: float
    marks: dict[str, FamilyMark]
    stays: Mapping[str, tuple[Stay, ...]]
    year: int
    parts: SharedParts


def site_drawing(garden: Garden, plan: Plan, year: int, inches: bool = False) -> Drawing:
    """Return the file of the site in a garden year: its map, and below it in words what grows in each bed.

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
    said, title, parts = say_year(year, garden.scenario.site.south), garden.scenario.title, SharedParts()
    stays = {bed: stays_in(garden, plan, bed, year) for bed in garden.beds}
    families = {garden.crops[stay.crop].family for here in stays.values() for stay in here}
    lying = sorted(placed_on(garden.scenario) + loose_in(garden.scenario.beds), key=lambda lies: lies.number)
    look = Look(inches=inches)
    words = [(str(lies.number), _say(lies.thing, garden, plan, year, look)) for lies in lying]
    return with_words(
        site_map(garden, plan, year, inches, families, parts),
        title=f"{title}, {said}",
        how=how_to_read(garden),
        words=words,
        description=f"The beds of {clean(title)} to scale, with the crops of {said}.",
        definitions=parts.definitions(),
    )


def site_map(
    garden: Garden,
    plan: Plan,
    year: int,
    inches: bool,
    families: Iterable[str],
    parts: SharedParts,
) -> Drawing:
    """Return the picture of the site in a garden year with the key of some families' marks below it."""
    placed, loose = placed_on(garden.scenario), loose_in(garden.scenario.beds)
    scale = scale_of(garden.scenario.beds, placed + loose)
    marks = family_marks(garden.catalogue)
    stays = {bed: stays_in(garden, plan, bed, year) for bed in garden.beds}
    frame = _Frame(garden, scale, marks, stays, year, parts)
    width = max(WIDTH, round(max(lies.reach[2] for lies in placed + loose) * scale + 2 * EDGE))
    under, down = compass(garden.scenario.site.south, scale, Look(inches=inches), 0)
    over, cells = NOTHING, list[_Cell]()
    for beds, note in ((placed, ""), (loose, "No place on the site is known of these beds: they stand side by side.")):
        if not beds:
            continue
        if note and placed:
            written, height = paragraph(EDGE, down, note, width - 2 * EDGE, 14, bold=True)
            under, down = under + written, down + height
        down += 22
        cells += [cell for lies in beds for cell in _cells(frame, lies, down)]
        shadows, edges = _outlines(frame, beds, down)
        under, over = under + shadows, over + edges + join(_names(frame, beds, down))
        down += max(lies.reach[3] for lies in beds) * scale + 14
    key, height = key_of((marks[family] for family in families), width - 2 * EDGE, parts)
    foot = round(down) + 6
    # What lies under and over the ground that is used is the same every year.
    body = join((parts.use(under), *_filled(frame, cells), parts.use(over), parts.use(key, EDGE, foot)))
    return Drawing(f"The site, {say_year(year, garden.scenario.site.south)}", width, foot + height, body)


def how_to_read(garden: Garden) -> str:
    """Say which side is up, and which crop of a strip is drawn."""
    text = f"{say_up(garden.scenario.site.south)} "
    if not any(bed.is_placed for bed in garden.beds.values()):
        text += "The beds have no place on the site yet: they stand side by side. "
    return text + "A strip shows the crop that has it longest; the list below has all."


def _outlines(frame: _Frame, beds: list[Lies], top: float) -> tuple[Markup, Markup]:
    """Return what stands beside the beds, and the edges of the beds."""
    outlines, shadows = "", ""
    for lies in beds:
        x, y = EDGE + lies.right * frame.scale, top + lies.down * frame.scale
        outline = turn_of(lies, frame.scale, EDGE, top).box(
            x, y, lies.thing.breadth_cm * frame.scale, lies.thing.depth_cm * frame.scale
        )
        if isinstance(lies.thing, Bed):
            outlines += outline
        else:
            shadows += outline
    beside = element("path", d=shadows, fill="#c9c9c9", stroke=INK, stroke_width=1, stroke_dasharray="5 3")
    return beside if shadows else NOTHING, element("path", d=outlines, fill="none", stroke=INK, stroke_width=2.5)


def _cells(frame: _Frame, lies: Lies, top: float) -> Iterator[_Cell]:
    """Yield the ground of each crop of a bed: strips that carry the same in turn are one cell for each crop."""
    bed, scale = lies.thing, frame.scale
    if not isinstance(bed, Bed):
        return
    turn = turn_of(lies, frame.scale, EDGE, top)
    x, y = EDGE + lies.right * scale, top + lies.down * scale
    share, deep = part_breadth_cm(bed) * scale, strip_depth_cm(bed) * scale
    south = frame.garden.scenario.site.south
    here = frame.stays[bed.name]
    for part in range(parts_of(bed)):
        left = x + (parts_of(bed) - 1 - part if south else part) * share
        first = part * strips_per_part(bed) + 1
        every = range(first, first + strips_per_part(bed))
        column = [(strip, _longest([stay for stay in here if strip in stay.strips], frame)) for strip in every]
        for stay, group in groupby(column, key=lambda pair: pair[1]):
            strips = [strip for strip, _ in group]
            if stay is not None:
                upper = y + (part_and_row(bed, strips[0])[1] - 1) * deep
                yield _Cell(stay.crop, left, upper, share, len(strips) * deep, turn)


def _longest(stays: list[Stay], frame: _Frame) -> Stay | None:
    """Return the stay that takes most days of the year, of equal ones the earliest; None if there is none."""
    south = frame.garden.scenario.site.south
    start, end = year_start(frame.year, south), year_end(frame.year, south)
    return max(stays, key=lambda stay: min(stay.last, end) - max(stay.first, start), default=None)


def _filled(frame: _Frame, cells: list[_Cell]) -> Iterator[Markup]:
    """Yield the ground of the cells, and the crops' names on white plates."""
    grounds, plates, names = list[Markup](), "", dict[int, list[Markup]]()
    for cell in cells:
        mark = frame.marks[frame.garden.crops[cell.crop].family]
        if cell.turn.degrees:
            corners = cell.turn.corners(cell.x, cell.y, cell.width, cell.height)
            grounds.append(frame.parts.shape(mark, corners))
        else:
            ground = frame.parts.ground(mark, cell.width, cell.height)
            grounds.append(frame.parts.use(ground, cell.x, cell.y))
        size, lines = _fitted(clean(cell.crop), cell.width - 1, cell.height - 2)
        x, y = cell.turn.of(cell.x + cell.width / 2, cell.y + cell.height / 2)
        if not lines:
            continue
        # Whole units, and one plate for all lines, keep the file small.
        x, upper = round(x), round(y - len(lines) * (size + 2) / 2)
        half = math.ceil(max(text_width(line, size, bold=True) for line in lines) / 2) + 1
        plates += box(x - half, upper, 2 * half, len(lines) * (size + 2))
        for nth, line in enumerate(lines):
            names.setdefault(size, []).append(label(x, upper + nth * (size + 2) + size - 1, line))
    yield element("g", *grounds, stroke=INK)
    if names:
        yield element("path", d=plates, fill=PAPER)
    for size, written in names.items():
        yield element("g", *written, font_size=size, font_weight="bold", text_anchor="middle")


def _fitted(name: str, width: float, height: float) -> tuple[int, tuple[str, ...]]:
    """Return the size and the lines in which a name fits into a ground; no lines if it fits in none."""
    first, _, rest = name.partition(" ")
    for size in _CROP_SIZES:
        for lines in ((name,), (first, rest) if rest else (name,)):
            wide = max(text_width(line, size, bold=True) for line in lines) + 2
            if wide <= width and len(lines) * (size + 2) <= height:
                return size, lines
    return _CROP_SIZES[-1], ()


def _names(frame: _Frame, beds: list[Lies], top: float) -> list[Markup]:
    """Write each bed's number at its upper left corner, and its name above it where there is room."""
    told, names = [], []
    for lies in beds:
        turn = turn_of(lies, frame.scale, EDGE, top)
        if not isinstance(lies.thing, Bed):
            told.append((turn.x, turn.y, str(lies.number)))
            continue
        x, y = turn.of(EDGE + lies.right * frame.scale, top + lies.down * frame.scale)
        told.append((x + 12, y - 2, str(lies.number)))
        name = clean(lies.thing.name)
        wide = 28 + text_width(name, _NAME, bold=True)
        room = wide <= (lies.thing.breadth_cm + APART_CM / 2) * frame.scale and not lies.degrees
        if room and not _taken(frame, lies, beds, wide):
            names.append(label(x + 28, y - 5, name))
    return [badges(told), element("g", *names, font_size=_NAME, font_weight="bold")]


def _taken(frame: _Frame, lies: Lies, beds: list[Lies], wide: float) -> bool:
    """Return whether the name above a bed would lie on something else, on another's name, or on a number."""
    high, along = (_NAME + 16) / frame.scale, wide / frame.scale
    for other in beds:
        left, upper, right, lower = other.reach
        if other is lies or left >= lies.right + along or right <= lies.right:
            continue
        if upper - high < lies.down and lower > lies.down - high:
            return True
    return False


def _say(thing: Bed | Obstacle, garden: Garden, plan: Plan, year: int, look: Look) -> str:
    if not isinstance(thing, Bed):
        return say_obstacle(thing, look)
    crops = said_in_bed(garden.scenario, plan, thing.name, year, look)
    return f"{thing.name}: {', '.join(crops) or 'free all the year'}"


def say_obstacle(thing: Obstacle, look: Look) -> str:
    """Say what stands beside the beds, and how high it is."""
    kind = "" if thing.kind == thing.name else f"{thing.kind}, "
    return f"{thing.name}: {kind}{say_length(thing.height, look)} high"
