"""The climate of a site by half months: temperatures, frost, warmth, thirst and rain."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from typing import TYPE_CHECKING

from rotasolve.domain.seasons import PERIODS_PER_YEAR, first_day, last_day, period_of, year_start
from rotasolve.relations.season.daily_curves import day_number
from rotasolve.relations.season.degree_days import degree_days_of_day
from rotasolve.relations.season.frosts import chance_of_frost_beyond, chance_of_frosty_night, frost_dates
from rotasolve.relations.season.site_climate import afternoons, nights, soil
from rotasolve.relations.season.water_need import rain_mm, reference_year

if TYPE_CHECKING:
    from rotasolve.domain.climate import Climate
    from rotasolve.domain.site import Site

TABLE_BASE_C = 10.0
"""Base of the degree days in the table: that of maize and beans (S58)."""


@dataclass(frozen=True)
class Weather:
    """Means of a half month: temperatures in degrees C, the share of nights that freeze (0 to 1), water in mm.

    ``degree_days`` are those of the half month above 10 degrees C, by the mean of the day; ``reference_mm`` and
    ``rain_mm`` are a day's; ``rain_mm`` is None if it is not known.
    """

    night_c: float
    day_c: float
    soil_c: float
    frosty_nights: float
    degree_days: float
    reference_mm: float
    rain_mm: float | None


@dataclass(frozen=True)
class HalfMonth:
    """A half month: its first day, and the chance (0 to 1) of frost beyond that day.

    ``frost_chance`` is the chance that frost still comes after it, up to the middle of the season between the frosts,
    and that it has come by then, after that; ``weather`` is None without a climate.
    """

    first: date
    spring: bool
    frost_chance: float
    weather: Weather | None


def half_months(site: Site, year: int) -> tuple[HalfMonth, ...]:
    """Return the 24 half months of a garden year."""
    begin = period_of(year_start(year, site.south))
    last_frost, first_frost = frost_dates(site, year)
    middle = last_frost + (first_frost - last_frost) / 2
    found = []
    for period in range(begin, begin + PERIODS_PER_YEAR):
        first = first_day(period)
        still, already = chance_of_frost_beyond(site, first)
        spring = first <= middle
        weather = None if site.climate is None else _weather(site.climate, site.latitude, first, last_day(period))
        found.append(HalfMonth(first, spring, still if spring else already, weather))
    return tuple(found)


def _weather(climate: Climate, latitude: float, first: date, last: date) -> Weather:
    days = [first + timedelta(days=step) for step in range((last - first).days + 1)]
    low, high, ground, reference = (
        nights(climate),
        afternoons(climate),
        soil(climate),
        reference_year(climate, latitude),
    )
    return Weather(
        night_c=sum(low.on(day) for day in days) / len(days),
        day_c=sum(high.on(day) for day in days) / len(days),
        soil_c=sum(ground.on(day) for day in days) / len(days),
        frosty_nights=sum(chance_of_frosty_night(climate, day) for day in days) / len(days),
        degree_days=sum(degree_days_of_day(low.on(day), high.on(day), TABLE_BASE_C) for day in days),
        reference_mm=sum(reference[day_number(day) - 1] for day in days) / len(days),
        rain_mm=None if climate.rain_mm is None else sum(rain_mm(climate, day) for day in days) / len(days),
    )
