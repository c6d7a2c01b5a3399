"""Where the sun stands, and how strong its beam is: the moments of a month's clear days as arrays.

Declination and equation of time follow the low-precision formulas of Meeus (Astronomical Algorithms, chapters 25 and
28) as NOAA prints them; against the NREL algorithm they err by less than 0.02 degrees. The tables of hours need solar
time alone, so latitude is their only input. The beam is Meinel's clear-sky law 0.7^(air mass^0.678) with Kasten and
Young's air mass (both from memory; within about 5 % of pvlib's clear sky above 10 degrees, too bright below 5).
"""

from __future__ import annotations

import calendar
from dataclasses import dataclass
from datetime import date
from functools import lru_cache

import numpy
import numpy.typing

Numbers = numpy.typing.NDArray[numpy.float64]

REFERENCE_YEAR = 2025
"""A year after a leap year: its declinations lie in the middle of the four."""
SUN_DAYS = (5, 15, 25)
"""Days of a month that stand for it: the shadow on the pole side changes fast about the equinoxes."""
STEP_MINUTES = 15
"""Length of a moment. Beside a tall row, three days in such moments err by 0.03 hours a day in the mean and 0.5 at most
(right behind an endless row in the month of an equinox) against every day of the month in 2-minute steps."""


def sun_of(julian_day: Numbers) -> tuple[Numbers, Numbers]:
    """Return declination in degrees and equation of time in minutes at Julian days (UT)."""
    t = (julian_day - 2451545.0) / 36525.0
    length = numpy.radians((280.46646 + t * (36000.76983 + 0.0003032 * t)) % 360)
    anomaly = numpy.radians((357.52911 + t * (35999.05029 - 0.0001537 * t)) % 360)
    eccentricity = 0.016708634 - t * (0.000042037 + 0.0000001267 * t)
    centre = (
        numpy.sin(anomaly) * (1.914602 - t * (0.004817 + 0.000014 * t))
        + numpy.sin(2 * anomaly) * (0.019993 - 0.000101 * t)
        + numpy.sin(3 * anomaly) * 0.000289
    )
    node = numpy.radians(125.04 - 1934.136 * t)
    apparent = length + numpy.radians(centre - 0.00569 - 0.00478 * numpy.sin(node))
    mean_tilt = 23 + (26 + (21.448 - t * (46.815 + t * (0.00059 - 0.001813 * t))) / 60) / 60
    tilt = numpy.radians(mean_tilt + 0.00256 * numpy.cos(node))
    declination = numpy.degrees(numpy.arcsin(numpy.sin(tilt) * numpy.sin(apparent)))
    y = numpy.tan(tilt / 2) ** 2
    equation = 4 * numpy.degrees(
        y * numpy.sin(2 * length)
        - 2 * eccentricity * numpy.sin(anomaly)
        + 4 * eccentricity * y * numpy.sin(anomaly) * numpy.cos(2 * length)
        - 0.5 * y**2 * numpy.sin(4 * length)
        - 1.25 * eccentricity**2 * numpy.sin(2 * anomaly)
    )
    return declination, equation


def julian_day(day: date, hours: float = 12) -> float:
    """Return the Julian day of a day at so many hours UT."""
    # 1 January of year 1 is day 1 of the ordinal and begins at Julian day 1721425.5.
    return day.toordinal() + 1721424.5 + hours / 24


def position(julian: Numbers, latitude: float, longitude: float) -> tuple[Numbers, Numbers]:
    """Return the sun's geometric elevation and its azimuth clockwise from north, in degrees (east longitude > 0)."""
    declination, equation = sun_of(julian)
    minutes = (julian + 0.5) % 1 * 1440
    return aloft(numpy.radians((minutes + equation + 4 * longitude) / 4 - 180), declination, latitude)


def aloft(hour_angle: Numbers, declination: Numbers, latitude: float) -> tuple[Numbers, Numbers]:
    """Return elevation and azimuth in degrees from the hour angle in radians and the declination in degrees."""
    lean, place = numpy.radians(declination), numpy.radians(latitude)
    height = numpy.sin(place) * numpy.sin(lean) + numpy.cos(place) * numpy.cos(lean) * numpy.cos(hour_angle)
    azimuth = numpy.arctan2(
        -numpy.cos(lean) * numpy.sin(hour_angle),
        numpy.sin(lean) * numpy.cos(place) - numpy.cos(lean) * numpy.sin(place) * numpy.cos(hour_angle),
    )
    return numpy.degrees(numpy.arcsin(numpy.clip(height, -1, 1))), numpy.degrees(azimuth) % 360


def beam(elevation: Numbers) -> Numbers:
    """Return the clear-sky beam on a plane that faces the sun, as a share of that outside the air."""
    air_mass = 1 / (numpy.sin(numpy.radians(elevation)) + 0.50572 * (elevation + 6.07995) ** -1.6364)
    return numpy.asarray(0.7 ** (air_mass**0.678))


@dataclass(frozen=True, eq=False)
class Sky:
    """The moments of a month's clear days from sunrise to sunset; every array holds one number a moment.

    ``east`` and ``north`` point to the sun along the ground, ``slope`` is the tangent of its elevation. ``hours`` sum
    to the hours of an average day, ``beam`` to the beam energy on level ground, as a share of 1; ``clock`` is solar
    time in hours.
    """

    east: Numbers
    north: Numbers
    slope: Numbers
    hours: Numbers
    beam: Numbers
    clock: Numbers

    @property
    def day_hours(self) -> float:
        """Hours from sunrise to sunset on an average day, of the sun's centre and without refraction."""
        return float(self.hours.sum())


@lru_cache(maxsize=256)
def sky_of(latitude: float, month: int, days: tuple[int, ...] = SUN_DAYS, step: float = STEP_MINUTES) -> Sky:
    """Return the sky of a month of clear days, in equal moments of about ``step`` minutes."""
    angles: list[Numbers] = []
    leans: list[Numbers] = []
    hours: list[Numbers] = []
    for number in days or range(1, calendar.monthrange(REFERENCE_YEAR, month)[1] + 1):
        tilt = float(sun_of(numpy.array([julian_day(date(REFERENCE_YEAR, month, number))]))[0][0])
        cosine = -numpy.tan(numpy.radians(latitude)) * numpy.tan(numpy.radians(tilt))
        half = float(numpy.arccos(numpy.clip(cosine, -1, 1)))
        # An even count puts morning and evening moments in pairs about noon.
        count = max(2, 2 * round(numpy.degrees(half) * 4 / step))
        angles.append(-half + (numpy.arange(count) + 0.5) * 2 * half / count)
        leans.append(numpy.full(count, tilt))
        hours.append(numpy.full(count, numpy.degrees(half) * 2 / 15 / count))
    angle, lean, hour = (numpy.concatenate(part) for part in (angles, leans, hours))
    elevation, azimuth = aloft(angle, lean, latitude)
    elevation = numpy.maximum(elevation, 1e-6)
    energy = beam(elevation) * numpy.sin(numpy.radians(elevation)) * hour
    return Sky(
        east=numpy.sin(numpy.radians(azimuth)),
        north=numpy.cos(numpy.radians(azimuth)),
        slope=numpy.tan(numpy.radians(elevation)),
        hours=hour / len(angles),
        beam=energy / energy.sum(),
        clock=12 + numpy.degrees(angle) / 15,
    )
