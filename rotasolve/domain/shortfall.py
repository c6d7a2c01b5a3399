"""A target out of reach: how far, and what holds it back most."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from rotasolve.domain.crop import Name
from rotasolve.domain.record import Record

GainKind = Literal[
    "more in the same beds", "one more bed", "one more metre", "a cover", "one year less rest", "no order of heights"
]


class Gain(Record):
    """What one change of the garden or of its rules would add to a crop's harvest in a garden year, in kg.

    All else of the plan stays where it is; ``what`` says the change in words, with its size.
    """

    kind: GainKind
    what: str
    kg: Annotated[float, Field(ge=0)]


class Shortfall(Record):
    """A yearly target that a plan does not reach, in kg of a typical year, or of a poor one if targets count that.

    ``gains`` are sorted, the largest first; each is capped at what is missing. ``held_by`` says in a sentence what
    holds the target back most.
    """

    crop: Name
    year: int
    wanted_kg: float
    got_kg: float
    gains: tuple[Gain, ...]
    held_by: str

    @property
    def missing_kg(self) -> float:
        """What is missing in kg."""
        return round(self.wanted_kg - self.got_kg, 3)
