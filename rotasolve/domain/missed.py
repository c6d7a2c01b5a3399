"""Why a wish is not met in full: what stands against more of a crop beside a plan, told without any search."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from rotasolve.domain.crop import Name
from rotasolve.domain.record import Record
from rotasolve.domain.shortfall import Hopeless

NEARLY_ALL = 0.95
"""From this share on a wish counts as met at first sight: no harvest is known any better."""
ROOM_LEFT = "room left"
"""Not a rule: more of the crop has a place. It brings less than it costs, or has not been found."""


class Missed(Record):
    """A wished crop of which a plan gives too little in ``year``, the year that misses most.

    ``why`` is ``ROOM_LEFT``, or the key of the rule that stands against it in ``beds`` of the beds looked into, the
    most of all; "" if the crop is ``hopeless``.
    """

    crop: Name
    year: int
    why: str = ""
    beds: Annotated[int, Field(ge=0)] = 0
    hopeless: Hopeless | None = None
