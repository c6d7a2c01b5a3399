"""Harvest against what is wanted over one garden year, crop by crop in half months, as ``supply`` counts them.

A bar is what is harvested in a half month, the heavy line what is wanted in it. Below stand the signs of the ``supply``
page. Each crop has a scale of its own, said at its left.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.domain.seasons import MONTHS, PERIODS_PER_YEAR, first_day, period_of, say_year, year_start
from rotasolve.views.drawings.family_marks import family_marks, mark_definitions
from rotasolve.views.drawings.season_bars import month_lines
from rotasolve.views.drawings.svg import INK, Drawing, Markup, box, element, join, label, number, opening, paragraph
from rotasolve.views.pages.supply import sign_of
from rotasolve.views.words.wording import clean, say_kg

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rotasolve.domain.supply import CropSupply, HalfMonthSupply
    from rotasolve.relations.ground.garden import Garden

WIDTH = 680
_EDGE = 16
_LEFT = 76
_CELL = (WIDTH - _EDGE - _LEFT) / PERIODS_PER_YEAR
_HIGH = 46
_SIGNS = 18


def harvest_drawing(garden: Garden, supplies: Sequence[CropSupply], year: int) -> Drawing:
    """Return the drawing of a garden year.

    Parameters
    ----------
    garden
        The garden of the plan.
    supplies
        What ``supply_of`` counted for the plan; a crop with neither harvest nor wish in the year is left out.
    year
        The garden year.
    """
    said = say_year(year, garden.scenario.site.south)
    begin = period_of(year_start(year, garden.scenario.site.south))
    marks = family_marks(garden.catalogue)
    title = f"Harvest and what is wanted, {said}"
    how = (
        "Bars: harvested in a half month. Heavy line: wanted in it. f eaten fresh, k eaten from what is kept, h "
        "harvested before it is wished, + more left over than is wished then, - less than half of what is wished."
    )
    parts, down = opening(_EDGE, WIDTH, (title, 24), (how, 13.5), 6)
    used = []
    for supply in supplies:
        here = [half for half in supply.half_months if begin <= half.period < begin + PERIODS_PER_YEAR]
        if not any(half.harvested_g or half.wanted_g for half in here):
            continue
        mark = marks[garden.crops[supply.crop].family]
        used.append(mark)
        drawn, height = _crop(supply.crop, here, begin, down, mark.fill)
        parts.append(drawn)
        down += height
    if not used:
        parts.append(label(_EDGE, down + 20, "Nothing is harvested or wanted in this year.", 15))
        down += 30
    return Drawing(
        title=clean(title),
        description=f"Kilograms harvested and wanted in each half month of {said} for {len(used)} crops.",
        width=WIDTH,
        height=round(down + _EDGE),
        body=join(parts),
        definitions=mark_definitions(used),
    )


def _crop(name: str, halves: list[HalfMonthSupply], begin: int, top: float, fill: str) -> tuple[Markup, float]:
    """Return one crop's bars, and their height."""
    got, wanted = (sum(getattr(half, what) for half in halves) / 1000 for what in ("harvested_g", "wanted_g"))
    words = f"{name}: {say_kg(got)} harvested, {say_kg(wanted)} wanted"
    written, height = paragraph(_EDGE, top + 4, words, WIDTH - 2 * _EDGE, 15, bold=True)
    ceiling = top + 8 + height
    floor = ceiling + _HIGH
    most = max(max(half.harvested_g, half.wanted_g) for half in halves)
    letters = "".join(MONTHS[first_day(begin + 2 * nth).month - 1][0] for nth in range(12))
    places = " ".join(str(round(_LEFT + (2 * nth + 1) * _CELL)) for nth in range(12))
    edge = element(
        "g", label(_LEFT - 6, ceiling + 11, say_kg(most / 1000)), label(_LEFT - 6, floor, "0 kg"), text_anchor="end"
    )
    signs = [(_LEFT + (half.period - begin + 0.5) * _CELL, sign_of(half, "")) for half in halves]
    row = [(str(round(x)), sign) for x, sign in signs if sign]
    below = element(
        "g",
        element("text", "".join(sign for _, sign in row), x=" ".join(x for x, _ in row), y=floor + 14),
        element("text", letters, x=places, y=floor + 31, font_weight="bold"),
        text_anchor="middle",
    )
    lines = month_lines(_LEFT, ceiling, floor + _SIGNS, _CELL)
    parts = [written, *lines, element("g", edge, below, font_size=12.5)]
    parts.append(element("path", d=_bars(halves, begin, floor, most), fill=fill, stroke=INK))
    base = f"M{_LEFT} {number(floor)}H{WIDTH - _EDGE}"
    parts.append(element("path", d=base, stroke=INK, stroke_width=1))
    wished = _wanted(halves, begin, floor, most)
    parts.append(element("path", d=wished, stroke=INK, stroke_width=3.5, fill="none"))
    return join(parts), floor + 2 * _SIGNS + 12 - top


def _bars(halves: list[HalfMonthSupply], begin: int, floor: float, most: int) -> str:
    bars = [(half.period - begin, half.harvested_g / most * _HIGH) for half in halves if half.harvested_g]
    return "".join(box(_LEFT + nth * _CELL + 2, floor - tall, _CELL - 4, tall) for nth, tall in bars)


def _wanted(halves: list[HalfMonthSupply], begin: int, floor: float, most: int) -> str:
    line, reached, level = "", -1, -1.0
    for half in halves:
        if not half.wanted_g:
            continue
        nth, tall = half.period - begin, round(half.wanted_g / most * _HIGH, 1)
        # Grams that are shared out differ by one here and there: that is no step.
        if nth != reached or abs(tall - level) > 0.5:
            level = tall
            line += f"M{number(_LEFT + nth * _CELL)} {number(floor - tall)}"
        line += f"h{number(_CELL)}"
        reached = nth + 1
    return line
