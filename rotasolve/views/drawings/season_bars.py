"""The season of one bed in one garden year: a bar for each planting over the 24 half months, in shapes, not colours.

The wide bar with the family's hatch is the time in the ground; the white bar inside it the time of picking; the
thin line with a tick before it the time indoors; the roof above it the bed's cover, if it has one.
"""

from __future__ import annotations

from datetime import date, timedelta
from typing import TYPE_CHECKING

from rotasolve.domain.seasons import MONTHS, PERIODS_PER_YEAR, first_day, last_day, period_of, say_year, year_start
from rotasolve.domain.strips import say_strips
from rotasolve.views.drawings.family_marks import FamilyMark, family_marks, mark_definitions
from rotasolve.views.drawings.svg import (
    INK,
    PAPER,
    Drawing,
    Markup,
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
from rotasolve.views.words.bed_year import Stay, panels_of, say_crops, say_days
from rotasolve.views.words.look import Look
from rotasolve.views.words.wording import clean

if TYPE_CHECKING:
    from rotasolve.domain.plan import Plan
    from rotasolve.relations.ground.garden import Garden

WIDTH = 680
_EDGE = 16
_CELL = (WIDTH - 2 * _EDGE) / PERIODS_PER_YEAR
_BAR = 26
_WORDS = 13.5


def season_bars(garden: Garden, plan: Plan, bed_name: str, year: int) -> Drawing:
    """Return the season bars of a bed in a garden year, numbered as in the bed's drawing."""
    south, look = garden.scenario.site.south, Look()
    said = say_year(year, south)
    begin = period_of(year_start(year, south))
    stays = [stay for panel in panels_of(garden, plan, bed_name, year) for _, stay in panel.stays]
    marks = family_marks(garden.catalogue)
    title = f"{bed_name}, {said}: the season"
    parts, down = opening(_EDGE, WIDTH, (title, 22), (_how_to_read(garden, bed_name), 13.5), 6)
    top = down + 22
    down = top
    rows: list[tuple[Stay, float]] = []
    words: list[tuple[float, str]] = []
    for nth, stay in enumerate(stays, start=1):
        days = ", ".join(say_days(garden, stay, year, look))
        told = f"{nth} {stay.crop}, {say_strips(stay.strips, look.dash)}: {days}"
        lines = wrapped(told, WIDTH - 2 * _EDGE - 8, _WORDS)
        words += [(down + (place + 1) * line_height(_WORDS), line) for place, line in enumerate(lines)]
        down += len(lines) * line_height(_WORDS) + 16
        rows.append((stay, down))
        down += _BAR + 10
    if not stays:
        words.append((down + 20, "free all the year"))
        down += 36
    plates = "".join(box(_EDGE, y - _WORDS, WIDTH - 2 * _EDGE, line_height(_WORDS) + 2) for y, _ in words)
    drawn = [element("path", d=plates, fill=PAPER), column(_EDGE + 4, words, _WORDS)]
    drawn += _bars(garden, bed_name, rows, marks, begin)
    return Drawing(
        title=clean(title),
        description=f"When the crops of {clean(bed_name)} are in the ground and picked in {said}: {say_crops(stays)}.",
        width=WIDTH,
        height=round(down + _EDGE),
        body=join([*parts, months(begin, _EDGE, top - 6, down, _CELL), *drawn]),
        definitions=mark_definitions(marks[garden.crops[stay.crop].family] for stay in stays),
    )


def _how_to_read(garden: Garden, bed: str) -> str:
    text = "Two columns a month. Wide bar: in the ground. White bar inside: picking. Line with a tick: sown indoors."
    cover = garden.beds[bed].cover
    return text + ("" if cover == "open ground" else f" Roof: {cover}.")


def months(begin: int, left: float, top: float, bottom: float, cell: float) -> Markup:
    """Return the names of twelve months from half month ``begin`` on with lines between them and between halves."""
    names = [
        label(left + 2 * nth * cell + 3, top, MONTHS[first_day(begin + 2 * nth).month - 1][:3]) for nth in range(12)
    ]
    return join((*month_lines(left, top, bottom, cell), element("g", *names, font_size=13, font_weight="bold")))


def month_lines(left: float, top: float, bottom: float, cell: float) -> tuple[Markup, Markup]:
    """Return the lines between half months and between months: a broad line each, cut into slices 1 unit wide."""
    found = []
    for first, colour, upper, apart in ((cell, "#dddddd", top + 4, 2), (0.0, "#999999", top - 12, 2)):
        line = f"M{number(left + first - 0.5)} {number((upper + bottom) / 2)}h{number(24 * cell - first + 1)}"
        dashes = f"1 {number(apart * cell - 1, 3)}"
        found.append(
            element("path", d=line, stroke=colour, stroke_width=bottom - upper, stroke_dasharray=dashes, fill="none")
        )
    return found[0], found[1]


def _bars(
    garden: Garden, bed: str, rows: list[tuple[Stay, float]], marks: dict[str, FamilyMark], begin: int
) -> list[Markup]:
    """Return the bars of all rows, each kind of stretch in one element."""
    grounds: dict[FamilyMark, str] = {}
    lines = picking = ""
    for stay, top in rows:
        first, last = _at(stay.first, begin), _at(stay.last + timedelta(days=1), begin)
        mark = marks[garden.crops[stay.crop].family]
        grounds[mark] = grounds.get(mark, "") + box(first, top, last - first, _BAR)
        if garden.beds[bed].cover != "open ground":
            lines += f"M{number(first)} {number(top)}v-7h{number(last - first)}v7"
        planting = stay.planting
        if planting is None:
            continue
        if planting.raise_from is not None and (sown := _at(planting.raise_from, begin)) < first:
            lines += f"M{number(sown)} {number(top + _BAR / 2)}H{number(first)}"
            # A line that begins before the year has no tick at its begin.
            lines += f"M{number(sown)} {number(top + _BAR / 2 - 7)}v14" if sown > _EDGE else ""
        if planting.first_harvest is not None and planting.last_harvest is not None:
            picked, done = _at(planting.first_harvest, begin), _at(planting.last_harvest + timedelta(days=1), begin)
            picking += box(picked, top + 7, done - picked, _BAR - 14) if done > picked else ""
    found = [element("path", d=path, fill=mark.fill, stroke=INK, stroke_width=1.5) for mark, path in grounds.items()]
    if lines:
        found.append(element("path", d=lines, fill="none", stroke=INK, stroke_width=2))
    if picking:
        found.append(element("path", d=picking, fill=PAPER, stroke=INK, stroke_width=2))
    return found


def _at(day: date, begin: int) -> float:
    """Return where a day begins between the edges of the year."""
    period = period_of(day)
    days = (last_day(period) - first_day(period)).days + 1
    along = period - begin + (day - first_day(period)).days / days
    return _EDGE + min(max(along, 0.0), float(PERIODS_PER_YEAR)) * _CELL
