"""Sun on the ground: what a strip gets in a month, and what takes the rest."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from rotasolve.domain.crop import Name
from rotasolve.domain.record import Record

Hours = Annotated[float, Field(ge=0, le=24)]
Share = Annotated[float, Field(ge=0, le=1)]
MonthNumber = Annotated[int, Field(ge=1, le=12)]


class Caster(Record):
    """What takes sun from a strip: hours a day and share of the beam it would take if it stood alone.

    ``from_hour`` and ``to_hour`` are solar time (12 = sun at its highest) of its first and last shadow on the strip.
    """

    name: str
    hours: Hours
    share: Share
    from_hour: Hours
    to_hour: Hours


class StripSun(Record):
    """Direct sun on a strip in a month of clear days.

    ``hours`` a day of direct sun, averaged over the strip; ``open_hours`` a day on open ground; ``share`` of the
    clear-sky beam energy on open ground that reaches it. ``typed`` marks hours that the grower gave, from which the
    share is only estimated. ``casters`` stand with the darkest first; together they may take less than their sum.
    """

    bed: Name
    strip: Annotated[int, Field(ge=1)]
    month: MonthNumber
    hours: Hours
    open_hours: Hours
    share: Share
    typed: bool = False
    casters: tuple[Caster, ...] = ()


class PlaceSun(Record):
    """The least direct sun of a place, in hours a day on clear days, and the month in which it has it."""

    hours: Hours
    month: MonthNumber


class Spot(Record):
    """A spot for a new bed or frame: its middle in cm, how it is turned, and the beam it would get.

    ``share`` is the beam on it in the months wished against that on level open ground, so that a pane tilted to the
    sun may get more than 1; ``darker_side`` is the beam share of the darker side of a row along its middle.
    """

    east: float
    north: float
    bearing: float
    share: Annotated[float, Field(ge=0)]
    hours: Hours
    darker_side: Annotated[float, Field(ge=0)] | None = None


class LowSun(Record):
    """A crop in a bed that gets fewer ``hours`` of sun a day there, in its darkest month, than it usually wants."""

    crop: Name
    bed: Name
    hours: Hours
    wanted: Hours
