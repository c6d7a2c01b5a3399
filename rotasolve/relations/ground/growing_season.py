"""The half months of the growing seasons, from four weeks before the last frost to the first, and their middles."""

from __future__ import annotations

from datetime import timedelta
from typing import TYPE_CHECKING

from rotasolve.domain.seasons import first_day, garden_year, period_of
from rotasolve.relations.season.frosts import frost_dates

if TYPE_CHECKING:
    from rotasolve.relations.ground.garden import Garden


def growing_periods(garden: Garden) -> frozenset[int]:
    """Return the half months of all growing seasons in the plan."""
    found: set[int] = set()
    for year in garden.scenario.planned_years:
        last_frost, first_frost = frost_dates(garden.scenario.site, year)
        found.update(range(period_of(last_frost - timedelta(weeks=4)), period_of(first_frost) + 1))
    return frozenset(found)


def heights_of_seasons(garden: Garden) -> dict[int, int]:
    """Return the half month in the middle of the growing season of each garden year, in order."""
    south = garden.scenario.site.south
    seasons: dict[int, list[int]] = {}
    for period in sorted(growing_periods(garden)):
        seasons.setdefault(garden_year(first_day(period), south), []).append(period)
    return {year: periods[len(periods) // 2] for year, periods in seasons.items()}
