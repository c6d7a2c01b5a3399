"""The site: where it lies and when it freezes."""

from __future__ import annotations

from typing import Annotated, ClassVar, Literal, Self

from pydantic import Field, ValidationInfo, field_validator, model_validator

from rotasolve.domain.climate import Climate
from rotasolve.domain.record import Record
from rotasolve.domain.seasons import DayOfYear
from rotasolve.errors import Missing

DEFAULT_SPREAD_DAYS = 14.0
"""Standard deviation of a frost date when only one date is known. Five station records of 30 to 37 years gave
12 to 18 days in spring and 10 to 16 in autumn; 14 is the middle of both, and the views say that it was assumed."""

Risk = Literal["cautious", "usual", "early"]
"""Which frost date tender crops are held to: the safe one (1 year in 10 is worse), the middle one (1 in 2),
or the daring one (9 in 10)."""


class Frost(Record):
    """A yearly frost date with its spread.

    ``half`` is the date that half the years pass (50 %); ``safe`` is the date that only 1 year in 10 oversteps to the
    grower's harm (spring: a later frost; autumn: an earlier one); ``spread_days`` is the standard deviation in days
    when ``safe`` is not known. NOAA's reading of the probabilities: spring 10 % is the late date.
    """

    half: DayOfYear
    safe: DayOfYear | None = None
    daring: DayOfYear | None = None
    spread_days: Annotated[float, Field(ge=1, le=60)] | None = None

    @model_validator(mode="after")
    def _one_spread(self) -> Self:
        if self.safe is not None and self.spread_days is not None:
            raise ValueError("give either safe or spread_days, not both: each fixes the other")
        return self


class Site(Record):
    """Latitude in degrees (south negative), the last and first frost, the climate, and the wished caution about frost.

    With a ``climate`` the frost dates may be left out: they are then worked out from its mean nights
    (``relations.frosts``).
    """

    later: ClassVar = frozenset({"climate"})

    name: Annotated[str, Field(max_length=80)] = ""
    latitude: Annotated[float, Field(ge=-66, le=66, description="degrees, south negative")]
    climate: Climate | None = None
    last_frost: Annotated[Frost | None, Field(validate_default=True)] = None
    first_frost: Annotated[Frost | None, Field(validate_default=True)] = None
    risk: Risk = "usual"

    @field_validator("last_frost", "first_frost", mode="after")
    @classmethod
    def _given_or_from_climate(cls, frost: Frost | None, info: ValidationInfo) -> Frost | None:
        # A climate with faults is not in the data: its own faults are told, this one might not be one.
        if frost is None and "climate" in info.data and info.data["climate"] is None:
            raise Missing
        return frost

    @property
    def south(self) -> bool:
        """Whether the pole side is the south side."""
        return self.latitude < 0
