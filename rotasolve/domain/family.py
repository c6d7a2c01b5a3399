"""What is known between crops: families, diseases and their hosts, what follows what, and neighbours."""

from __future__ import annotations

from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from rotasolve.domain.crop import Name
from rotasolve.domain.figure import Sources
from rotasolve.domain.record import Record

Years = Annotated[int, Field(ge=0, le=50)]
"""Complete years without a host between two plantings."""


class HostYears(Record):
    """A crop, or ``family:NAME``, grown on the same ground in ``most`` of any ``of_years`` garden years at most."""

    hosts: Name
    most: Annotated[int, Field(ge=1, le=20)]
    of_years: Annotated[int, Field(ge=2, le=40)]

    @model_validator(mode="after")
    def _fewer(self) -> Self:
        if self.most >= self.of_years:
            raise ValueError("most must be less than of_years, or it asks nothing")
        return self


class PublishedHostYears(HostYears):
    """How often a source lets a crop or family return."""

    source: Sources
    note: str = ""


class Family(Record):
    """A botanical family with the rest it is given where no disease is known.

    ``gap_hard`` and ``gap_wished`` are complete years without a member; ``rest`` False (no shared
    soil-borne trouble worth a rule) leaves the family out of the rotation. ``host_years`` says how often sources let
    the family, or a crop of it, return: asked only if the grower wants it.
    """

    name: Name
    common_name: Name
    rest: bool = True
    gap_hard: Years = 2
    gap_wished: Years = 3
    host_years: tuple[PublishedHostYears, ...] = ()
    source: Sources
    note: str = ""


class Pathogen(Record):
    """A soil-borne disease or pest, its hosts, and the gap one source asks for once it is known in a bed.

    ``hosts`` are crop names or ``family:NAME``. ``gap_low`` is hard in an infected bed, ``gap_high`` where no source
    has a lower; ``closes`` True closes the bed to hosts altogether. ``rotation_helps`` False marks what no rotation
    keeps down.
    """

    name: Name
    hosts: Annotated[tuple[Name, ...], Field(min_length=1)]
    gap_low: Years | None = None
    gap_high: Years | None = None
    closes: bool = False
    rotation_helps: bool = True
    source: Sources
    note: str = ""


Evidence = Literal["strong", "some", "contradictory", "tradition"]


class Succession(Record):
    """A remark on what follows what in the same ground: crop names or ``family:NAME`` on both sides.

    ``only_where`` names the diseases of which one must be known in a bed for the remark to hold there.
    """

    before: Name
    after: Name
    effect: Literal["good", "bad", "avoid", "mixed"]
    strength: Evidence
    only_where: tuple[Name, ...] = ()
    source: Sources
    note: str = ""


class Neighbours(Record):
    """A remark on two crops side by side: crop names or ``family:NAME`` on both sides."""

    one: Name
    other: Name
    effect: Literal["good", "bad", "mixed", "none"]
    evidence: Evidence
    source: Sources
    note: str = ""
