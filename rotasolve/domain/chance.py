"""A chance to start a crop on ground that has become free, and what a disease seen in a bed costs a plan."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from datetime import date

    from rotasolve.domain.hindrance import Hindrance
    from rotasolve.domain.plan import Planting


@dataclass(frozen=True)
class Chance:
    """A crop that may still be started: what would be planted on the first day, and until when there is time.

    ``percent`` of a full crop is what a start on the first day gives, ``percent_last`` one on the ``last``.
    ``hindrances`` are what rules have against it on the first day.
    """

    planting: Planting
    last: date
    percent: int
    percent_last: int
    hindrances: tuple[Hindrance, ...] = ()


@dataclass(frozen=True)
class DiseaseCost:
    """What follows from a disease seen in a bed on a day.

    ``hosts`` are the crops of the plan's household that stay away, for ``gap_years`` complete years or for good
    (``closes``). ``again`` is the garden year from which they may stand there; None if never. ``lost`` are the
    plantings of the plan that can no longer stand there, and ``points`` what the plan loses more without them.
    """

    disease: str
    bed: str
    hosts: tuple[str, ...]
    gap_years: int
    closes: bool
    again: int | None
    lost: tuple[Planting, ...] = ()
    points: int = 0
