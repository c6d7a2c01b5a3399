"""In which garden years a crop is a host of what lives on its family: the one definition that rest is counted by.

A crop is a host of every garden year of whose growing season, April to September (south: October to March), it takes
more than 30 days. A crop that takes no season so long, as a radish or a salad in winter, is a host of the garden year
of its first harvest, a green manure of that of its start. So garlic from October to July is a host of the year in
which it is lifted, leeks from June to March of the year in which they grew, and sprouting broccoli from June to the
end of May of both.
"""

from __future__ import annotations

from datetime import date, timedelta
from typing import TYPE_CHECKING

from rotasolve.domain.seasons import GROWING_MONTHS_NORTH, HOST_DAYS, garden_year, year_end, year_start

if TYPE_CHECKING:
    from rotasolve.domain.plan import Planting
    from rotasolve.domain.scenario import PastPlanting

HostYears = tuple[int, int]
"""The first and the last garden year in which something is a host: mostly one and the same."""


def host_years(start: date, clear: date, crop_year: int, south: bool) -> HostYears:
    """Return the garden years in which a crop on the ground from ``start`` to ``clear``, both included, is a host.

    ``crop_year`` is that of its first harvest, or of its start for a green manure.
    """
    years = [
        year
        for year in range(garden_year(start, south), garden_year(clear, south) + 1)
        if _days_in_season(start, clear, year, south) > HOST_DAYS
    ]
    return (years[0], years[-1]) if years else (crop_year, crop_year)


def was_there_in_vain(planting: Planting, green_manure: bool, south: bool) -> bool:
    """Return whether a planting was cleared before anything was ripe and before it took a season for long enough.

    It is no host then: seed that failed in its first weeks may be sown again where it stood.
    """
    years = range(garden_year(planting.start, south), garden_year(planting.clear, south) + 1)
    days = (_days_in_season(planting.start, planting.clear, year, south) for year in years)
    return planting.first_harvest is None and not green_manure and max(days) <= HOST_DAYS


def past_host_years(past: PastPlanting, south: bool) -> HostYears:
    """Return the garden years in which a planting of the history was a host: its year, and those it grew on into."""
    until = year_end(past.year, south) if past.until is None else past.until
    return host_years(year_start(past.year, south), max(until, year_start(past.year, south)), past.year, south)


def are_one_visit(one: HostYears, other: HostYears) -> bool:
    """Return whether the years of one are all among those of the other: side by side they are one visit."""
    return one[0] <= other[0] <= other[1] <= one[1] or other[0] <= one[0] <= one[1] <= other[1]


def years_between(one: HostYears, other: HostYears) -> int:
    """Return the complete garden years without a host between two visits, 0 if they follow at once or overlap."""
    return max(0, other[0] - one[1] - 1, one[0] - other[1] - 1)


def rest_too_short(one: HostYears, other: HostYears, gap: int) -> bool:
    """Return whether two visits have fewer than ``gap`` complete years between them; one visit needs none."""
    return not are_one_visit(one, other) and years_between(one, other) < gap


def _days_in_season(start: date, clear: date, year: int, south: bool) -> int:
    months = GROWING_MONTHS_NORTH
    first = date(year, months[0], 1) if not south else date(year, months[-1] + 1, 1)
    beyond = date(year, months[-1] + 1, 1) if not south else date(year + 1, months[0], 1)
    return (min(clear + timedelta(days=1), beyond) - max(start, first)).days
