"""How a crop answers to warmth and water: degree days to ripeness, crop coefficients and stages of growth."""

from __future__ import annotations

from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from rotasolve.domain.figure import Figure, Sources
from rotasolve.domain.record import Record

DegreeDayMethod = Literal["mean of the day", "limits on both ends"]
"""How a day's degrees are counted.

``mean of the day``: mean of the day's lowest and highest temperature, less the base, never below 0. ``limits on both
ends``: lowest and highest are first raised to the base and cut at the ceiling. The two differ by up to 83 % (McMaster
and Wilhelm 1997, Agricultural and Forest Meteorology 87:291-300): a base without its method means nothing.
"""

Coefficient = Annotated[float, Field(gt=0, le=2)]
"""Water use of a crop per water use of the reference grass."""
StageDays = Annotated[int, Field(ge=1, le=400)]


class DegreeDays(Record):
    """The temperature in degrees C from which a crop grows, the ceiling above which more heat adds nothing."""

    base: Figure
    ceiling: Figure | None = None
    method: DegreeDayMethod

    @model_validator(mode="after")
    def _fits(self) -> Self:
        for figure in (self.base, self.ceiling):
            if figure is not None and figure.unit != "degC":
                raise ValueError(f"degree days are counted from temperatures in degC, not in {figure.unit}")
        if self.ceiling is not None and self.ceiling.usual <= self.base.usual:
            raise ValueError("the ceiling must lie above the base")
        if self.ceiling is not None and self.method == "mean of the day":
            raise ValueError("a ceiling goes with the method 'limits on both ends'")
        return self


class WaterUse(Record):
    """Crop coefficients (water use per that of the reference grass) and stages in days, as FAO-56 prints them.

    The coefficient is ``initial`` for ``initial_days``, rises through ``development_days`` to ``middle``, stays for
    ``middle_days`` and goes through ``late_days`` to ``end``. The stages are stretched to the time in the ground.
    """

    initial: Coefficient
    middle: Coefficient
    end: Coefficient
    initial_days: StageDays
    development_days: StageDays
    middle_days: StageDays
    late_days: StageDays
    source: Sources
    note: str = ""
