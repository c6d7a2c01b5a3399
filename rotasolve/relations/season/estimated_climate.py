"""The climate of any site: the one given, or an estimate from latitude and frost dates.

The mean night of the estimate is a yearly wave that is warmest in the middle of the frost-free season and passes the
level of frost dates (``frosts``) on the two dates given. Its swing is larger where the frost-free season is short and
the latitude low, and single nights spread more where the swing is large. Days lie above nights by a span that grows
with the sun above the atmosphere and shrinks towards the poles. The figures are fitted (least mean error, winter
months counted less) to 18 station records from England, Brussels, North America and Argentina
(``tests/data/station_normals.csv``), and meet two summers that gardeners know (``tests/relations/season``).

Measured on the same stations: root mean square error of a month 2.3 degrees C for nights and 3.3 for days (mean error
+0.1 and -0.8); of months with nights above 2 degrees C, 1.4 and 2.9. Each station estimated from the others: 2.4 and
3.3, 1.5 and 2.9. The worst months are January nights in Winnipeg, 10.9 too warm, and February days in Medford, Oregon,
9.9 too cold: winters are not to be trusted. In the growing season the worst are August nights in Toronto, 3.6 too cold,
and August days in Arlington, Oregon, 7.2 too cold: dry country has hotter days than its nights tell.
"""

from __future__ import annotations

import math
from datetime import date
from functools import lru_cache
from typing import TYPE_CHECKING

from rotasolve.domain.climate import Climate
from rotasolve.relations.season.daily_curves import DAYS, MONTH_DAYS, day_number
from rotasolve.relations.season.frosts import FIRST_FROST_SPREADS, LAST_FROST_SPREADS, frosts_of
from rotasolve.relations.season.radiation import radiation_above_air

if TYPE_CHECKING:
    from rotasolve.domain.site import Site

NIGHTS_ERROR_C, DAYS_ERROR_C = 1.4, 2.9
"""Root mean square errors of the months with nights above 2 degrees C."""

_TURN = 2 * math.pi / DAYS
_LEAST_SWING_C = 2.0
_SWING_C_PER_DEGREE = 0.35
"""Most degrees C of swing for each degree of latitude: near the equator there is hardly a summer. Our reading."""
_LEAST_SPAN_C = 3.5


def is_estimated(site: Site) -> bool:
    """Return whether the climate of a site is only an estimate."""
    return site.climate is None


def climate_of(site: Site) -> Climate:
    """Return the climate of a site: its own, else the estimate (see the module for its error)."""
    if site.climate is not None:
        return site.climate
    last, first = frosts_of(site)
    return _estimate(site.latitude, last.half, first.half)


@lru_cache(maxsize=64)
def _estimate(latitude: float, last: tuple[int, int], first: tuple[int, int]) -> Climate:
    begin, end = (day_number(date(2027, *day)) for day in (last, first))
    season = (end - begin) % DAYS
    swing = _swing(latitude, season)
    spread = 2.1 + 0.185 * swing
    half = _TURN * season / 2
    # M + A cos(w (t - t0)) passes both levels: t0 lies a little before the middle, as the autumn's is the lower.
    lean = (LAST_FROST_SPREADS - FIRST_FROST_SPREADS) * spread / 2 / (swing * max(math.sin(half), 0.05))
    early = math.asin(min(1.0, lean))
    level = (LAST_FROST_SPREADS + FIRST_FROST_SPREADS) / 2 * spread
    mean = level - swing * math.cos(half) * math.cos(early)
    warmest = begin + season / 2 - early / _TURN
    nights = [mean + swing * math.cos(_TURN * (number - warmest)) for number in range(1, DAYS + 1)]
    days = [night + _span(latitude, number) for number, night in enumerate(nights, start=1)]
    return Climate(
        mean_minima_c=_month_means(nights), mean_maxima_c=_month_means(days), night_spread_c=round(spread, 2)
    )


def _swing(latitude: float, season: int) -> float:
    """Return how far the mean night rises above its yearly mean, in degrees C, for a frost-free season in days."""
    fitted = 30.8 - 0.048 * season - 0.271 * abs(latitude)
    return max(_LEAST_SWING_C, min(fitted, _SWING_C_PER_DEGREE * abs(latitude)))


def _span(latitude: float, number: int) -> float:
    """Return how far the mean day's maximum lies above its minimum on a day of the year, in degrees C.

    The stations lie between 31 and 55 degrees; beyond 30 and 60 the latitude counts no further.
    """
    away = min(60.0, max(30.0, abs(latitude))) - 45
    return max(_LEAST_SPAN_C, 6.6 + 0.142 * radiation_above_air(latitude, number) - 0.345 * away)


def _month_means(values: list[float]) -> tuple[float, ...]:
    means, first = [], 0
    for days in MONTH_DAYS:
        means.append(round(sum(values[first : first + days]) / days, 2))
        first += days
    return tuple(means)
