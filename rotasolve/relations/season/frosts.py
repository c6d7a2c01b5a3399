"""The frost dates of a site, and the chance of frost by date: from the dates given, or from its mean nights.

Where only monthly means are given, the last frost of one year in two is the day the mean night rises through 1.3
standard deviations of single nights, the first the day it falls through 1.2. In five station records of 30 to 37 years
(Brussels; Cambridge, Norfolk and North Yorkshire in England; Champion, Nebraska) the mean night on the mean date of
the last frost was 3.6 to 4.5 degrees C in Europe and 5.3 in Nebraska, 1.24 to 1.36 standard deviations; in autumn 4.0
to 5.3 degrees C, 1.0 to 1.4. Multiplying the chances of single nights puts the last frost 3 to 9 days late, because
cold nights come together.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from functools import lru_cache
from statistics import NormalDist
from typing import TYPE_CHECKING

from rotasolve.domain.seasons import garden_year, year_start
from rotasolve.domain.site import DEFAULT_SPREAD_DAYS, Frost
from rotasolve.errors import GardenFault
from rotasolve.relations.season.daily_curves import DAYS, curve_through

if TYPE_CHECKING:
    from rotasolve.domain.catalogue import Cover
    from rotasolve.domain.climate import Climate
    from rotasolve.domain.crop import Crop
    from rotasolve.domain.figure import Figure
    from rotasolve.domain.site import Site

RISK_SHARE = {"cautious": 0.10, "usual": 0.50, "early": 0.90}
"""Chance that frost still oversteps the date that tender crops are held to."""

LAST_FROST_SPREADS, FIRST_FROST_SPREADS = 1.3, 1.2
"""Standard deviations of single nights by which the mean night lies above 0 degrees C on the frost dates."""

_YEAR = 2001
_SOUTHERN_END = 180
"""30 June, counted from 1 January as 0: the last day of a southern garden year."""


def frosts_of(site: Site) -> tuple[Frost, Frost]:
    """Return the last and the first frost of a site: those given, else those of its mean nights.

    Raises
    ------
    GardenFault
        If one is not given and the mean nights never pass through the level of frost dates.
    """
    if site.last_frost is not None and site.first_frost is not None:
        return site.last_frost, site.first_frost
    assert site.climate is not None  # the record has seen to it
    last, first = _frosts_from_nights(site.climate, site.south)
    return site.last_frost or last, site.first_frost or first


@lru_cache(maxsize=64)
def _frosts_from_nights(climate: Climate, south: bool) -> tuple[Frost, Frost]:
    nights = curve_through(climate.mean_minima_c).days
    coldest, warmest = nights.index(min(nights)), nights.index(max(nights))
    spring = [(coldest + step) % DAYS for step in range((warmest - coldest) % DAYS + 1)]
    autumn = [(warmest + step) % DAYS for step in range((coldest - warmest) % DAYS + 1)]
    cold = [number for number in spring if nights[number] < LAST_FROST_SPREADS * climate.night_spread]
    cold_again = [number for number in autumn if nights[number] < FIRST_FROST_SPREADS * climate.night_spread]
    if not cold or not cold_again or len(cold) == len(spring):
        often = "hardly ever freeze" if not cold or not cold_again else "freeze all year"
        raise GardenFault(
            f"no frost dates can be worked out from the climate: nights {often} here (mean nights from "
            f"{min(nights):.1f} to {max(nights):.1f} degC)",
            "give last_frost and first_frost",
        )
    # A first frost after the garden year's end counts as on its last day: dates belong to one garden year.
    end = _SOUTHERN_END if south else DAYS - 1
    before = autumn[: autumn.index(cold_again[0]) + 1]
    return _frost_on(cold[-1]), _frost_on(end if end in before else cold_again[0])


def _frost_on(number: int) -> Frost:
    day = date(_YEAR, 1, 1) + timedelta(days=number)
    return Frost(half=(day.month, day.day))


def frost_day(frost: Frost, share: float, spring: bool) -> timedelta:
    """Return how far the frost date of probability ``share`` lies from the half-way date.

    ``share`` is the chance that frost still comes after the day (spring) or has come before it (autumn). With the
    safe date known, the spread is (safe - half) / 1.2816 on a normal curve; with the daring date known too, that
    side uses it directly. The normal curve reproduces the published Delaware table within a day.
    """
    sign = 1 if spring else -1
    steps = NormalDist().inv_cdf(1 - share)
    return timedelta(days=round(sign * steps * _spread_days(frost, daring_side=share > 0.5)))


def _spread_days(frost: Frost, daring_side: bool) -> float:
    known = frost.daring if daring_side and frost.daring is not None else frost.safe
    if known is not None:
        # A record made in Python may put both dates on one day: half a day then, so that chances are still defined.
        return max(0.5, _days_between(known, frost.half) / NormalDist().inv_cdf(0.9))
    return frost.spread_days or DEFAULT_SPREAD_DAYS


def _days_between(one: tuple[int, int], other: tuple[int, int]) -> int:
    """Return the days between two days of the year the short way round, over 1 January if need be."""
    days = abs((date(_YEAR, *one) - date(_YEAR, *other)).days)
    return min(days, DAYS - days)


def frost_dates(site: Site, year: int, share: float = 0.5) -> tuple[date, date]:
    """Return the last and the first frost of a garden year, at chance ``share`` of being overstepped."""
    begin = year_start(year, site.south)
    dates = []
    for frost, spring in zip(frosts_of(site), (True, False), strict=True):
        half = date(year, *frost.half)
        if half < begin:
            half = date(year + 1, *frost.half)
        dates.append(half + frost_day(frost, share, spring))
    return dates[0], dates[1]


def frost_share(crop: Crop, site: Site, cover: Cover) -> float:
    """Return the chance of being overstepped of the frost dates a crop is held to.

    Hardy crops count from the half-way frost dates, as bulletins do; very tender ones in the open wait for the safe
    date unless the grower dares (``risk: early``); all others count from the dates of the site's risk.
    """
    if crop.hardiness.level == "hardy":
        return 0.5
    share = RISK_SHARE[site.risk]
    waits = crop.hardiness.level == "very tender" and cover.name == "open ground" and site.risk == "usual"
    return RISK_SHARE["cautious"] if waits else share


@dataclass(frozen=True)
class Turns:
    """The days of a garden year that starts are counted from; ``share`` is the chance of the two frost dates."""

    last_frost: date
    first_frost: date
    longest_day: date
    share: float

    def day(self, figure: Figure, weeks: float) -> date:
        """Return the day so many weeks from the one that a figure is counted from."""
        days = timedelta(days=round(weeks * 7))
        return self.origin(figure) + (-days if figure.unit == "weeks before first frost" else days)

    def origin(self, figure: Figure) -> date:
        """Return the day that a figure is counted from."""
        if figure.unit == "weeks after longest day":
            return self.longest_day
        return self.last_frost if figure.unit == "weeks after last frost" else self.first_frost


def turns_of(crop: Crop, site: Site, cover: Cover, year: int) -> Turns:
    """Return the days of a garden year that the starts of a crop under a cover are counted from."""
    share = frost_share(crop, site, cover)
    return Turns(*frost_dates(site, year, share), date(year, 12 if site.south else 6, 21), share)


def chance_of_frost_beyond(site: Site, day: date) -> tuple[float, float]:
    """Return the chance, 0 to 1, that frost still comes after a day in spring, and that it has come by it in autumn.

    P(last frost after day t) = 1 - Phi((t - mu) / sigma), spring and autumn taken as independent. NOAA's reading of
    the probabilities: 10 % in spring is the late date.
    """
    dates = frost_dates(site, garden_year(day, site.south))
    last, first = frosts_of(site)
    after = (day - dates[0]).days
    before = (day - dates[1]).days
    still = 1 - NormalDist().cdf(after / _spread_days(last, daring_side=after < 0))
    # Autumn's daring side is the late one.
    already = NormalDist().cdf(before / _spread_days(first, daring_side=before > 0))
    return still, already


def chance_of_frosty_night(climate: Climate, day: date, warmer_by: float = 0.0) -> float:
    """Return the share of nights, 0 to 1, that freeze on a date; ``warmer_by`` degrees C under a cover."""
    mean = curve_through(climate.mean_minima_c).on(day) + warmer_by
    return NormalDist().cdf(-mean / climate.night_spread)
