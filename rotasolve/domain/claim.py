"""Facts and claims: what a rule or a goal hands over of its matter, without words.

``views/words/rules`` and ``views/words/goals`` say every kind of facts in the grower's units, a file for each.
"""

from __future__ import annotations

from dataclasses import astuple, dataclass
from typing import ClassVar


@dataclass(frozen=True)
class Facts:
    """Names, days and numbers of one matter, each kind a class; a number's unit stands in its field's name."""


@dataclass(frozen=True)
class Claim(Facts):
    """One rule applied to named things: the same claim is posted, broken and spoken. Each rule has its own class.

    ``rule`` is the rule's key.
    """

    rule: ClassVar[str]

    @property
    def about(self) -> tuple[str, ...]:
        """Its subjects for programs and for sorting, as they have stood in answers since the first version."""
        return tuple(str(value) for value in astuple(self))

    def __str__(self) -> str:
        """Say the claim as an identifier for logs and for reports of a defect."""
        return f"{self.rule}({', '.join(self.about)})"
