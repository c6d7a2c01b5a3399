"""Harvest against what is wanted over one garden year, crop by crop in half months, as ``supply`` counts them.

A bar is what is harvested in a half month, the heavy line what is wanted in it. Below stand the signs of the ``supply``
page. Each crop has a scale of its own, said at its left.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.domain.seasons import PERIODS_PER_YEAR, period_of, say_year, year_start
from rotasolve.views.family_marks import family_marks, mark_definitions
from rotasolve.views.season_bars import months
from rotasolve.views.supply import sign_of
from rotasolve.views.svg import INK, Drawing, Markup, element, join, label, number, paragraph
from rotasolve.views.wording import clean, say_kg

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rotasolve.domain.supply import CropSupply, HalfMonth
    from rotasolve.relations.garden import Garden

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
    parts: list[Markup] = []
    down = float(_EDGE)
    how = (
        "Bars: harvested in a half month. Heavy line: wanted in it. f eaten fresh, k eaten from what is kept, h "
        "harvested before it is wished, + more left over than is wished then, - less than half of what is wished."
    )
    for text, size, bold in ((title, 24, True), (how, 13.5, False)):
        written, height = paragraph(_EDGE, down, text, WIDTH - 2 * _EDGE, size, bold)
        parts.append(written)
        down += height + 6
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


def _crop(name: str, halves: list[HalfMonth], begin: int, top: float, fill: str) -> tuple[Markup, float]:
    """Return one crop's bars, and their height."""
    got, wanted = (sum(getattr(half, what) for half in halves) / 1000 for what in ("harvested_g", "wanted_g"))
    words = f"{name}: {say_kg(got)} harvested, {say_kg(wanted)} wanted"
    written, height = paragraph(_EDGE, top + 4, words, WIDTH - 2 * _EDGE, 15, bold=True)
    ceiling = top + 4 + height + 20
    floor = ceiling + _HIGH
    most = max(max(half.harvested_g, half.wanted_g) for half in halves)
    parts = [written, months(begin, _LEFT, ceiling - 6, floor + _SIGNS, _CELL)]
    parts.append(label(_LEFT - 6, ceiling + 12, say_kg(most / 1000), 12.5, anchor="end"))
    parts.append(label(_LEFT - 6, floor, "0 kg", 12.5, anchor="end"))
    line = ""
    for half in halves:
        x = _LEFT + (half.period - begin) * _CELL
        if half.harvested_g:
            tall = half.harvested_g / most * _HIGH
            parts.append(element("rect", x=x + 2, y=floor - tall, width=_CELL - 4, height=tall, fill=fill, stroke=INK))
        if half.wanted_g:
            line += f"M{number(x)} {number(floor - half.wanted_g / most * _HIGH)}h{number(_CELL)}"
        sign = sign_of(half, "")
        if sign:
            parts.append(label(x + _CELL / 2, floor + 14, sign, 12.5, anchor="middle"))
    parts.append(element("path", d=f"M{_LEFT} {number(floor)}H{WIDTH - _EDGE}", stroke=INK, stroke_width=1))
    if line:
        parts.append(element("path", d=line, stroke=INK, stroke_width=3.5))
    return join(parts), floor + _SIGNS + 10 - top
