"""The height of each growing season, looked up anew."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.domain.seasons import first_day, garden_year

if TYPE_CHECKING:
    from collections.abc import Iterable


def middles_of(periods: Iterable[int], south: bool) -> dict[int, int]:
    """Return, for each garden year, the middle one of its half months: of an even number the later of two."""
    season = sorted(periods)
    years = [garden_year(first_day(period), south) for period in season]
    return {year: season[(years.index(year) + len(years) - years[::-1].index(year)) // 2] for year in sorted({*years})}
