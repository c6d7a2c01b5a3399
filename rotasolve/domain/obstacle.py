"""An obstacle: something on the site that is not planned but casts a shadow."""

from __future__ import annotations

from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from rotasolve.domain.crop import Name
from rotasolve.domain.measures import BedLengthCm, HeightCm, PositionCm, ThicknessCm
from rotasolve.domain.record import Record

Turn = Annotated[float, Field(ge=-45, le=45)]
"""Degrees clockwise by which something is turned about its middle: the bearing of the side that runs north."""

USUAL_THICKNESS_CM = {"wall": 25.0, "fence": 5.0, "hedge": 60.0}
"""Thickness in cm where none is given: common practice, no source."""


class Obstacle(Record):
    """A wall, fence, hedge, tree or shed.

    ``east`` and ``north`` place the south-west corner in cm, as for a bed; ``length`` is the long side, which runs
    ``north-south`` or ``east-west`` (``runs``), and ``bearing`` turns it about its middle. A tree has a ``diameter``
    instead, and its crown counts as a square box from ``clear_below`` up to ``height``. ``light_through`` is the
    share of the beam that comes through it, 0 for a wall.
    """

    name: Name
    kind: Literal["wall", "fence", "hedge", "tree", "shed"]
    east: PositionCm
    north: PositionCm
    length: BedLengthCm | None = None
    width: ThicknessCm | None = None
    diameter: BedLengthCm | None = None
    runs: Literal["north-south", "east-west"] = "east-west"
    bearing: Turn = 0
    height: HeightCm
    clear_below: HeightCm | None = None
    light_through: Annotated[float, Field(ge=0, lt=1)] = 0

    @model_validator(mode="after")
    def _has_its_measures(self) -> Self:
        if self.kind == "tree":
            if self.diameter is None or self.length is not None or self.width is not None:
                raise ValueError("a tree is measured by its diameter, not by length and width")
        elif self.length is None or self.diameter is not None:
            raise ValueError(f"a {self.kind} is measured by its length and width, not by a diameter")
        elif self.width is None and self.kind not in USUAL_THICKNESS_CM:
            raise ValueError(f"a {self.kind} needs a width")
        if self.clear_below is not None and self.clear_below >= self.height:
            raise ValueError("clear_below must lie below the height")
        return self

    @property
    def breadth_cm(self) -> float:
        """East-west extent in cm before it is turned."""
        return self._sides()[0 if self.runs == "east-west" else 1]

    @property
    def depth_cm(self) -> float:
        """North-south extent in cm before it is turned."""
        return self._sides()[1 if self.runs == "east-west" else 0]

    def _sides(self) -> tuple[float, float]:
        if self.diameter is not None:
            return self.diameter, self.diameter
        width = self.width if self.width is not None else USUAL_THICKNESS_CM.get(self.kind, 0.0)
        return self.length or 0.0, width
