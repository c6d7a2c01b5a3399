"""The whole site in one garden year, to scale, seen from above: where the beds lie and what grows in them.

The pole side (north; south in the southern hemisphere) is up; where south is up, west is right: the picture is turned,
never mirrored. In each strip what comes first in the year is drawn at the left and what follows right of it. Beds
without a place on the site stand side by side below. A bed's or an obstacle's bearing turns it about its middle.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby
from typing import TYPE_CHECKING

from rotasolve.domain.bed import Bed
from rotasolve.domain.seasons import say_year
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
from rotasolve.views.words.bed_year import Stay, stays_in
from rotasolve.views.words.look import Look
from rotasolve.views.words.wording import clean, say_length

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping

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
    scale: float
    marks: dict[str, FamilyMark]
    stays: Mapping[str, tuple[Stay, ...]]
    letters: Mapping[str, str]
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
    letters = _letters(stays.values())
    families = {garden.crops[crop].family for crop in letters}
    lying = sorted(placed_on(garden.scenario) + loose_in(garden.scenario.beds), key=lambda lies: lies.number)
    words = [(str(lies.number), _say(lies.thing, stays, letters, Look(inches=inches))) for lies in lying]
    return with_words(
        site_map(garden, plan, year, inches, families, parts, letters),
        title=f"{title}, {said}",
        how=f"{how_to_read(garden)} The letters are the crops named below.",
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
    letters: Mapping[str, str] | None = None,
) -> Drawing:
    """Return the picture of the site in a garden year with the key of some families' marks below it.

    ``letters`` are those of the crops, to be written on their ground where there is room. Default: none.
    """
    placed, loose = placed_on(garden.scenario), loose_in(garden.scenario.beds)
    scale = scale_of(garden.scenario.beds, placed + loose)
    marks = family_marks(garden.catalogue)
    stays = {bed: stays_in(garden, plan, bed, year) for bed in garden.beds}
    frame = _Frame(garden, scale, marks, stays, letters or {}, parts)
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


def _letters(stays: Iterable[tuple[Stay, ...]]) -> dict[str, str]:
    """Return letters for the crops of a year, by name: A to Z, then AA, AB and so on."""
    crops = sorted({stay.crop for here in stays for stay in here}, key=str.casefold)
    return {
        crop: (_ALPHABET[nth // 26 - 1] if nth >= 26 else "") + _ALPHABET[nth % 26] for nth, crop in enumerate(crops)
    }


def how_to_read(garden: Garden) -> str:
    """Say which side is up, and what stands where in a strip."""
    text = f"{say_up(garden.scenario.site.south)} "
    if not any(bed.is_placed for bed in garden.beds.values()):
        text += "The beds have no place on the site yet: they stand side by side. "
    return text + "In each strip what comes first in the year is at the left, what follows is right of it."


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
        column = [(strip, tuple(stay for stay in here if strip in stay.strips)) for strip in every]
        for standing, group in groupby(column, key=lambda pair: pair[1]):
            strips = [strip for strip, _ in group]
            upper = y + (part_and_row(bed, strips[0])[1] - 1) * deep
            for nth, stay in enumerate(standing):
                wide = share / len(standing)
                yield _Cell(stay.crop, left + nth * wide, upper, wide, len(strips) * deep, turn)


def _filled(frame: _Frame, cells: list[_Cell]) -> Iterator[Markup]:
    """Yield the ground of the cells, and their letters on white plates."""
    grounds, plates, letters = list[Markup](), "", list[Markup]()
    for cell in cells:
        mark = frame.marks[frame.garden.crops[cell.crop].family]
        if cell.turn.degrees:
            corners = cell.turn.corners(cell.x, cell.y, cell.width, cell.height)
            grounds.append(frame.parts.shape(mark, corners))
        else:
            ground = frame.parts.ground(mark, cell.width, cell.height)
            grounds.append(frame.parts.use(ground, cell.x, cell.y))
        letter = frame.letters.get(cell.crop)
        if letter is None:
            continue
        wide, high = text_width(letter, _LETTER, bold=True) + 4, _LETTER + 3
        if wide <= cell.width - 1 and high <= cell.height - 1:
            x, y = cell.turn.of(cell.x + cell.width / 2, cell.y + cell.height / 2)
            plates += box(x - wide / 2, y - high / 2, wide, high)
            letters.append(label(x, y + _LETTER * 0.37, letter))
    yield element("g", *grounds, stroke=INK)
    if letters:
        yield element("path", d=plates, fill=PAPER)
        yield element("g", *letters, font_size=_LETTER, font_weight="bold", text_anchor="middle")


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


def _say(thing: Bed | Obstacle, stays: Mapping[str, tuple[Stay, ...]], letters: Mapping[str, str], look: Look) -> str:
    if not isinstance(thing, Bed):
        return say_obstacle(thing, look)
    names = dict.fromkeys(stay.crop for stay in stays[thing.name])
    return f"{thing.name}: {', '.join(f'{letters[name]} {name}' for name in names) or 'free all the year'}"


def say_obstacle(thing: Obstacle, look: Look) -> str:
    """Say what stands beside the beds, and how high it is."""
    kind = "" if thing.kind == thing.name else f"{thing.kind}, "
    return f"{thing.name}: {kind}{say_length(thing.height, look)} high"
