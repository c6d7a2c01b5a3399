"""A claim: one rule applied to named things. The same claim is posted, broken and spoken."""

from __future__ import annotations

from rotasolve.domain.record import Record


class Claim(Record):
    """``rule`` is the rule's key; ``about`` names its subjects in the order the rule's ``say`` reads them."""

    rule: str
    about: tuple[str, ...]

    def __str__(self) -> str:
        """Say the claim as an identifier for logs and JSON."""
        return f"{self.rule}({', '.join(self.about)})"


class Breach(Record):
    """A claim that a plan breaks, with what was found (numbers, dates, names), most telling first."""

    claim: Claim
    found: str


class Reason(Record):
    """A claim turned into words for the grower."""

    claim: Claim
    sentence: str
