"""Harvest against what is wanted over one garden year: a row for each crop, small enough for the report.

``harvest_drawing`` shows the same with a scale and signs for each half month.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.domain.seasons import PERIODS_PER_YEAR, period_of, say_year, year_start
from rotasolve.views.drawings.family_marks import family_marks
from rotasolve.views.drawings.sheet_drawing import CELL, NAMES, WIDTH, SheetDrawing, month_columns, short
from rotasolve.views.drawings.svg import NOTHING, element, join

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rotasolve.domain.supply import CropSupply
    from rotasolve.relations.ground.garden import Garden
    from rotasolve.views.drawings.hatch_fields import SharedParts

_ROW, _HIGH, _TOP = 28, 22, 22


def of_year(supplies: Sequence[CropSupply], year: int, south: bool) -> tuple[CropSupply, ...]:
    """Return what the supplies say of one garden year, without crops of which nothing is harvested or wanted in it.

    Gaps, gluts and stores belong to the year in which they begin.
    """
    begin = period_of(year_start(year, south))
    periods = range(begin, begin + PERIODS_PER_YEAR)
    found = []
    for supply in supplies:
        halves = tuple(half for half in supply.half_months if half.period in periods)
        spells = tuple(spell for spell in supply.spells if spell.first_period in periods)
        if any(half.harvested_g or half.wanted_g or half.eaten_kept_g for half in halves):
            found.append(supply.model_copy(update={"half_months": halves, "spells": spells}))
    return tuple(found)


def harvest_rows(garden: Garden, supplies: Sequence[CropSupply], year: int, parts: SharedParts) -> SheetDrawing:
    """Return the drawing of the supplies of one garden year (``of_year``), each crop with a scale of its own."""
    south = garden.scenario.site.south
    begin, marks = period_of(year_start(year, south)), family_marks(garden.catalogue)
    bars: dict[str, str] = {}
    floors = wished = ""
    names = []
    for nth, supply in enumerate(supplies, start=1):
        floor, mark = _TOP + nth * _ROW, marks[garden.crops[supply.crop].family]
        names.append(element("text", short(supply.crop), y=floor - 6))
        floors += f"M{NAMES} {floor}H{WIDTH - 2}"
        bars[mark.line] = bars.get(mark.line, "") + _bars(supply, begin, floor)
        wished += _wished(supply, begin, floor)
    body = [parts.use(month_columns(begin), NAMES), *names]
    body.append(element("g", *(element("path", d=d, stroke=line) for line, d in bars.items() if d), class_="heaps"))
    body.append(element("path", d=floors, class_="month") if floors else NOTHING)
    body.append(element("path", d=wished, class_="wished") if wished else NOTHING)
    name = f"Harvest and what is wanted, {say_year(year, south)}, as the table says"
    return SheetDrawing(name, WIDTH, _TOP + len(supplies) * _ROW + 6, join(body))


def _most(supply: CropSupply) -> int:
    return max(1, *(max(half.harvested_g, half.wanted_g) for half in supply.half_months))


def _bars(supply: CropSupply, begin: int, floor: int) -> str:
    most, path = _most(supply), ""
    for half in supply.half_months:
        # What is harvested is never drawn as nothing.
        tall = max(1, round(half.harvested_g / most * _HIGH)) if half.harvested_g else 0
        if tall:
            path += f"M{NAMES + (half.period - begin) * CELL + CELL // 2} {floor}v-{tall}"
    return path


def _wished(supply: CropSupply, begin: int, floor: int) -> str:
    """Return the line of what is wanted: a stretch for each run of half months with the same wish."""
    most, line, level, length = _most(supply), "", 0, 0
    for half in (*supply.half_months, None):
        tall = max(1, round(half.wanted_g / most * _HIGH)) if half is not None and half.wanted_g else 0
        if length and tall != level:
            line, length = f"{line}h{length * CELL}", 0
        if half is not None and tall:
            if not length:
                level, line = tall, f"{line}M{NAMES + (half.period - begin) * CELL} {floor - tall}"
            length += 1
    return line
