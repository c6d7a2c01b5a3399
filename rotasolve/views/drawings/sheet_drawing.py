"""A bed's sheet as one small drawing: its ground with every plant, stage beside stage, and below it its season in bars.

Plantings carry the numbers of the table that stands below the drawing and says in words all that is drawn; so a sheet
fits on one page of paper. The pole side is up; where south is up, west is right. What many sheets have in common (a
bed's outline, the months, a crop's rows of plants) stands once in the page's definitions, and the page's style sheet
says how lines and letters look: hundreds of plantings must stay a page that can be mailed.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta
from typing import TYPE_CHECKING

from rotasolve.domain.seasons import (
    MONTHS,
    PERIODS_PER_YEAR,
    first_day,
    last_day,
    period_of,
    year_start,
)
from rotasolve.domain.strips import part_breadth_cm, parts_of, strip_depth_cm, strips_per_part
from rotasolve.relations.ground.lie_of_beds import part_and_row
from rotasolve.relations.ground.plant_places import plant_rows
from rotasolve.views.drawings.family_marks import family_marks
from rotasolve.views.drawings.svg import NOTHING, Markup, box, element, join, label, number
from rotasolve.views.words.bed_year import row_runs
from rotasolve.views.words.wording import clean

if TYPE_CHECKING:
    from datetime import date

    from rotasolve.domain.bed import Bed
    from rotasolve.domain.plan import Planting
    from rotasolve.relations.ground.garden import Garden
    from rotasolve.views.drawings.hatch_fields import SharedParts
    from rotasolve.views.words.bed_year import Panel

WIDTH = 680
NAMES = 150
"""Room for the names at the left of a row of half months."""
CELL = (WIDTH - NAMES - 2) // PERIODS_PER_YEAR
_LABELS, _APART = 22, 14
_TALLEST, _BROADEST, _MOST_SCALE = 330, 330, 1.6
_TOP, _FOOT = 34, 38
_MONTHS, _ROW, _BAR = 22, 22, 16
_TALL_LINES = 3000
"""Longer than any season; what is below a drawing is not seen."""
_LONGEST_NAME = 17
_HOW = "Bar: in the ground; white: picking; thin line: raised indoors; line above: covered"
_LEFT = {"preserveAspectRatio": "xMinYMin"}
"""A drawing that shrinks to fit on a page stays at the left, as the text above it."""


@dataclass(frozen=True)
class SheetDrawing:
    """A drawing that needs the page's definitions and style: its name, its size in user units, its elements."""

    name: str
    width: int
    height: int
    body: Markup

    def inline(self) -> Markup:
        """Return the element to be put into a page."""
        size = f"0 0 {self.width} {self.height}"
        return element("svg", self.body, class_="drawing", role="img", aria_label=self.name, viewBox=size, **_LEFT)


@dataclass(frozen=True)
class _Frame:
    """A bed as it is drawn: user units for each cm, for a strip's depth and for a part's breadth."""

    garden: Garden
    bed: Bed
    scale: float
    deep: int
    wide: int

    @property
    def south(self) -> bool:
        return self.garden.scenario.site.south


