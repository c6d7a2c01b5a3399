"""Harvest against what is wanted over one garden year: a row for each crop, in half months as ``supply`` counts them.

A bar is what is harvested in a half month, the heavy line what is wanted in it. Each crop has a scale of its own.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.domain.seasons import PERIODS_PER_YEAR, period_of, say_year, year_start
from rotasolve.views.drawings.family_marks import family_marks
from rotasolve.views.drawings.hatch_fields import SharedParts
from rotasolve.views.drawings.season_drawing import CELL, NAMES, month_columns, short
from rotasolve.views.drawings.svg import NOTHING, WIDTH, Drawing, Markup, element, join, with_words
from rotasolve.views.pages.supply import sign_of
from rotasolve.views.words.wording import say_kg

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rotasolve.domain.supply import CropSupply
    from rotasolve.relations.ground.garden import Garden

_ROW, _HIGH, _TOP = 28, 22, 22
_SIGNS = 16


def harvest_drawing(garden: Garden, supplies: Sequence[CropSupply], year: int) -> Drawing:
    """Return the file of a garden year, with the signs of the ``supply`` page below each row.

    Parameters
    ----------
    garden
        The garden of the plan.
    supplies
        What ``supply_of`` counted for the plan; a crop with neither harvest nor wish in the year is left out.
    year
        The garden year.
    """
    south, parts = garden.scenario.site.south, SharedParts()
    said, here = say_year(year, south), of_year(supplies, year, south)
    return with_words(
        harvest_rows(garden, here, year, parts, signs=True),
        title=f"Harvest and what is wanted, {said}",
        how=(
            "Bars: harvested in half a month. Heavy line: wanted in it. f eaten fresh, k eaten from what is kept, h "
            "harvested before it is wished, + more left over than is wished then, - less than half of what is wished."
        ),
        words=[("", _say(supply)) for supply in here] or [("", "Nothing is harvested or wanted in this year.")],
        description=f"Kilograms harvested and wanted in each half of the months of {said} for {len(here)} crops.",
        definitions=parts.definitions(),
    )


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


def harvest_rows(
    garden: Garden, supplies: Sequence[CropSupply], year: int, parts: SharedParts, signs: bool = False
) -> Drawing:
    """Return the picture of the supplies of one garden year (``of_year``), with signs below each row or without."""
    south = garden.scenario.site.south
    begin, marks = period_of(year_start(year, south)), family_marks(garden.catalogue)
    below = _SIGNS if signs else 0
    bars: dict[str, str] = {}
    floors = wished = ""
    names = []
    for nth, supply in enumerate(supplies, start=1):
        floor, mark = _TOP + nth * (_ROW + below) - below, marks[garden.crops[supply.crop].family]
        names.append(element("text", short(supply.crop), y=floor - 6))
        names.append(_signs(supply, begin, floor + 13) if signs else NOTHING)
        floors += f"M{NAMES} {floor}H{WIDTH - 2}"
        bars[mark.line] = bars.get(mark.line, "") + _bars(supply, begin, floor)
        wished += _wished(supply, begin, floor)
    body = [parts.use(month_columns(begin), NAMES), *names]
    body.append(element("g", *(element("path", d=d, stroke=line) for line, d in bars.items() if d), class_="heaps"))
    body.append(element("path", d=floors, class_="month") if floors else NOTHING)
    body.append(element("path", d=wished, class_="wished") if wished else NOTHING)
    name = f"Harvest and what is wanted, {say_year(year, south)}, as the table says"
    return Drawing(name, WIDTH, _TOP + len(supplies) * (_ROW + below) + 6, join(body))


def _say(supply: CropSupply) -> str:
    got, wanted = (sum(getattr(half, what) for half in supply.half_months) for what in ("harvested_g", "wanted_g"))
    most = say_kg(_most(supply) / 1000)
    return f"{supply.crop}: {say_kg(got / 1000)} harvested, {say_kg(wanted / 1000)} wanted; full height is {most}"


def _most(supply: CropSupply) -> int:
    return max(1, *(max(half.harvested_g, half.wanted_g) for half in supply.half_months))


def _middle(period: int, begin: int) -> int:
    return NAMES + (period - begin) * CELL + CELL // 2


def _signs(supply: CropSupply, begin: int, level: int) -> Markup:
    row = [(str(_middle(half.period, begin)), sign_of(half, "")) for half in supply.half_months]
    told = "".join(sign for _, sign in row)
    places = " ".join(x for x, sign in row if sign)
    return element("text", told, x=places, y=level, font_size=12, text_anchor="middle") if told else NOTHING


def _bars(supply: CropSupply, begin: int, floor: int) -> str:
    most, path = _most(supply), ""
    for half in supply.half_months:
        # What is harvested is never drawn as nothing.
        tall = max(1, round(half.harvested_g / most * _HIGH)) if half.harvested_g else 0
        path += f"M{_middle(half.period, begin)} {floor}v-{tall}" if tall else ""
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
