"""Growing-degree days of one day, by the published ways of counting them."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from rotasolve.domain.growth import DegreeDayMethod


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
