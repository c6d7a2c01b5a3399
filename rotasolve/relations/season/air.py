"""The air under one cover at one site, day by day: how warm it is for a crop, and how much light comes in.

A cover's gain counts only as far as a crop likes it: in hot weather lids and doors stand open, so that the air inside
is never warmer than the top of the crop's best range, unless the open air is.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from itertools import accumulate
from typing import TYPE_CHECKING

from rotasolve.relations.season.degree_days import degree_days_of_day
from rotasolve.relations.season.estimated_climate import climate_of
from rotasolve.relations.season.radiation import daily_light
from rotasolve.relations.season.site_climate import afternoons, nights

if TYPE_CHECKING:
    from rotasolve.domain.catalogue import Cover
    from rotasolve.domain.climate import Climate
    from rotasolve.domain.crop import Crop
    from rotasolve.domain.growth import DegreeDayMethod
    from rotasolve.domain.site import Site

YEARS = 3
"""Years that the sums run over: no crop stands longer than from one year's autumn to the year after next."""

Sums = tuple[float, ...]
"""Values summed up before each day of three years, 1 January of the first at place 0."""


@dataclass(frozen=True)
class Warmth:
    """What a crop asks of the day's mean temperature, in degrees C, and how its degree days are counted.

    It grows from ``least`` on, at its best between ``best_from`` and ``best_to``, and no more from ``most`` on (the
    high end of its figure: its usual value is where quality suffers); at ``best`` its published days are taken.
    """

    base: float
    ceiling: float
    method: DegreeDayMethod
    least: float
    best_from: float
    best: float
    best_to: float
    most: float

    def response(self, mean: float) -> float:
        """Return the share, 0 to 1, of its best growth that a crop keeps at a day's mean temperature (a trapezoid)."""
        if mean <= self.least or mean >= self.most:
            return 0.0
        if mean < self.best_from:
            return (mean - self.least) / (self.best_from - self.least)
        return 1.0 if mean <= self.best_to else (self.most - mean) / (self.most - self.best_to)


@lru_cache(maxsize=1024)
def warmth_of(crop: Crop) -> Warmth | None:
    """Return what a crop asks of the air, None if one of its figures is missing.

    Where sources give a range for the base, its low end counts: most bases were fitted in warm places, and a high one
    has warm crops never ripen in cool summers in which they do (bush tomatoes set out at Wellesbourne, 52 degrees
    north, gave a full crop by late September in half to most years: Gray, Ward and Steckel, Journal of Agricultural
    Science).
    """
    counted, best, most = crop.degree_days, crop.growth_best, crop.growth_most
    if counted is None or best is None or most is None:
        return None
    least = counted.base if crop.growth_least is None else crop.growth_least
    return Warmth(
        base=counted.base.least,
        ceiling=math.inf if counted.ceiling is None else counted.ceiling.usual,
        method=counted.method,
        least=min(least.usual, best.least - 1),
        best_from=best.least,
        best=(best.least + best.usual) / 2,
        best_to=best.most,
        most=max(most.most, best.most + 1),
    )


@dataclass(frozen=True)
class Air:
    """The air for one kind of crop: sums of degree days, of growth (MJ/m2 of light that warmth lets it use), of both.

    ``warm_growth`` sums growth times the degree days gone before, so that growth under a canopy that closes with warmth
    is the difference of a few sums (``growth_while_closing``).
    """

    warmth: Sums
    growth: Sums
    warm_growth: Sums

    def growth_between(self, begin: int, end: int) -> float:
        """Return the growth from day ``begin`` to the day before ``end``, ground fully covered, in MJ/m2."""
        return self.growth[end] - self.growth[begin]

    def growth_while_closing(self, begin: int, end: int, full: float, first: float) -> float:
        """Return the growth while leaves close: ``first`` of the ground at once, all of it at ``full`` degree days."""
        plain = self.growth_between(begin, end)
        climbing = self.warm_growth[end] - self.warm_growth[begin] - self.warmth[begin] * plain
        return first * plain + (1 - first) * climbing / full


def air_of(site: Site, cover: Cover, warmth: Warmth) -> Air:
    """Return the air under a cover at a site for crops of such warmth."""
    return _air(climate_of(site), site.latitude, cover.night_gain_c, cover.day_gain_c, cover.light_share, warmth)


@lru_cache(maxsize=512)
def _air(
    climate: Climate, latitude: float, night_gain: float, day_gain: float, light_share: float, warmth: Warmth
) -> Air:
    degrees, growth = [], []
    gain = (night_gain + day_gain) / 2
    ends = zip(nights(climate).days, afternoons(climate).days, daily_light(climate, latitude), strict=True)
    for low, high, light in ends:
        mean = (low + high) / 2
        part = min(1.0, max(0.0, (warmth.best_to - mean) / gain)) if gain > 0 else 0.0
        inside_low, inside_high = low + part * night_gain, high + part * day_gain
        degrees.append(degree_days_of_day(inside_low, inside_high, warmth.base, warmth.ceiling, warmth.method))
        growth.append(light * light_share * warmth.response((inside_low + inside_high) / 2))
    summed = tuple(accumulate(degrees * YEARS, initial=0.0))
    grown = growth * YEARS
    return Air(
        warmth=summed,
        growth=tuple(accumulate(grown, initial=0.0)),
        warm_growth=tuple(accumulate((g * w for g, w in zip(grown, summed, strict=False)), initial=0.0)),
    )
