"""What lies over a bed: how much longer, warmer and darker it is below."""

from __future__ import annotations

from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from rotasolve.domain.figure import Figure, Sources
from rotasolve.domain.record import Record
from rotasolve.errors import Unusable

CoverName = Literal["open ground", "cold frame", "fleece", "low tunnel", "tunnel"]
"""What lies over a bed."""


class Cover(Record):
    """A cover with the days it lengthens the season, by how much it warms nights and days, and the light it lets in.

    ``days_earlier`` in spring, ``days_later`` in autumn; ``night_gain`` is added to mean minima and ``day_gain`` to
    mean maxima in degrees C; ``light_through`` is the part of the light outside that reaches the crop, in %. What is
    not known counts as no gain and no loss. The gain by day is that of a cover kept shut or little open: in warm
    weather it is opened, so that whoever counts it stops at the warmth the crop likes best.
    """

    name: CoverName
    days_earlier: Annotated[int, Field(ge=0, le=90)]
    days_later: Annotated[int, Field(ge=0, le=90)]
    night_gain: Figure | None = None
    day_gain: Figure | None = None
    light_through: Figure | None = None
    source: Sources
    note: str = ""
    caution: str = ""

    @model_validator(mode="after")
    def _gains(self) -> Self:
        for gain in (self.night_gain, self.day_gain):
            if gain is not None and gain.unit != "degC":
                raise ValueError(f"a cover's gain is counted in degC, not in {gain.unit}")
            if gain is not None and gain.usual < 0:
                raise Unusable("a cover's usual gain cannot be negative", "leave it out if there is none")
        light = self.light_through
        if light is not None and (light.unit != "%" or not 0 < light.usual <= 100):
            raise ValueError("light_through is a share in %, above 0 and at most 100")
        return self

    @property
    def light_share(self) -> float:
        """The part of the light outside that reaches the crop, above 0 to 1."""
        return 1.0 if self.light_through is None else self.light_through.usual / 100

    @property
    def night_gain_c(self) -> float:
        """Degrees C by which the usual night is warmer under the cover."""
        return 0.0 if self.night_gain is None else self.night_gain.usual

    @property
    def mean_gain_c(self) -> float:
        """Degrees C by which the mean of the day is warmer under the cover."""
        return (self.night_gain_c + self.day_gain_c) / 2

    @property
    def day_gain_c(self) -> float:
        """Degrees C by which the usual day's highest temperature is warmer under the cover."""
        return 0.0 if self.day_gain is None else self.day_gain.usual
