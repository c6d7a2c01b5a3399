"""Twelve monthly means as a smooth curve of daily values that keeps every monthly mean.

The curve is a Fourier series with twelve terms whose means over the days of each month are the given ones (after
Epstein 1991, Journal of Climate 4:365-368). Time is counted from mid-January: counted from 1 January the sixth cosine
nearly vanishes at every mid-month and the curve overshoots by degrees.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from datetime import date

DAYS = 365
MONTH_DAYS = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
_FIRST_DAYS = tuple(sum(MONTH_DAYS[:month]) for month in range(12))
_TURN = 2 * math.pi / DAYS
_MID_JANUARY = 16
"""Day of the year, 1 to 365, from which time is counted."""

DIFFUSIVITY_M2_PER_S = 5e-7
"""Thermal diffusivity of garden soil: 3 to 8e-7 m2/s, middle taken (Oklahoma State University soil physics toolkit,
after Hillel 1982); 5.6e-7 was measured on bare soil at Wageningen on 23 May 2007."""

_SECONDS_PER_DAY = 86_400


def day_number(day: date) -> int:
    """Return a date's number in a common year, 1 to 365; 29 February counts as 28 February."""
    return _FIRST_DAYS[day.month - 1] + min(day.day, MONTH_DAYS[day.month - 1])


@dataclass(frozen=True)
class Curve:
    """A yearly curve: its mean, and a cosine and a sine for each wave of 1 to 6 turns a year, from mid-January."""

    mean: float
    waves: tuple[tuple[float, float], ...]

    def at(self, number: float) -> float:
        """Return the value on a day of the year, 1 to 365."""
        angle = _TURN * (number - _MID_JANUARY)
        return self.mean + sum(
            cosine * math.cos(turns * angle) + sine * math.sin(turns * angle)
            for turns, (cosine, sine) in enumerate(self.waves, start=1)
        )

    @cached_property
    def days(self) -> tuple[float, ...]:
        """The 365 daily values, 1 January first."""
        return tuple(self.at(number) for number in range(1, DAYS + 1))

    def on(self, day: date) -> float:
        """Return the value on a date."""
        return self.days[day_number(day) - 1]

    def under_soil(self, depth_m: float) -> Curve:
        """Return the daily mean temperature at a depth in m below ground whose surface follows this curve.

        A wave of k turns a year is damped by exp(-z/d) and runs z/d radians late, with the damping depth
        d = sqrt(2 D / omega), omega = 2 pi k / 365 per day (Oklahoma State University soil physics toolkit, after
        Hillel 1982). At 10 cm the yearly wave keeps 0.956 of its swing and comes 2.6 days late.
        """
        waves = []
        for turns, (cosine, sine) in enumerate(self.waves, start=1):
            ratio = depth_m / damping_depth_m(turns)
            factor, late = math.exp(-ratio), ratio
            waves.append(
                (
                    factor * (cosine * math.cos(late) - sine * math.sin(late)),
                    factor * (cosine * math.sin(late) + sine * math.cos(late)),
                )
            )
        return Curve(self.mean, tuple(waves))

    def raised(self, by: float) -> Curve:
        """Return the curve with every day ``by`` higher."""
        return Curve(self.mean + by, self.waves)


def damping_depth_m(turns_per_year: float, diffusivity: float = DIFFUSIVITY_M2_PER_S) -> float:
    """Return the depth in m at which a wave of so many turns a year has 1/e of its swing at the surface."""
    return math.sqrt(2 * diffusivity / (_TURN * turns_per_year / _SECONDS_PER_DAY))


@lru_cache(maxsize=64)
def curve_through(means: tuple[float, ...]) -> Curve:
    """Return the daily curve whose monthly means are the twelve given values, January first."""
    inverse = _inverse_of_month_means()
    terms = [sum(inverse[row][month] * means[month] for month in range(12)) for row in range(12)]
    waves = [(terms[1 + 2 * wave], terms[2 + 2 * wave]) for wave in range(5)]
    return Curve(terms[0], (*waves, (terms[11], 0.0)))


def midway(one: Curve, other: Curve) -> Curve:
    """Return the mean of two curves."""
    pairs = zip(one.waves, other.waves, strict=True)
    return Curve((one.mean + other.mean) / 2, tuple(((a + c) / 2, (b + d) / 2) for (a, b), (c, d) in pairs))


def _basis(number: int) -> list[float]:
    angle = _TURN * (number - _MID_JANUARY)
    row = [1.0]
    for turns in range(1, 6):
        row += [math.cos(turns * angle), math.sin(turns * angle)]
    return [*row, math.cos(6 * angle)]


@lru_cache(maxsize=1)
def _inverse_of_month_means() -> list[list[float]]:
    """Return the matrix that turns twelve monthly means into the twelve terms (Gauss-Jordan, largest pivot first)."""
    rows = []
    for month, (first, days) in enumerate(zip(_FIRST_DAYS, MONTH_DAYS, strict=True)):
        values = [_basis(number) for number in range(first + 1, first + days + 1)]
        means = [sum(column) / days for column in zip(*values, strict=True)]
        rows.append(means + [float(month == other) for other in range(12)])
    for place in range(12):
        pivot = max(range(place, 12), key=lambda row: abs(rows[row][place]))
        rows[place], rows[pivot] = rows[pivot], rows[place]
        scale = rows[place][place]
        rows[place] = [value / scale for value in rows[place]]
        for other in range(12):
            factor = rows[other][place]
            if other != place and factor:
                rows[other] = [value - factor * base for value, base in zip(rows[other], rows[place], strict=True)]
    return [row[12:] for row in rows]
