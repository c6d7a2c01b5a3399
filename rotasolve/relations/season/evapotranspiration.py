"""Reference evapotranspiration of short grass from latitude, date, and the day's lowest and highest temperature.

Allen, Pereira, Raes and Smith 1998, Crop evapotranspiration, FAO Irrigation and Drainage Paper 56, equation 52.
From monthly means the sum of April to September was 0.96, 0.97 and 1.17 times that of three stations
(Cambridge, Champion in Nebraska, Brussels): good to about a fifth.
"""

from __future__ import annotations

import math

from rotasolve.relations.season.radiation import radiation_above_air

_MM_PER_MEGAJOULE = 0.408
"""Water that a megajoule per m2 evaporates, in mm."""


def reference_mm(latitude: float, number: int, lowest: float, highest: float) -> float:
    """Return the reference evapotranspiration in mm a day by Hargreaves (equation 52), never below 0.

    ``lowest`` and ``highest`` are the day's temperatures in degrees C.
    """
    warmth = max(0.0, (lowest + highest) / 2 + 17.8) * math.sqrt(max(0.0, highest - lowest))
    return 0.0023 * warmth * _MM_PER_MEGAJOULE * radiation_above_air(latitude, number)
