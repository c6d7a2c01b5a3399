"""The whole site in one garden year, to scale, seen from above: where the beds lie and what grows in them.

The pole side (north; south in the southern hemisphere) is up; where south is up, west is right: the picture is turned,
never mirrored. In each strip what comes first in the year is drawn at the left and what follows right of it. Beds
without a place on the site stand side by side below. A bed's or an obstacle's bearing turns it about its middle.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import groupby
from typing import TYPE_CHECKING

from rotasolve.domain.bed import Bed
from rotasolve.domain.seasons import say_year
from rotasolve.domain.strips import part_breadth_cm, parts_of, strip_depth_cm, strips_per_part
from rotasolve.relations.ground.lie_of_beds import part_and_row
from rotasolve.views.drawings.family_marks import FamilyMark, family_marks, mark_definitions, swatches
from rotasolve.views.drawings.site_layout import (
    APART_CM,
    EDGE,
    LEAST_WIDTH,
    Lies,
    Turn,
    compass,
    loose_in,
    placed_on,
    say_pole_side,
    scale_of,
    turn_of,
)
from rotasolve.views.drawings.svg import (
    INK,
    NOTHING,
    PAPER,
    Drawing,
    Markup,
    badges,
    box,
    element,
    join,
    label,
    opening,
    paragraph,
    text_width,
)
from rotasolve.views.words.bed_year import Stay, stays_in
from rotasolve.views.words.look import Look
from rotasolve.views.words.wording import clean, say_length

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from rotasolve.domain.obstacle import Obstacle
    from rotasolve.domain.plan import Plan
    from rotasolve.relations.ground.garden import Garden

_NAME = 14
_ALPHABET = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
_LETTER = 13


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
    frame, placed, loose, width = _laid(garden, plan, year, inches)
    title = f"{garden.scenario.title}, {say_year(year, garden.scenario.site.south)}"
    how = f"{how_to_read(garden)} The letters are the crops named below."
    parts, down = opening(EDGE, width, (title, 24), (how, 14), 8)
    shown = _map(frame, placed, loose, down, width)
    drawn, down = join((shown.under, shown.ground, shown.over)), shown.height
    listed, height = _list(frame, sorted(placed + loose, key=lambda lies: lies.number), down, width)
    return _drawing(garden, year, width, down + height, [*parts, drawn, listed], mark_definitions(_used(frame)))


@dataclass(frozen=True)
class SiteMap:
    """A site without words: what lies under the ground that is used in a year, that ground, and what lies over it.

    Under and over are the same every year. ``height`` is measured from the drawing's top.
    """

    width: float
    height: float
    under: Markup
    ground: Markup
    over: Markup


def site_map(garden: Garden, plan: Plan, year: int, inches: bool = False) -> SiteMap:
    """Return the site of a garden year for a page that says itself how to read it and what grows in each bed."""
    frame, placed, loose, width = _laid(garden, plan, year, inches)
    return _map(replace(frame, letters={}), placed, loose, 0, width)


def _laid(garden: Garden, plan: Plan, year: int, inches: bool) -> tuple[_Frame, list[Lies], list[Lies], float]:
    """Return what a drawing's parts share, what has a place on the site, what has none, and the drawing's width."""
    placed, loose = placed_on(garden.scenario), loose_in(garden.scenario.beds)
    scale = scale_of(garden.scenario.beds, placed + loose)
    stays = {bed: stays_in(garden, plan, bed, year) for bed in garden.beds}
    marks = family_marks(garden.catalogue)
    frame = _Frame(garden, Look(inches=inches), scale, marks, stays, _letters(stays.values()))
    across = max(lies.reach[2] for lies in placed + loose) * scale
    return frame, placed, loose, max(LEAST_WIDTH, round(across + 2 * EDGE))


def _drawing(garden: Garden, year: int, width: float, foot: float, parts: list[Markup], definitions: Markup) -> Drawing:
    title, said = garden.scenario.title, say_year(year, garden.scenario.site.south)
    return Drawing(
        title=clean(f"{title}, {said}"),
        description=f"The beds of {clean(title)} to scale, with the crops of {said}.",
        width=width,
        height=round(foot + EDGE),
        body=join(parts),
        definitions=definitions,
    )


def _map(frame: _Frame, placed: list[Lies], loose: list[Lies], top: float, width: float) -> SiteMap:
    """Return the compass, the scale bar and the beds with their top at ``top``."""
    pole, height = compass(frame.garden.scenario.site.south, frame.scale, frame.look, top)
    under, ground, over, down = pole, NOTHING, NOTHING, top + height
    for beds, note in ((placed, ""), (loose, "No place on the site is known of these beds: they stand side by side.")):
        if beds:
            shown = _ground(frame, beds, down, note if placed else "", width)
            under, ground, over = under + shown.under, ground + shown.ground, over + shown.over
            down = shown.height
    return SiteMap(width, down, under, ground, over)


def _letters(stays: Iterable[tuple[Stay, ...]]) -> dict[str, str]:
    """Return letters for the crops of a year, by name: A to Z, then AA, AB and so on."""
    crops = sorted({stay.crop for here in stays for stay in here}, key=str.casefold)
    return {
        crop: (_ALPHABET[nth // 26 - 1] if nth >= 26 else "") + _ALPHABET[nth % 26] for nth, crop in enumerate(crops)
    }


def _used(frame: _Frame) -> list[FamilyMark]:
    return [frame.marks[frame.garden.crops[crop].family] for crop in frame.letters]


def how_to_read(garden: Garden) -> str:
    """Say which side is up, and what stands where in a strip."""
    text = f"{say_pole_side(garden.scenario.site.south)} "
    if not any(bed.is_placed for bed in garden.beds.values()):
        text += "The beds have no place on the site yet: they stand side by side. "
    return text + "In each strip what comes first in the year is at the left, what follows is right of it."


def _ground(frame: _Frame, beds: list[Lies], top: float, note: str, width: float) -> SiteMap:
    """Return the beds with their top at ``top``; ``note`` stands above them."""
    under = NOTHING
    if note:
        under, height = paragraph(EDGE, top, note, width - 2 * EDGE, 14, bold=True)
        top += height
    top += 22
    cells = [cell for lies in beds for cell in _cells(frame, lies, top)]
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
    if shadows:
        under += element("path", d=shadows, fill="#c9c9c9", stroke=INK, stroke_width=1, stroke_dasharray="5 3")
    edges = element("path", d=outlines, fill="none", stroke=INK, stroke_width=2.5)
    foot = top + max(lies.reach[3] for lies in beds) * frame.scale + 14
    return SiteMap(width, foot, under, join(_filled(frame, cells)), join((edges, *_names(frame, beds, top))))


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
        letter = frame.letters.get(cell.crop)
        if letter is None:
            continue
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


def _list(frame: _Frame, beds: list[Lies], top: float, width: float) -> tuple[Markup, float]:
    """Return what grows in each bed in words, then the families' marks, and their height."""
    parts: list[Markup] = []
    told = []
    down = top + 10
    for lies in beds:
        words = _say(frame, lies.thing)
        written, height = paragraph(EDGE + 34, down, words, width - 2 * EDGE - 34)
        told.append((EDGE + 13, down + 10, str(lies.number)))
        parts.append(written)
        down += max(height, 22) + 5
    listed, height = swatches(_used(frame), EDGE, down + 8, width - 2 * EDGE)
    return join([*parts, badges(told), listed]), down + 8 + height - top


def _say(frame: _Frame, thing: Bed | Obstacle) -> str:
    if not isinstance(thing, Bed):
        return say_obstacle(thing, frame.look)
    names = dict.fromkeys(stay.crop for stay in frame.stays[thing.name])
    crops = ", ".join(f"{frame.letters[name]} {name}" for name in names)
    return f"{thing.name}: {crops or 'free all the year'}"


def say_obstacle(thing: Obstacle, look: Look) -> str:
    """Say what stands beside the beds, and how high it is."""
    kind = "" if thing.kind == thing.name else f"{thing.kind}, "
    return f"{thing.name}: {kind}{say_length(thing.height, look)} high"
