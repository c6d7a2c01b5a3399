"""The half months of a garden's growing seasons: from four weeks before the last frost to the first."""

from __future__ import annotations

from datetime import timedelta
from typing import TYPE_CHECKING

from rotasolve.domain.seasons import period_of
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
