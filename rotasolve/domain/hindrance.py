"""A hindrance: what one rule has against one planting, and until when."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from rotasolve.domain.claim import Claim, Facts
from rotasolve.domain.plan import Planting


@dataclass(frozen=True)
class Hindrance:
    """A claim that a planting would break beside a plan and the garden's history.

    ``why`` are the facts of it. ``strips`` are the strips of the planting that it bars. ``until`` is the last day on
    which it bars a planting like this one; None if it does not end, or not by waiting. ``other`` is the planned
    planting that stands in the way; None if it is the history, the season or the ground itself.
    """

    claim: Claim
    why: Facts
    strips: tuple[int, ...]
    until: date | None = None
    other: Planting | None = None
