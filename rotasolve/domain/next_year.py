"""A scenario whose plan begins later: what the plan before it and the diary leave behind."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from rotasolve.domain.diary import Happening
    from rotasolve.domain.scenario import ClosedBed, DiseaseSeen, PastPlanting, PinnedPlanting, RawManure, Scenario


@dataclass(frozen=True)
class NextYear:
    """A scenario whose plan begins later, and what is new in it.

    ``history``, ``pinned``, and of the diary's own ``seen``, ``manure`` and ``closed``, are added; ``pins_gone`` and
    ``musts_gone`` are the numbers of old lines that are past. ``told`` plantings are as the diary tells, ``silent``
    ones as the plan has them; ``beside`` is what the diary tells of crops that were in no plan.
    """

    scenario: Scenario
    history: tuple[PastPlanting, ...]
    pinned: tuple[PinnedPlanting, ...]
    pins_gone: tuple[int, ...]
    musts_gone: tuple[int, ...]
    seen: tuple[DiseaseSeen, ...]
    manure: tuple[RawManure, ...]
    closed: tuple[ClosedBed, ...]
    told: int
    silent: int
    beside: tuple[Happening, ...] = ()
