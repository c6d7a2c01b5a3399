"""A bed: its size, where it lies, how it is cut into strips and what is known of its soil."""

from __future__ import annotations

from typing import Annotated, ClassVar, Literal

from pydantic import Field

from rotasolve.domain.catalogue import CoverName
from rotasolve.domain.crop import Name
from rotasolve.domain.measures import BedLengthCm, PositionCm, StripDepthCm
from rotasolve.domain.obstacle import Turn
from rotasolve.domain.record import Record


class Bed(Record):
    """A rectangular bed.

    ``length`` is the long side, which runs ``north-south`` or ``east-west`` (``runs``); strips are cut across the
    north-south depth, strip 1 at the pole side. ``east`` and ``north`` place the south-west corner in cm; without
    them shade between beds is not judged. ``bearing`` turns the bed clockwise about its middle, in degrees: the sun
    is worked out so, while strips stay numbered from the pole side. ``sun_hours`` are the hours of direct sun a day
    that the bed gets on clear days in midsummer (June; December in the south), where the grower has counted them:
    they go before what is worked out, and crops are judged by them from spring to autumn.
    ``diseases`` name pathogens known in its soil. From the garden year ``history_since`` on, the history names
    everything that grew in the bed: a year in which nothing is named was then free of hosts. Without it, such a year
    is not known, which keeps the hosts of a known disease away.
    """

    later: ClassVar = frozenset({"bearing", "sun_hours", "history_since"})

    name: Name
    length: BedLengthCm
    width: BedLengthCm
    runs: Literal["north-south", "east-west"] = "north-south"
    strip: StripDepthCm | None = None
    parts: Annotated[int, Field(ge=1, le=20)] | None = None
    cover: CoverName = "open ground"
    east: PositionCm | None = None
    north: PositionCm | None = None
    bearing: Turn = 0
    sun_hours: Annotated[float, Field(ge=0, le=24)] | None = None
    diseases: tuple[Name, ...] = ()
    history_since: Annotated[int, Field(ge=1950, le=2200)] | None = None

    @property
    def is_placed(self) -> bool:
        """Whether it is known where the bed lies."""
        return self.east is not None and self.north is not None

    @property
    def has_known_sun(self) -> bool:
        """Whether anything is known of the bed's sun: its place, or hours the grower has counted."""
        return self.is_placed or self.sun_hours is not None

    @property
    def depth_cm(self) -> float:
        """North-south extent in cm."""
        return self.length if self.runs == "north-south" else self.width

    @property
    def breadth_cm(self) -> float:
        """East-west extent in cm."""
        return self.width if self.runs == "north-south" else self.length
