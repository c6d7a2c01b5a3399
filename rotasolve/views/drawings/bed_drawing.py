"""A bed in one garden year from above: every plant at its place, and beside it what, when and how far apart.

The pole side (north; south in the southern hemisphere) is up, strips run from there down as in ``bed_map``, and the
picture is turned, never mirrored: where south is up, west is right. A bed cut into parts is drawn part by part, and
what follows in the same strips in a picture of its own, so that nothing lies on top of anything else.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from rotasolve.domain.seasons import say_year
from rotasolve.domain.strips import part_breadth_cm, parts_of, say_strips, strip_depth_cm, strips_per_part
from rotasolve.relations.ground.lie_of_beds import part_and_row
from rotasolve.relations.ground.plant_places import plant_rows
from rotasolve.views.drawings.family_marks import FamilyMark, family_marks, mark_definitions
from rotasolve.views.drawings.svg import (
    INK,
    NOTHING,
    PAPER,
    Drawing,
    Markup,
    badges,
    box,
    column,
    element,
    join,
    label,
    line_height,
    number,
    opening,
    wrapped,
)
from rotasolve.views.words.bed_year import (
    Panel,
    Stay,
    panels_of,
    row_runs,
    say_bed,
    say_crops,
    say_days,
    say_missing,
    say_stand,
)
from rotasolve.views.words.look import Look
from rotasolve.views.words.wording import clean, say_length

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rotasolve.domain.plan import Plan, Planting
    from rotasolve.relations.ground.garden import Garden

WIDTH = 680
_EDGE = 16
_LEFT = _EDGE + 34
_GUTTER = 46
_ROOM_FOR_SIDES = 60
_CAPTION, _NAME, _WORDS, _STRIP = 16, 17, 14.5, 14
_TALLEST, _BROADEST = 520, 300
_MOST_SCALE = 1.6
_PER_STAY, _LEAST_TALL = 96, 260
"""A picture is about as tall as the words beside it need."""


@dataclass(frozen=True)
class _Frame:
    """What all panels of a bed share: the garden, how to say it, units per cm."""

    garden: Garden
    bed: str
    year: int
    look: Look
    scale: float
    marks: dict[str, FamilyMark]

    @property
    def south(self) -> bool:
        return self.garden.scenario.site.south

    @property
    def right(self) -> float:
        """The right edge of every picture."""
        return _LEFT + part_breadth_cm(self.garden.beds[self.bed]) * self.scale


@dataclass
class _Sheet:
    """What is drawn so far, gathered by kind over all panels: a path or a group for each kind keeps the file small."""

    soils: str = ""
    lines: str = ""
    arrows: str = ""
    leaders: str = ""
    grounds: dict[FamilyMark, str] = field(default_factory=dict)
    plants: list[Markup] = field(default_factory=list)
    told: list[tuple[float, float, str]] = field(default_factory=list)
    sides: list[Markup] = field(default_factory=list)
    strips: list[tuple[float, str]] = field(default_factory=list)
    captions: list[tuple[float, str]] = field(default_factory=list)
    names: list[tuple[float, str]] = field(default_factory=list)
    words: list[tuple[float, str]] = field(default_factory=list)


def bed_drawing(garden: Garden, plan: Plan, bed_name: str, year: int, inches: bool = False) -> Drawing:
    """Return the drawing of a bed in a garden year.

    Parameters
    ----------
    garden
        The garden of the plan.
    plan
        The plan; its plantings may break rules, they are drawn as they are written.
    bed_name
        The bed.
    year
        The garden year.
    inches
        Whether lengths are said in inches and feet. Default: no.
    """
    bed, look = garden.beds[bed_name], Look(inches=inches)
    breadth, depth = part_breadth_cm(bed), strip_depth_cm(bed) * strips_per_part(bed)
    panels = panels_of(garden, plan, bed_name, year)
    stays = [stay for panel in panels for _, stay in panel.stays]
    tallest = min(max(max(len(panel.stays) for panel in panels) * _PER_STAY, _LEAST_TALL), _TALLEST)
    scale = min(tallest / depth, _BROADEST / breadth, _MOST_SCALE)
    frame = _Frame(garden, bed_name, year, look, scale, family_marks(garden.catalogue))
    said = say_year(year, frame.south)
    title = f"{bed_name}, {said}"
    how = f"{_how_to_read(frame)} {say_missing(garden, plan, bed_name, look)}".rstrip()
    parts, down = opening(_EDGE, WIDTH, (title, 24), (how, 13.5), 6)
    sheet = _Sheet()
    for panel in panels:
        down = _add_panel(sheet, frame, panel, down + 10)
    used = [frame.marks[garden.crops[stay.crop].family] for stay in stays]
    return Drawing(
        title=clean(title),
        description=f"{clean(bed_name)} in {said}, seen from above: {say_crops(stays)}.",
        width=WIDTH,
        height=round(down + _EDGE),
        body=join([*parts, *_drawn(sheet, frame)]),
        definitions=mark_definitions(used),
    )


def _how_to_read(frame: _Frame) -> str:
    pole = "south is up, west right" if frame.south else "north is up"
    strips = say_length(strip_depth_cm(frame.garden.beds[frame.bed]), frame.look)
    return f"{say_bed(frame.garden, frame.bed, frame.look)}, strips of {strips}; {pole}. Every dot is a plant."


def _add_panel(sheet: _Sheet, frame: _Frame, panel: Panel, top: float) -> float:
    """Add a panel whose top is at ``top`` and return where it ends."""
    bed = frame.garden.beds[frame.bed]
    strips, deep = strips_per_part(bed), strip_depth_cm(bed) * frame.scale
    for text in wrapped(_caption(frame, panel), WIDTH - 2 * _EDGE, _CAPTION, bold=True):
        sheet.captions.append((top + _CAPTION, text))
        top += line_height(_CAPTION)
    if not panel.stays:
        return top
    picture = top + 26
    _add_ground(sheet, frame, picture)
    _add_plants(sheet, frame, panel, picture)
    first = (panel.part - 1) * strips + 1
    # Where strips are too narrow for a number each, every second, third and so on has one.
    every = range(0, strips, math.ceil(_STRIP * 1.2 / deep))
    sheet.strips += [(picture + (nth + 0.5) * deep + 5, str(first + nth)) for nth in every]
    return max(picture + strips * deep + 24, _add_words(sheet, frame, panel, picture))


def _drawn(sheet: _Sheet, frame: _Frame) -> Iterator[Markup]:
    """Yield all that was gathered, what lies on top last."""
    if sheet.soils:
        deep = strip_depth_cm(frame.garden.beds[frame.bed]) * frame.scale
        yield element("path", d=sheet.soils, fill=PAPER, stroke=INK, stroke_width=3)
        between = f"1 {number(deep - 1, 3)}"
        yield element("path", d=sheet.lines, stroke="#999", stroke_width=frame.right - _LEFT, stroke_dasharray=between)
    for mark, path in sheet.grounds.items():
        yield element("path", d=path, fill=mark.fill, stroke=INK, stroke_width=1.5)
    if sheet.plants:
        yield element("g", *sheet.plants, class_="plants", stroke=INK, stroke_linecap="round", fill="none")
    if sheet.told:
        yield element("path", d=sheet.arrows)
        yield element("g", *sheet.sides, font_size=13, font_weight="bold")
        yield element("path", d=sheet.leaders, stroke=INK, stroke_width=1.2)
        yield badges(sheet.told)
    x = frame.right + _GUTTER
    yield column(_EDGE, sheet.captions, _CAPTION, font_weight="bold")
    yield column(_LEFT - 6, sheet.strips, _STRIP, text_anchor="end")
    yield column(x, sheet.names, _NAME, font_weight="bold")
    yield column(x, sheet.words, _WORDS)


def _caption(frame: _Frame, panel: Panel) -> str:
    parts = parts_of(frame.garden.beds[frame.bed])
    where = f"Part {panel.part} of {parts}, counted from the west: " if parts > 1 else ""
    if not panel.stays:
        text = "free all the year"
    elif panel.stages == 1:
        text = "in the ground this year"
    else:
        text = "first in the ground" if panel.stage == 1 else f"then, {panel.stage} of {panel.stages}"
    return where + text if where else text.capitalize()


def _add_ground(sheet: _Sheet, frame: _Frame, top: float) -> None:
    """Add the bare ground of a part, its strips, and which side is which."""
    bed = frame.garden.beds[frame.bed]
    strips, deep, wide = strips_per_part(bed), strip_depth_cm(bed) * frame.scale, frame.right - _LEFT
    sheet.soils += box(_LEFT, top, wide, strips * deep)
    if strips > 1:
        # One broad line from strip to strip, cut into slices one unit long.
        sheet.lines += f"M{number(_LEFT + wide / 2)} {number(top + deep - 0.5)}v{number((strips - 2) * deep + 1)}"
    sheet.arrows += f"M{_LEFT + 22} {number(top - 6)}l6-12l6 12z"
    up, down, start, end = ("S", "N", "E", "W") if frame.south else ("N", "S", "W", "E")
    below = round(top + strips * deep + 17)
    if not sheet.sides and wide >= _ROOM_FOR_SIDES:
        sheet.sides += [label(_LEFT, round(top - 7), start), label(frame.right, below, end, anchor="end")]
    sheet.sides += [
        label(_LEFT + 38, round(top - 7), f"{up} (pole side)"),
        label(round(_LEFT + wide / 2 - 4), below, down),
    ]


def _add_plants(sheet: _Sheet, frame: _Frame, panel: Panel, top: float) -> None:
    """Add the ground of each stay, and each planting's plants in cm from the bed's corner at pole and west."""
    garden, bed = frame.garden, frame.garden.beds[frame.bed]
    breadth, step = part_breadth_cm(bed), strip_depth_cm(bed) * frame.scale
    plants = []
    for _, stay in panel.stays:
        rows = [part_and_row(bed, strip)[1] for strip in stay.strips]
        mark = frame.marks[garden.crops[stay.crop].family]
        boxes = (box(_LEFT, top + (row - 1) * step, frame.right - _LEFT, run * step) for row, run in row_runs(rows))
        sheet.grounds[mark] = sheet.grounds.get(mark, "") + "".join(boxes)
        if stay.planting is not None:
            plants.append(_plants(frame, stay.planting, panel.part))
    turn = -frame.scale if frame.south else frame.scale
    corner = (frame.right if frame.south else _LEFT) - (panel.part - 1) * breadth * turn
    place = f"translate({number(corner)} {number(top)})scale({number(turn, 5)} {number(frame.scale, 5)})"
    sheet.plants.append(element("g", *plants, transform=place))


def _plants(frame: _Frame, planting: Planting, part: int) -> Markup:
    """Return a planting's plants in a part as one path: lines cut into dots of no length, drawn with a round pen.

    The lines run along the rows, or across them where these are fewer. Each ends a quarter of a gap after its last
    plant, so that no rounding can lose it.
    """
    breadth = part_breadth_cm(frame.garden.beds[frame.bed])
    rows = [row for row in plant_rows(frame.garden, planting) if int(row.from_west_cm / breadth) + 1 == part]
    if not rows:
        return NOTHING
    first, gap = rows[0], rows[0].gap_cm
    apart = rows[1].from_pole_cm - first.from_pole_cm if len(rows) > 1 else gap
    even = all(abs(row.from_pole_cm - first.from_pole_cm - nth * apart) < 0.01 for nth, row in enumerate(rows))
    across = even and rows[-1].plants == first.plants < len(rows)
    between = apart if across else gap
    lines = [
        f"M{number(row.from_west_cm, 2)} {number(row.from_pole_cm, 2)}h{number((row.plants - 0.75) * gap)}"
        for row in rows
    ]
    if across:
        far, top = number((len(rows) - 0.75) * apart), number(first.from_pole_cm, 2)
        lines = [f"M{number(first.from_west_cm + nth * gap, 2)} {top}v{far}" for nth in range(first.plants)]
    dot = max(min(gap, apart, 20) * 0.42, 1.6 / frame.scale)
    return element(
        "path",
        d="".join(lines),
        stroke_width=min(dot, gap * 0.8, apart * 0.8),
        stroke_dasharray=f"0 {number(between, 3)}",
    )


def _add_words(sheet: _Sheet, frame: _Frame, panel: Panel, top: float) -> float:
    """Add each stay's words beside it, pushed down where they would touch; return where they end."""
    bed = frame.garden.beds[frame.bed]
    deep, x, free = strip_depth_cm(bed) * frame.scale, frame.right + _GUTTER, top
    for nth, stay in panel.stays:
        rows = [part_and_row(bed, strip)[1] for strip in stay.strips]
        middle = top + (rows[0] - 1 + rows[-1]) / 2 * deep
        lines = _lines(frame, stay, WIDTH - _EDGE - x)
        free = max(free, middle - sum(line_height(size) for _, size in lines) / 2)
        beside = free + _NAME * 0.65
        sheet.leaders += f"M{number(frame.right)} {number(middle)}L{number(x - 26)} {number(beside)}"
        sheet.told.append((x - 16, beside, str(nth)))
        for text, size in lines:
            (sheet.names if size == _NAME else sheet.words).append((free + size, text))
            free += line_height(size)
        free += 8
    return free


def _lines(frame: _Frame, stay: Stay, width: float) -> list[tuple[str, float]]:
    """Return what is said of a stay in lines no wider than ``width``, each with its size."""
    lines = [(text, float(_NAME)) for text in wrapped(stay.crop, width, _NAME, bold=True)]
    said = say_strips(stay.strips, frame.look.dash)
    if stay.planting is not None:
        said += f": {say_stand(frame.garden, stay.planting, frame.look)}"
    for sentence in (said, ", ".join(say_days(frame.garden, stay, frame.year, frame.look))):
        lines += [(text, _WORDS) for text in wrapped(sentence, width, _WORDS)]
    return lines
