"""The height of each growing season: the half month in its middle, by which it is told what a bed bears that year."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.domain.seasons import first_day, garden_year
from rotasolve.relations.ground.garden import growing_periods

if TYPE_CHECKING:
    from rotasolve.relations.ground.garden import Garden


def heights_of_seasons(garden: Garden) -> dict[int, int]:
    """Return the half month in the middle of the growing season of each garden year, in order."""
    south = garden.scenario.site.south
    seasons: dict[int, list[int]] = {}
    for period in sorted(growing_periods(garden)):
        seasons.setdefault(garden_year(first_day(period), south), []).append(period)
    return {year: periods[len(periods) // 2] for year, periods in seasons.items()}
