"""The climate of a site: twelve monthly means of night and day temperature, and rain if it is known."""

from __future__ import annotations

from typing import Annotated, ClassVar, Self

from pydantic import Field, model_validator

from rotasolve.domain.record import Record
from rotasolve.domain.seasons import MONTHS
from rotasolve.errors import Unusable

Degrees = Annotated[float, Field(ge=-60, le=60)]
"""A temperature in degrees C."""
Millimetres = Annotated[float, Field(ge=0, le=5000)]
"""Rain in mm: 1 mm on 1 m2 is 1 litre."""
Hours = Annotated[float, Field(ge=0, le=24)]
"""Hours of a day."""

DEFAULT_NIGHT_SPREAD_C = 3.2
"""Standard deviation of single nights about the mean night of the date, in degrees C, when none is given. Station
records of 30 to 37 years had 2 to 3.5 in mild summers and springs and 4 to 6 inland; 3.2 gives the monthly shares of
frosty nights of one of them (Cambridge, England) within 0.05."""


class Climate(Record):
    """Monthly means, January first.

    ``mean_minima_c`` and ``mean_maxima_c`` are the means of the daily lowest and highest air temperature in degrees C;
    ``rain_mm`` is the mean rain of each month in mm; ``night_spread_c`` is the standard deviation of single nights
    about the mean night in degrees C; ``soil_offset_c`` is how much warmer (colder: negative) your soil at 10 cm is
    than the estimate from the air, in degrees C; ``sunshine_hours`` is the mean bright sunshine of a day in hours.
    """

    later: ClassVar = frozenset({"sunshine_hours"})

    mean_minima_c: Annotated[tuple[Degrees, ...], Field(min_length=12, max_length=12)]
    mean_maxima_c: Annotated[tuple[Degrees, ...], Field(min_length=12, max_length=12)]
    rain_mm: Annotated[tuple[Millimetres, ...], Field(min_length=12, max_length=12)] | None = None
    night_spread_c: Annotated[float, Field(ge=0.5, le=10)] | None = None
    soil_offset_c: Annotated[float, Field(ge=-10, le=10)] = 0.0
    sunshine_hours: Annotated[tuple[Hours, ...], Field(min_length=12, max_length=12)] | None = None

    @model_validator(mode="after")
    def _nights_below_days(self) -> Self:
        for month, low, high in zip(MONTHS, self.mean_minima_c, self.mean_maxima_c, strict=True):
            if low >= high:
                raise Unusable(
                    f"the mean minimum of {month}, {low:g} degC, is not below its mean maximum, {high:g} degC",
                    "check both lists, January first",
                )
        return self

    @property
    def night_spread(self) -> float:
        """Standard deviation of single nights in degrees C, given or assumed."""
        return DEFAULT_NIGHT_SPREAD_C if self.night_spread_c is None else self.night_spread_c
