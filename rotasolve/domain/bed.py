"""A bed: its size, where it lies, how it is cut into strips and what is known of its soil."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from rotasolve.domain.catalogue import CoverName
from rotasolve.domain.crop import Name
from rotasolve.domain.measures import BedLengthCm, PositionCm, StripDepthCm
from rotasolve.domain.record import Record


class Bed(Record):
    """A rectangular bed.

    ``length`` is the long side, which runs ``north-south`` or ``east-west`` (``runs``); strips are cut across the
    north-south depth, strip 1 at the pole side. ``east`` and ``north`` place the south-west corner in cm; without
    them shade between beds is not judged. ``diseases`` name pathogens known in its soil.
    """

    name: Name
    length: BedLengthCm
    width: BedLengthCm
    runs: Literal["north-south", "east-west"] = "north-south"
    strip: StripDepthCm | None = None
    parts: Annotated[int, Field(ge=1, le=20)] | None = None
    cover: CoverName = "open ground"
    east: PositionCm | None = None
    north: PositionCm | None = None
    diseases: tuple[Name, ...] = ()

    @property
    def depth_cm(self) -> float:
        """North-south extent in cm."""
        return self.length if self.runs == "north-south" else self.width

    @property
    def breadth_cm(self) -> float:
        """East-west extent in cm."""
        return self.width if self.runs == "north-south" else self.length
