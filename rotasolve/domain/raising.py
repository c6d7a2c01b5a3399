"""How a crop is raised, set out and kept: pots, hardening off, advice with its source, and what it climbs."""

from __future__ import annotations

from typing import Literal, Self

from pydantic import Field, model_validator

from rotasolve.domain.figure import Figure, Sources
from rotasolve.domain.record import Record


class Advice(Record):
    """One thing to do or to know, in a few words, with the source that says so."""

    how: str = Field(min_length=1, max_length=200)
    source: Sources


class Support(Record):
    """What a climbing or tall crop is held by, and how it is counted: one for each plant, or metres along the row."""

    what: Literal["stake", "trellis"]
    for_each: Literal["plant", "m of row"]
    source: Sources


class Raising(Record):
    """How a crop is raised indoors before it is set out.

    ``first_pot`` and ``second_pot`` are the width of a cell or pot in cm; ``pot_on_after`` counts weeks from sowing to
    the second pot; ``hardening`` is how many weeks before setting out hardening off begins; in nights colder than
    ``least_night`` the plants come back inside.
    """

    first_pot: Figure
    pot_on_after: Figure | None = None
    second_pot: Figure | None = None
    hardening: Figure
    least_night: Figure | None = None

    @model_validator(mode="after")
    def _fits(self) -> Self:
        units = {"first_pot": "cm", "second_pot": "cm", "pot_on_after": "weeks", "hardening": "weeks"}
        for field, unit in units.items():
            figure: Figure | None = getattr(self, field)
            if figure is None:
                continue
            if figure.unit != unit:
                raise ValueError(f"{field} is counted in {unit}, not in {figure.unit}")
            if figure.least <= 0:
                raise ValueError(f"{field} must be more than 0 {unit}")
        if self.least_night is not None and self.least_night.unit != "degC":
            raise ValueError(f"least_night is counted in degC, not in {self.least_night.unit}")
        if (self.pot_on_after is None) != (self.second_pot is None):
            raise ValueError("give both pot_on_after and second_pot, or neither")
        return self
