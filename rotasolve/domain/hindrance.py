"""A hindrance: what one rule has against one planting, in plain words, and until when."""

from __future__ import annotations

from rotasolve.domain.claim import Claim
from rotasolve.domain.plan import Planting
from rotasolve.domain.record import Record
from rotasolve.domain.seasons import Day


class Hindrance(Record):
    """A claim that a planting would break beside a plan and the garden's history.

    ``strips`` are the strips of the planting that it bars. ``until`` is the last day on which it bars a planting
    like this one; None if it does not end, or not by waiting. ``other`` is the planned planting that stands in the
    way; None if it is the history, the season or the ground itself.
    """

    claim: Claim
    sentence: str
    strips: tuple[int, ...]
    until: Day | None = None
    other: Planting | None = None
