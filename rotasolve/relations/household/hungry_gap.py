"""The hungry gap: the half months of late winter and spring in which next to nothing fresh is to be picked.

Winter crops run to seed or are eaten up, and what was sown this year is not ripe: growers know it from about March to
May in the north (September to November in the south). Where it begins earlier or ends later, up to a month is looked at
on both sides. Little is less than a quarter of what the household wishes in half a month on the mean of the year (of
what it harvests, if nothing is wished): common practice, no source.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from rotasolve.domain.seasons import period_of, year_start
from rotasolve.domain.supply import SpringSupply

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rotasolve.domain.supply import CropSupply
    from rotasolve.relations.ground.garden import Garden

_LITTLE = 4
"""Little is less than the mean half month's wish divided by this."""
_SPRING, _LOOKED_AT = range(4, 10), range(2, 12)
"""Half months from the begin of a garden year: March to May and February to June, in the south half a year later."""


def springs_of(garden: Garden, supplies: Sequence[CropSupply]) -> tuple[SpringSupply, ...]:
    """Return what each spring of the plan has to eat; ``supplies`` are those of all crops. Nothing without any."""
    little = _little(garden, supplies)
    return tuple(_spring(garden, supplies, year, little) for year in garden.scenario.planned_years) if little else ()


def _little(garden: Garden, supplies: Sequence[CropSupply]) -> int:
    halves = [half for supply in supplies for half in supply.half_months if half.period <= garden.last_period]
    whole = sum(half.wanted_g for half in halves) or sum(half.harvested_g for half in halves)
    return round(whole / (garden.last_period - garden.first_period + 1) / _LITTLE)


def _spring(garden: Garden, supplies: Sequence[CropSupply], year: int, little: int) -> SpringSupply:
    begin = period_of(year_start(year, garden.scenario.site.south))
    picked = [sum(grams for _, grams in _by_crop(supplies, "harvested_g", begin + n, begin + n)) for n in _LOOKED_AT]
    gap = _longest_run([n for n, grams in zip(_LOOKED_AT, picked, strict=True) if grams < little])
    first, last = begin + (gap or _SPRING)[0], begin + (gap or _SPRING)[-1]
    return SpringSupply(
        year=year,
        hungry=bool(gap),
        first_period=first,
        last_period=last,
        picked_g=_by_crop(supplies, "harvested_g", first, last),
        stored_g=_by_crop(supplies, "eaten_kept_g", first, last),
        little_g=little,
        begins_plan=year == garden.scenario.first_year,
    )


def _longest_run(scarce: Sequence[int]) -> range:
    """Return the longest run of numbers, the first of equals, that holds a half month of spring."""
    runs: list[range] = []
    for n in scarce:
        runs.append(range(runs.pop().start, n + 1) if runs and runs[-1].stop == n else range(n, n + 1))
    return max((run for run in runs if set(run) & set(_SPRING)), key=len, default=range(0))


def _by_crop(
    supplies: Sequence[CropSupply], what: Literal["harvested_g", "eaten_kept_g"], first: int, last: int
) -> tuple[tuple[str, int], ...]:
    """Return the grams of each crop between two half months, both included, most first; none with nothing."""
    grams = {
        supply.crop: sum(getattr(half, what) for half in supply.half_months if first <= half.period <= last)
        for supply in supplies
    }
    return tuple(sorted(((crop, told) for crop, told in grams.items() if told), key=lambda one: (-one[1], one[0])))
