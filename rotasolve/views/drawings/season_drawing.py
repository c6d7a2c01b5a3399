"""The season of one bed in one garden year: a bar for each planting over the 24 half months, in its family's colour.

The wide bar is the time in the ground, the white one in it the time of picking; a thin line before it, with a tick
where it is sown, the time indoors; a line above it the bed's cover.
"""

from __future__ import annotations

from datetime import timedelta
from typing import TYPE_CHECKING

from rotasolve.domain.seasons import MONTHS, PERIODS_PER_YEAR, first_day, last_day, period_of, say_year, year_start
from rotasolve.views.drawings.family_marks import family_marks
from rotasolve.views.drawings.hatch_fields import SharedParts
from rotasolve.views.drawings.svg import TALL_LINES, WIDTH, Drawing, Markup, element, join, label, with_words
from rotasolve.views.words.bed_year import panels_of, say_bed, say_crops, say_panels
from rotasolve.views.words.look import Look
from rotasolve.views.words.wording import clean

if TYPE_CHECKING:
    from datetime import date

    from rotasolve.domain.plan import Plan
    from rotasolve.relations.ground.garden import Garden
    from rotasolve.views.words.bed_year import Panel

NAMES = 150
"""Room for the names at the left of a row of half months."""
CELL = (WIDTH - NAMES - 2) // PERIODS_PER_YEAR
_TOP = 20
_MONTHS, _ROW, _BAR = 22, 22, 16
_LONGEST_NAME = 17
_HOW = "Bar: in the ground; white: picking; thin line: raised indoors; line above: covered"


def season_drawing(garden: Garden, plan: Plan, bed_name: str, year: int, inches: bool = False) -> Drawing:
    """Return the file of a bed's season, its plantings numbered and described as in the file of the bed."""
    said, look = say_year(year, garden.scenario.site.south), Look(inches=inches)
    panels, parts = panels_of(garden, plan, bed_name, year), SharedParts()
    season, foot = season_rows(garden, panels, bed_name, year, _TOP, parts)
    crops = say_crops(stay for panel in panels for _, stay in panel.stays)
    return with_words(
        Drawing("Season", WIDTH, foot, season),
        title=f"{bed_name}, {said}: the season",
        how=f"{say_bed(garden, bed_name, look)}. Two columns a month.",
        words=say_panels(garden, panels, year, look),
        description=f"When the crops of {clean(bed_name)} are in the ground and picked in {said}: {crops}.",
        definitions=parts.definitions(),
    )


def season_rows(
    garden: Garden, panels: tuple[Panel, ...], bed_name: str, year: int, head: int, parts: SharedParts
) -> tuple[Markup, int]:
    """Return the season of a bed from ``head`` down: the months, a bar for each stay, and where they end."""
    marks, begin = family_marks(garden.catalogue), period_of(year_start(year, garden.scenario.site.south))
    covered = garden.beds[bed_name].cover != "open ground"
    bars: dict[str, str] = {}
    top, lines, picking, names = head + _MONTHS, "", "", list[Markup]()
    for told, stay in (each for panel in panels for each in panel.stays):
        middle, planting = top + 4 + _BAR // 2, stay.planting
        names.append(element("text", f"{told} {short(stay.crop)}", y=top + 16))
        first, last = _place(stay.first, begin), _place(stay.last + timedelta(days=1), begin)
        line = marks[garden.crops[stay.crop].family].line
        bars[line] = bars.get(line, "") + f"M{first} {middle}H{last}"
        top += _ROW
        if covered:
            lines += f"M{first} {middle - _BAR // 2 - 2}H{last}"
        if planting is None:
            continue
        if planting.raise_from is not None and (sown := _place(planting.raise_from, begin)) < first:
            # A line that begins before the year has no tick at its begin.
            lines += f"M{sown} {middle}H{first}" + (f"M{sown} {middle - 5}v10" if sown > NAMES else "")
        if planting.first_harvest is not None and planting.last_harvest is not None:
            picked, done = _place(planting.first_harvest, begin), _place(planting.last_harvest + timedelta(1), begin)
            picking += f"M{picked} {middle}H{done}" if done > picked else ""
    drawn = [element("path", d=path, stroke=line) for line, path in bars.items()]
    drawn += [element("path", d=path, class_=name) for path, name in ((lines, "lines"), (picking, "picking")) if path]
    months = parts.use(month_columns(begin) + label(0, -5, _HOW, 11), NAMES, head)
    return join([months, element("g", *drawn, class_="bars"), *names]), top + 4


def month_columns(begin: int) -> Markup:
    """Return the names of twelve months from half month ``begin`` on, and lines between half months down from them."""
    lines = [
        element("path", d="".join(f"M{nth * CELL} {top}v{TALL_LINES}" for nth in which), class_=name)
        for name, top, which in (("half", 22, range(1, 24, 2)), ("month", 2, range(0, 25, 2)))
    ]
    names = [label(2 * nth * CELL + 3, 14, MONTHS[first_day(begin + 2 * nth).month - 1][:3]) for nth in range(12)]
    return join((*lines, element("g", *names, class_="months")))


def short(name: str) -> str:
    """Return a name cut to the room at the left of a row; the words or the table below have it whole."""
    name = clean(name)
    return name if len(name) <= _LONGEST_NAME else f"{name[: _LONGEST_NAME - 1]}…"


def _place(day: date, begin: int) -> int:
    """Return where a day begins between the edges of the garden year that begins with a half month."""
    period = period_of(day)
    days = (last_day(period) - first_day(period)).days + 1
    along = period - begin + (day - first_day(period)).days / days
    return NAMES + round(min(max(along, 0.0), float(PERIODS_PER_YEAR)) * CELL)
