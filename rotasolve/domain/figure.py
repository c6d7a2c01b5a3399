"""A figure: value or low/typical/high, with unit and source. A figure without a source does not load."""

from __future__ import annotations

from typing import Annotated, Literal, Self

from pydantic import BeforeValidator, Field, WithJsonSchema, model_validator

from rotasolve.domain.record import Record
from rotasolve.errors import Unusable

Unit = Literal[
    "cm",
    "kg per plant",
    "kg per m of row",
    "kg per m2",
    "kg per person",
    "kg per meal",
    "kg per litre",
    "days",
    "weeks",
    "weeks after last frost",
    "weeks before first frost",
    "weeks after first frost",
    "weeks after longest day",
    "hours per day",
    "degC",
    "years",
    "rows",
    "%",
    "seeds per g",
    "seeds per plant",
    "g per m2",
]


MOST: dict[Unit, float] = {
    "cm": 1000,
    "kg per plant": 100,
    "kg per m of row": 100,
    "kg per m2": 100,
    "kg per person": 1000,
    "kg per meal": 100,
    "kg per litre": 100,
    "days": 730,
    "weeks": 104,
    "weeks after last frost": 52,
    "weeks before first frost": 52,
    "weeks after first frost": 52,
    "weeks after longest day": 52,
    "hours per day": 24,
    "degC": 100,
    "years": 50,
    "rows": 100,
    "%": 1000,
    "seeds per g": 1_000_000,
    "seeds per plant": 1000,
    "g per m2": 10_000,
}
"""The most that a figure of a garden crop can be, above or below 0: a judgement, so wide that only a slip lies beyond.

Many a field asks for more of its own; this keeps what is counted from a figure within what dates and numbers hold.
"""


def _as_sources(value: object) -> object:
    if isinstance(value, str):
        return (value,)
    return tuple(value) if isinstance(value, list) else value


_SOURCES_SCHEMA = WithJsonSchema(
    {"anyOf": [{"type": "string"}, {"type": "array", "items": {"type": "string"}, "minItems": 1}]}
)
Sources = Annotated[tuple[str, ...], BeforeValidator(_as_sources), Field(min_length=1), _SOURCES_SCHEMA]
"""One or more keys of crops/sources.yaml; ``memory`` and ``common-practice`` are sources too."""


class Figure(Record):
    """A published figure.

    ``value`` stands alone, or ``low`` <= ``typical`` <= ``high`` stand together; ``unit`` is spelt out;
    ``source`` names one or more keys of crops/sources.yaml.
    """

    value: float | None = None
    low: float | None = None
    typical: float | None = None
    high: float | None = None
    unit: Unit
    source: Sources
    note: str = ""

    @model_validator(mode="after")
    def _can_be(self) -> Self:
        most = MOST[self.unit]
        for value in (self.value, self.low, self.typical, self.high):
            if value is not None and abs(value) > most:
                raise Unusable(
                    f"{value:g} {self.unit} is beyond what a crop can have, {most:g}", "check figure and unit"
                )
        return self

    @model_validator(mode="after")
    def _is_whole(self) -> Self:
        if self.value is not None:
            if (self.low, self.typical, self.high) != (None, None, None):
                raise ValueError("give either value, or low, typical and high, not both")
            return self
        if self.low is None or self.typical is None or self.high is None:
            raise ValueError("a figure needs value, or all of low, typical and high")
        if not self.low <= self.typical <= self.high:
            raise ValueError(f"low {self.low} <= typical {self.typical} <= high {self.high} does not hold")
        return self

    @property
    def least(self) -> float:
        """The low end, in ``unit``."""
        return self._end(self.low)

    @property
    def usual(self) -> float:
        """The typical value, in ``unit``."""
        return self._end(self.typical)

    @property
    def most(self) -> float:
        """The high end, in ``unit``."""
        return self._end(self.high)

    def _end(self, end: float | None) -> float:
        chosen = self.value if self.value is not None else end
        assert chosen is not None  # the validator has seen to it
        return chosen
