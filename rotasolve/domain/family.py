"""What is known between crops: families, diseases and their hosts, what follows what, and neighbours."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from rotasolve.domain.crop import Name
from rotasolve.domain.figure import Sources
from rotasolve.domain.record import Record

Years = Annotated[int, Field(ge=0, le=50)]
"""Complete years without a host between two plantings."""


class Family(Record):
    """A botanical family with the rest it is given where no disease is known.

    ``gap_hard`` and ``gap_wished`` are complete years without a member; ``rest`` False (no shared
    soil-borne trouble worth a rule) leaves the family out of the rotation.
    """

    name: Name
    common_name: Name
    rest: bool = True
    gap_hard: Years = 2
    gap_wished: Years = 3
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
    """A remark on what follows what in the same ground: crop names or ``family:NAME`` on both sides."""

    before: Name
    after: Name
    effect: Literal["good", "bad", "avoid", "mixed"]
    strength: Evidence
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
