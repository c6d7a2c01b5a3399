"""A climate for which yields and days to harvest were published."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from rotasolve.domain.climate import Climate
from rotasolve.domain.figure import Sources
from rotasolve.domain.record import Record


class ReferenceClimate(Record):
    """The monthly means of a place whose bulletins the figures of crops come from; latitude in degrees."""

    name: Annotated[str, Field(min_length=1, max_length=60)]
    latitude: Annotated[float, Field(ge=-66, le=66)]
    climate: Climate
    source: Sources
    note: str = ""
