"""The season of one bed in one garden year: a bar for each planting over the 24 half months, in shapes, not colours.

The wide bar with the family's hatch is the time in the ground; the white bar with round ends in it the time of
picking; the thin line with a ring before it the time indoors; the arches above it the bed's cover, if it has one.
"""

from __future__ import annotations

from datetime import date, timedelta
from typing import TYPE_CHECKING

from rotasolve.domain.seasons import MONTHS, PERIODS_PER_YEAR, first_day, last_day, period_of, say_year, year_start
from rotasolve.views.bed_year import Stay, say_days, stages, stays_in, strip_words
from rotasolve.views.family_marks import FamilyMark, family_marks, mark_definitions
from rotasolve.views.look import Look
from rotasolve.views.svg import INK, PAPER, Drawing, Markup, element, join, label, number, paragraph
from rotasolve.views.wording import clean

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rotasolve.domain.plan import Plan
    from rotasolve.relations.garden import Garden

WIDTH = 680
_EDGE = 16
_CELL = (WIDTH - 2 * _EDGE) / PERIODS_PER_YEAR
_BAR, _ROW = 26, 84
_WORDS = 13.5


def season_bars(garden: Garden, plan: Plan, bed_name: str, year: int) -> Drawing:
    """Return the season bars of a bed in a garden year, in the order of the bed's drawing."""
    south = garden.scenario.site.south
    said = say_year(year, south)
    begin = period_of(year_start(year, south))
    stays = [stay for layer in stages(stays_in(garden, plan, bed_name, year)) for stay in layer]
    marks = family_marks(garden.catalogue)
    title = f"{bed_name}, {said}: the season"
    parts: list[Markup] = []
    down = float(_EDGE)
    for text, size, bold in ((title, 22, True), (_how_to_read(garden, bed_name), 13.5, False)):
        written, height = paragraph(_EDGE, down, text, WIDTH - 2 * _EDGE, size, bold)
        parts.append(written)
        down += height + 6
    rows: list[Markup] = []
    top = down + 22
    down = top
    for nth, stay in enumerate(stays, start=1):
        mark = marks[garden.crops[stay.crop].family]
        drawn, height = _row(garden, bed_name, stay, mark, year, nth, begin, down)
        rows.append(drawn)
        down += height
    if not stays:
        rows.append(label(_EDGE + 4, down + 24, "free all the year", 15))
        down += 36
    names = ", ".join(dict.fromkeys(clean(stay.crop) for stay in stays)) or "free all the year"
    return Drawing(
        title=clean(title),
        description=f"When the crops of {clean(bed_name)} are in the ground and picked in {said}: {names}.",
        width=WIDTH,
        height=round(down + _EDGE),
        body=join([*parts, months(begin, _EDGE, top - 6, down, _CELL), *rows]),
        definitions=mark_definitions(marks[garden.crops[stay.crop].family] for stay in stays),
    )


def _how_to_read(garden: Garden, bed: str) -> str:
    text = "Two columns a month. Wide bar: in the ground. White bar in it: picking. Line with a ring: sown indoors."
    cover = garden.beds[bed].cover
    return text + ("" if cover == "open ground" else f" Arches: {cover}.")


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


def _row(
    garden: Garden, bed: str, stay: Stay, mark: FamilyMark, year: int, nth: int, begin: int, top: float
) -> tuple[Markup, float]:
    """Return one planting's words with its bar below, and their height."""
    look = Look()
    words = f"{nth} {stay.crop}, {strip_words(stay.strips, look)}: {', '.join(say_days(garden, stay, year, look))}"
    written, height = paragraph(_EDGE + 4, top + 4, words, WIDTH - 2 * _EDGE - 8, _WORDS)
    ground = element("rect", x=_EDGE, y=top + 2, width=WIDTH - 2 * _EDGE, height=height + 4, fill=PAPER)
    bar = top + 4 + height + 14
    parts = [ground, written, *_bar(garden, bed, stay, mark, begin, bar)]
    return join(parts), bar + _BAR + 10 - top


def _bar(garden: Garden, bed: str, stay: Stay, mark: FamilyMark, begin: int, top: float) -> Iterator[Markup]:
    first, last = _at(stay.first, begin), _at(stay.last + timedelta(days=1), begin)
    planting = stay.planting
    if planting is not None and planting.raise_from is not None:
        indoors = _at(planting.raise_from, begin)
        middle = top + _BAR / 2
        if indoors < first:
            yield element("path", d=f"M{number(indoors)} {number(middle)}H{number(first)}", stroke=INK, stroke_width=2)
            if indoors > _EDGE:
                yield element("circle", cx=indoors, cy=middle, r=4.5, fill=PAPER, stroke=INK, stroke_width=2)
    if garden.beds[bed].cover != "open ground":
        yield element("path", d=_arches(first, last, top - 1), stroke=INK, stroke_width=1.5, fill="none")
    yield element("rect", x=first, y=top, width=last - first, height=_BAR, fill=mark.fill, stroke=INK, stroke_width=1.5)
    if planting is not None and planting.first_harvest is not None and planting.last_harvest is not None:
        picked = _at(planting.first_harvest, begin), _at(planting.last_harvest + timedelta(days=1), begin)
        if picked[1] > picked[0]:
            yield element(
                "rect",
                x=picked[0],
                y=top + 6,
                width=picked[1] - picked[0],
                height=_BAR - 12,
                rx=7,
                fill=PAPER,
                stroke=INK,
                stroke_width=2,
            )


def _at(day: date, begin: int) -> float:
    """Return where a day begins between the edges of the year."""
    period = period_of(day)
    days = (last_day(period) - first_day(period)).days + 1
    along = period - begin + (day - first_day(period)).days / days
    return _EDGE + min(max(along, 0.0), float(PERIODS_PER_YEAR)) * _CELL


def _arches(first: float, last: float, top: float) -> str:
    count = max(1, round((last - first) / 16))
    wide = (last - first) / count
    arches = "".join(f"q{number(wide / 2)} -12 {number(wide)} 0" for _ in range(count))
    return f"M{number(first)} {number(top)}{arches}"
