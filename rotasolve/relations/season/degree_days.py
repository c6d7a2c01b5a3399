"""Growing-degree days, and days to ripeness stretched or shortened by them."""

from __future__ import annotations

import math
from bisect import bisect_left
from functools import lru_cache
from itertools import accumulate
from typing import TYPE_CHECKING

from rotasolve.relations.season.daily_curves import DAYS, day_number
from rotasolve.relations.season.site_climate import afternoons, nights

if TYPE_CHECKING:
    from datetime import date

    from rotasolve.domain.catalogue import Cover
    from rotasolve.domain.climate import Climate
    from rotasolve.domain.crop import Crop, Start
    from rotasolve.domain.growth import DegreeDayMethod
    from rotasolve.domain.site import Site


def degree_days_of_day(
    lowest: float, highest: float, base: float, ceiling: float = math.inf, method: DegreeDayMethod = "mean of the day"
) -> float:
    """Return one day's degree days from its lowest and highest temperature.

    ``mean of the day``: max(0, (highest + lowest) / 2 - base) (Iowa State University Agron 541; method 1 of McMaster
    and Wilhelm 1997, Agricultural and Forest Meteorology 87:291-300). ``limits on both ends``: lowest and highest are
    raised to the base and cut at the ceiling first (their method 2; the 86/50 rule for maize in degrees F). Any unit
    of temperature, the same throughout.
    """
    if method == "limits on both ends":
        lowest, highest = (min(ceiling, max(base, end)) for end in (lowest, highest))
    return max(0.0, (lowest + highest) / 2 - base)


def days_until_ripe(crop: Crop, start: Start, day: date, cover: Cover, site: Site) -> int:
    """Return the days from starting a crop on ``day`` to its first picking.

    With a climate and a published base temperature, the crop needs as many degree days as its usual days bring at the
    middle of its best growing temperatures, and the days found stay within the published range of days: our reading,
    because bulletins do not say at which temperatures they counted. Else the usual days.
    """
    figure = start.days_to_harvest
    if site.climate is None or crop.degree_days is None or crop.growth_best is None or figure.least == figure.most:
        return round(figure.usual)
    base = crop.degree_days.base.usual
    ceiling = math.inf if crop.degree_days.ceiling is None else crop.degree_days.ceiling.usual
    needed = figure.usual * (min(ceiling, crop.growth_best.usual) - base)
    sums = _sums(site.climate, cover.night_gain_c, cover.day_gain_c, base, ceiling, crop.degree_days.method)
    first = day_number(day) - 1
    found = bisect_left(sums, sums[first] + needed) - first
    return max(round(figure.least), min(round(figure.most), found))


@lru_cache(maxsize=256)
def _sums(
    climate: Climate, night_gain: float, day_gain: float, base: float, ceiling: float, method: DegreeDayMethod
) -> tuple[float, ...]:
    """Return the degree days summed up before each day of three years, 1 January of the first at place 0."""
    ends = zip(nights(climate).days, afternoons(climate).days, strict=True)
    year = [degree_days_of_day(low + night_gain, high + day_gain, base, ceiling, method) for low, high in ends]
    assert len(year) == DAYS
    return tuple(accumulate(year * 3, initial=0.0))
