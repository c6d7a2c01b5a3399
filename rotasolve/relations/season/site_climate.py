"""Daily temperatures of a site with a climate: nights, days and soil, in the open and under covers, in degrees C."""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

from rotasolve.relations.season.daily_curves import Curve, curve_through, midway

if TYPE_CHECKING:
    from rotasolve.domain.catalogue import Cover
    from rotasolve.domain.climate import Climate

SOIL_DEPTH_M = 0.10
"""Bulletins give the soil temperatures of sowing at about this depth."""

SOIL_DOUBT_C = 2.9
"""How far the soil's estimate may lie from the truth, in degrees C: the larger of the standard errors (1.5 to 2.9) that
Zheng, Hunt and Running (1993, Climate Research 2:183-191) found for 10 cm soil estimated from air temperature. Bare
dark soil runs warmer in spring sun than the estimate, mulched or wet soil colder."""


def nights(climate: Climate, cover: Cover | None = None) -> Curve:
    """Return the mean daily minimum through the year, with a cover's night gain if one is given."""
    return _ends(climate, 0.0 if cover is None else cover.night_gain_c, 0.0)[0]


def afternoons(climate: Climate, cover: Cover | None = None) -> Curve:
    """Return the mean daily maximum through the year, with a cover's day gain if one is given."""
    return _ends(climate, 0.0, 0.0 if cover is None else cover.day_gain_c)[1]


def air(climate: Climate, cover: Cover | None = None) -> Curve:
    """Return the mean of the day through the year, half-way between the two."""
    return _air(climate, 0.0 if cover is None else cover.mean_gain_c)


def soil(climate: Climate, cover: Cover | None = None) -> Curve:
    """Return the mean soil temperature at 10 cm through the year.

    The soil follows the mean of the air, damped and late, under a cover as well: our reading, as no published gain
    for the soil under a cover was found.
    """
    return _soil(climate, 0.0 if cover is None else cover.mean_gain_c)


# A curve's 365 days are worked out once; these keep the curves that are asked for again and again.
@lru_cache(maxsize=256)
def _ends(climate: Climate, night_gain: float, day_gain: float) -> tuple[Curve, Curve]:
    return (
        curve_through(climate.mean_minima_c).raised(night_gain),
        curve_through(climate.mean_maxima_c).raised(day_gain),
    )


@lru_cache(maxsize=256)
def _air(climate: Climate, gain: float) -> Curve:
    return midway(*_ends(climate, 0.0, 0.0)).raised(gain)


@lru_cache(maxsize=256)
def _soil(climate: Climate, gain: float) -> Curve:
    return _air(climate, gain).under_soil(SOIL_DEPTH_M).raised(climate.soil_offset_c)
