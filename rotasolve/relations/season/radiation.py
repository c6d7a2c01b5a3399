"""The sun's radiation on level ground, and the length of the day, from latitude and climate.

Allen, Pereira, Raes and Smith 1998, Crop evapotranspiration, FAO Irrigation and Drainage Paper 56, equations 21 to 25,
34 to 36 and 50. From the temperatures of Brussels June comes out 8 per cent above the Belgian normal, the year 6 and
December 27 (Royal Meteorological Institute of Belgium, climate atlas, 1984-2013).
"""

from __future__ import annotations

import math
from functools import lru_cache
from typing import TYPE_CHECKING

from rotasolve.relations.season.daily_curves import DAYS, curve_through
from rotasolve.relations.season.site_climate import afternoons, nights

if TYPE_CHECKING:
    from rotasolve.domain.climate import Climate

_SOLAR_CONSTANT = 0.0820
"""MJ per m2 and minute."""

CLOUDY_SHARE, SUNNY_SHARE = 0.25, 0.50
"""Part of the radiation above the air that comes down under clouds, and what full sun adds (equations 35 and 36)."""

HARGREAVES_PER_ROOT_DEGREE = 0.16
"""kRs of equation 50: 0.16 inland, 0.19 on coasts. The low end is taken, because the root of a monthly mean is larger
than the mean of the days' roots: 0.17 would put Belgium's June 15 per cent too high instead of 8."""


def declination(number: int) -> float:
    """Return the sun's declination in radians on a day of the year, 1 to 365 (equation 24)."""
    return 0.409 * math.sin(2 * math.pi * number / 365 - 1.39)


def sunset_angle(latitude: float, number: int) -> float:
    """Return the hour angle of sunset in radians, 0 to pi, at a latitude in degrees (equation 25)."""
    cosine = -math.tan(math.radians(latitude)) * math.tan(declination(number))
    return math.acos(max(-1.0, min(1.0, cosine)))


def day_length(latitude: float, number: int) -> float:
    """Return the hours from sunrise to sunset (equation 34)."""
    return 24 / math.pi * sunset_angle(latitude, number)


def radiation_above_air(latitude: float, number: int) -> float:
    """Return the radiation above the atmosphere in MJ per m2 and day (equations 21 and 23)."""
    phi, delta, sunset = math.radians(latitude), declination(number), sunset_angle(latitude, number)
    nearness = 1 + 0.033 * math.cos(2 * math.pi * number / 365)
    high = sunset * math.sin(phi) * math.sin(delta) + math.cos(phi) * math.cos(delta) * math.sin(sunset)
    return 24 * 60 / math.pi * _SOLAR_CONSTANT * nearness * high


def light_from_sunshine(latitude: float, number: int, hours: float) -> float:
    """Return a day's radiation in MJ per m2 from its hours of bright sunshine (Angstrom, equation 35)."""
    length = day_length(latitude, number)
    part = min(1.0, max(0.0, hours) / length) if length else 0.0
    return (CLOUDY_SHARE + SUNNY_SHARE * part) * radiation_above_air(latitude, number)


def light_from_warmth(latitude: float, number: int, lowest: float, highest: float) -> float:
    """Return a day's radiation in MJ per m2 from its temperatures in degrees C (Hargreaves, equation 50).

    Never more than comes down from a clear sky (equation 36).
    """
    part = HARGREAVES_PER_ROOT_DEGREE * math.sqrt(max(0.0, highest - lowest))
    return min(part, CLOUDY_SHARE + SUNNY_SHARE) * radiation_above_air(latitude, number)


@lru_cache(maxsize=64)
def daily_light(climate: Climate, latitude: float) -> tuple[float, ...]:
    """Return the radiation of each of 365 days in MJ per m2, 1 January first, from sunshine if it is given."""
    numbers = range(1, DAYS + 1)
    if climate.sunshine_hours is not None:
        hours = curve_through(climate.sunshine_hours).days
        return tuple(light_from_sunshine(latitude, number, hours[number - 1]) for number in numbers)
    ends = zip(nights(climate).days, afternoons(climate).days, strict=True)
    return tuple(light_from_warmth(latitude, number, *pair) for number, pair in zip(numbers, ends, strict=True))