def sheet_drawing(
    garden: Garden, panels: tuple[Panel, ...], bed_name: str, year: int, parts: SharedParts
) -> SheetDrawing:
    """Return the drawing of a bed's sheet in a garden year."""
    frame = _frame(garden, garden.beds[bed_name], len(panels))
    marks = family_marks(garden.catalogue)
    plots, over, places = [], list[Markup](), list[tuple[int, int, int]]()
    for nth, panel in enumerate(panels):
        left = _LABELS + nth * (frame.wide + _LABELS + _APART)
        first = (panel.part - 1) * strips_per_part(frame.bed) + 1
        over.append(parts.use(_outline(frame, first, _caption(frame, panel)), left, _TOP))
        for told, stay in panel.stays:
            rows = row_runs([part_and_row(frame.bed, strip)[1] for strip in stay.strips])
            begin = rows[0][0]
            mark = marks[garden.crops[stay.crop].family]
            plot = [parts.ground(mark, frame.wide, run * frame.deep, y=(row - begin) * frame.deep) for row, run in rows]
            if stay.planting is not None:
                plot.append(_plants(frame, stay.planting, panel.part, begin))
            top = _TOP + (begin - 1) * frame.deep
            plots.append(parts.use(join(plot), left, top))
            beside = _beside_plants(frame, stay.planting, panel.part)
            places.append((told, left + frame.wide // 2 + beside, top + rows[0][1] * frame.deep // 2 + 5))
    head = _TOP + strips_per_part(frame.bed) * frame.deep + _FOOT
    season, height = _season(frame, panels, year, head)
    names = [
        element("text", f"{told} {short(stay.crop)}", y=head + _MONTHS + nth * _ROW + 16)
        for nth, (told, stay) in enumerate(each for panel in panels for each in panel.stays)
    ]
    columns = month_columns(period_of(year_start(year, frame.south))) + label(0, -5, _HOW, 11)
    months = parts.use(columns, NAMES, head)
    ground = element("g", *plots, class_="plants")
    width = max(WIDTH, _LABELS + len(panels) * (frame.wide + _LABELS + _APART) - _APART)
    body = join([months, ground, *over, _numbers(places), season, *names])
    return SheetDrawing("Ground and season", width, height, body)


def _numbers(places: list[tuple[int, int, int]]) -> Markup:
    """Return numbers, the middle of each at its (number, x, y); those of one digit share one element."""
    single = [place for place in places if place[0] < 10]
    if not single:
        return NOTHING
    across, down = (" ".join(str(place[nth]) for place in single) for nth in (1, 2))
    digits = element("text", "".join(str(told) for told, _, _ in single), x=across, y=down)
    return element("g", digits, *(label(x, y, str(told)) for told, x, y in places if told >= 10), class_="numbers")


def _frame(garden: Garden, bed: Bed, panels: int) -> _Frame:
    breadth, depth = part_breadth_cm(bed), strip_depth_cm(bed)
    room = (WIDTH + _APART) / panels - _LABELS - _APART
    scale = min(_TALLEST / (depth * strips_per_part(bed)), min(room, _BROADEST) / breadth, _MOST_SCALE)
    # Whole units for strips keep the file small; a strip too thin for its number is thicker than true to scale.
    deep = max(8, int(depth * scale))
    scale = deep / depth
    return _Frame(garden, bed, scale, deep, max(40, round(breadth * scale)))


def _caption(frame: _Frame, panel: Panel) -> str:
    stage = "" if panel.stages == 1 else "first" if panel.stage == 1 else "then"
    return f"part {panel.part} {stage}".rstrip() if parts_of(frame.bed) > 1 else stage


def _outline(frame: _Frame, first: int, caption: str) -> Markup:
    """Return a part's bare edges with its strips' numbers from ``first`` on, a caption, and which side is which."""
    strips = strips_per_part(frame.bed)
    pole, west, east = ("S", "E", "W") if frame.south else ("N", "W", "E")
    foot = strips * frame.deep
    lines = "".join(f"M0 {nth * frame.deep}h{frame.wide}" for nth in range(1, strips))
    told = [label(-5, round((nth + 0.5) * frame.deep + 4), str(first + nth)) for nth in range(strips)]
    return join(
        (
            element("path", d=box(0, 0, frame.wide, foot), class_="edge"),
            element("path", d=lines, class_="strips") if lines else NOTHING,
            element("path", d="M1-8l6-14 6 14z"),
            label(17, -9, pole, bold=True),
            label(32, -9, caption) if caption else NOTHING,
            element("g", *told, class_="strip-numbers"),
            label(0, foot + 15, west, 12),
            label(frame.wide, foot + 15, east, 12, anchor="end"),
        )
    )


def _plants(frame: _Frame, planting: Planting, part: int, row: int) -> Markup:
    """Return a planting's plants in a part, measured from the corner of the strip ``row``.

    Plants are lines cut into dots of no length, drawn with a round pen. The lines run along the rows, or across them
    where these are fewer. Each ends a quarter of a gap after its last plant, so that no rounding can lose it.
    """
    scale, breadth = frame.scale, part_breadth_cm(frame.bed)
    rows = [row for row in plant_rows(frame.garden, planting) if int(row.from_west_cm / breadth) + 1 == part]
    if not rows:
        return NOTHING
    west, top = (part - 1) * breadth, (row - 1) * strip_depth_cm(frame.bed)
    first, gap = rows[0], rows[0].gap_cm * scale
    apart = (rows[1].from_pole_cm - first.from_pole_cm) * scale if len(rows) > 1 else gap
    even = all(abs(row.from_pole_cm - first.from_pole_cm - nth * apart / scale) < 0.01 for nth, row in enumerate(rows))
    across = even and rows[-1].plants == first.plants < len(rows)

    def at(west_cm: float) -> float:
        along = (west_cm - west) * scale
        return frame.wide - along if frame.south else along

    turn = -1 if frame.south else 1
    if across:
        far, begin = number((len(rows) - 0.75) * apart), number((first.from_pole_cm - top) * scale)
        places = [first.from_west_cm + nth * first.gap_cm for nth in range(first.plants)]
        lines = [f"M{number(at(place))} {begin}v{far}" for place in places]
    else:
        lines = [
            f"M{number(at(row.from_west_cm))} {number((row.from_pole_cm - top) * scale)}"
            f"h{number((row.plants - 0.75) * gap * turn)}"
            for row in rows
        ]
    dot = max(min(gap, apart, 20 * scale) * 0.42, 1.6)
    return element(
        "path",
        d="".join(lines),
        stroke_width=min(dot, gap * 0.8, apart * 0.8),
        stroke_dasharray=f"0 {number(apart if across else gap, 3)}",
    )


def _beside_plants(frame: _Frame, planting: Planting | None, part: int) -> int:
    """Return how far right of the middle a number hides no plant that stands there, if plants are far enough apart."""
    breadth = part_breadth_cm(frame.bed)
    rows = plant_rows(frame.garden, planting) if planting is not None else ()
    here = [row for row in rows if int(row.from_west_cm / breadth) + 1 == part]
    if not here or here[0].plants % 2 == 0:
        return 0
    return round(here[0].gap_cm * frame.scale / 2) if here[0].plants > 1 else min(16, frame.wide // 2 - 8)


def _season(frame: _Frame, panels: tuple[Panel, ...], year: int, head: int) -> tuple[Markup, int]:
    """Return a bar in the family's colour for each stay, with the times of picking in it, and where they end.

    A thin line before a bar: raised indoors, with a tick where it is sown; one above it: under the bed's cover.
    """
    marks, begin = family_marks(frame.garden.catalogue), period_of(year_start(year, frame.south))
    covered = frame.bed.cover != "open ground"
    bars: dict[str, str] = {}
    top, lines, picking = head + _MONTHS, "", ""
    for _, stay in (each for panel in panels for each in panel.stays):
        middle, planting = top + 4 + _BAR // 2, stay.planting
        first, last = place_in_year(stay.first, begin), place_in_year(stay.last + timedelta(days=1), begin)
        line = marks[frame.garden.crops[stay.crop].family].line
        bars[line] = bars.get(line, "") + f"M{first} {middle}H{last}"
        top += _ROW
        if covered:
            lines += f"M{first} {middle - _BAR // 2 - 2}H{last}"
        if planting is None:
            continue
        if planting.raise_from is not None and (sown := place_in_year(planting.raise_from, begin)) < first:
            lines += f"M{sown} {middle}H{first}" + (f"M{sown} {middle - 5}v10" if sown > NAMES else "")
        if planting.first_harvest is not None and planting.last_harvest is not None:
            picked = place_in_year(planting.first_harvest, begin)
            done = place_in_year(planting.last_harvest + timedelta(days=1), begin)
            picking += f"M{picked} {middle}H{done}" if done > picked else ""
    drawn = [element("path", d=path, stroke=line) for line, path in bars.items()]
    drawn += [element("path", d=path, class_=name) for path, name in ((lines, "lines"), (picking, "picking")) if path]
    return element("g", *drawn, class_="bars"), top + 4


def month_columns(begin: int) -> Markup:
    """Return the names of twelve months from half month ``begin`` on, and lines between half months down from them."""
    lines = [
        element("path", d="".join(f"M{nth * CELL} {top}v{_TALL_LINES}" for nth in which), class_=name)
        for name, top, which in (("half", 22, range(1, 24, 2)), ("month", 2, range(0, 25, 2)))
    ]
    names = [label(2 * nth * CELL + 3, 14, MONTHS[first_day(begin + 2 * nth).month - 1][:3]) for nth in range(12)]
    return join((*lines, element("g", *names, class_="months")))


def short(name: str) -> str:
    """Return a name cut to the room at the left of a row; the table has it whole."""
    name = clean(name)
    return name if len(name) <= _LONGEST_NAME else f"{name[: _LONGEST_NAME - 1]}…"


def place_in_year(day: date, begin: int) -> int:
    """Return where a day begins between the edges of the garden year that begins with a half month."""
    period = period_of(day)
    days = (last_day(period) - first_day(period)).days + 1
    along = period - begin + (day - first_day(period)).days / days
    return NAMES + round(min(max(along, 0.0), float(PERIODS_PER_YEAR)) * CELL)
