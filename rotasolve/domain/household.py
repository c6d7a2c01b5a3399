"""What the household wants: targets, things it must have, and what it does not eat."""

from __future__ import annotations

from typing import Annotated, Self

from pydantic import Field, model_validator

from rotasolve.domain.crop import Name
from rotasolve.domain.record import Record
from rotasolve.domain.seasons import Month


class Target(Record):
    """A wished harvest of one crop each year.

    ``kg`` is the typical harvest wished per year in kilograms. ``fresh_from`` and ``fresh_to`` name the months in
    which it should come fresh from the bed (both ends included; may pass New Year). ``weight`` says how much it
    matters beside other targets, 1 (nice) to 5 (first of all).
    """

    crop: Name
    kg: Annotated[float, Field(gt=0, le=10_000)]
    fresh_from: Month | None = None
    fresh_to: Month | None = None
    weight: Annotated[int, Field(ge=1, le=5)] = 2

    @model_validator(mode="after")
    def _both_months(self) -> Self:
        if (self.fresh_from is None) != (self.fresh_to is None):
            raise ValueError("give both fresh_from and fresh_to, or neither")
        return self

    @property
    def fresh_months(self) -> tuple[int, ...]:
        """The months in which a fresh harvest is wished, in order, possibly over New Year."""
        if self.fresh_from is None or self.fresh_to is None:
            return ()
        count = (self.fresh_to - self.fresh_from) % 12 + 1
        return tuple((self.fresh_from - 1 + step) % 12 + 1 for step in range(count))


class MustHave(Record):
    """At least ``plants`` plants of a crop in a year (every year if none is named), in one bed if one is named."""

    crop: Name
    plants: Annotated[int, Field(ge=1, le=100_000)]
    year: Annotated[int, Field(ge=1950, le=2200)] | None = None
    bed: Name | None = None


class Household(Record):
    """The people and their wishes."""

    people: Annotated[int, Field(ge=1, le=200)] | None = None
    targets: Annotated[tuple[Target, ...], Field(max_length=200)] = ()
    must_have: Annotated[tuple[MustHave, ...], Field(max_length=200)] = ()
