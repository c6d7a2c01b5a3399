"""A claim: one rule applied to named things. The same claim is posted, broken and spoken."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from rotasolve.domain.record import Record

if TYPE_CHECKING:
    from rotasolve.domain.plan import Planting


class Claim(Record):
    """``rule`` is the rule's key; ``about`` names its subjects in the order the rule's ``say`` reads them."""

    rule: str
    about: tuple[str, ...]

    def __str__(self) -> str:
        """Say the claim as an identifier for logs and JSON."""
        return f"{self.rule}({', '.join(self.about)})"


@dataclass(frozen=True)
class Breach:
    """A claim that a plan breaks, with what was found (numbers, dates, names), most telling first.

    ``plantings`` are those of the plan that break it; none where something is missing.
    """

    claim: Claim
    found: str
    plantings: tuple[Planting, ...] = ()


class Reason(Record):
    """A claim turned into words for the grower."""

    claim: Claim
    sentence: str
