"""The exchange curve: more people fed, or more of one crop, against what all other wishes lose by it."""

from __future__ import annotations

from typing import Literal

from rotasolve.domain.plan import Plan
from rotasolve.domain.record import Record

PointOutcome = Literal["proven best", "good, not proven", "impossible", "none found"]


class ExchangePoint(Record):
    """One point of the curve: ``amount`` people, or kilograms of the crop, and the best plan known for them.

    ``lost``, ``at_least_lost`` and ``gap`` are those of a plan's standing; without a plan ``lost`` is None.
    ``plan_from`` is the amount at whose point that plan was found: a plan is carried to every point where it is better.
    """

    amount: float
    outcome: PointOutcome
    lost: int | None = None
    at_least_lost: int = 0
    lost_if_empty: int = 0
    gap: float = 1.0
    plan: Plan | None = None
    plan_from: float | None = None
    seconds: float = 0.0


class Exchange(Record):
    """A whole curve, its points from the easiest to the hardest. ``crop`` None: the amounts are people."""

    scenario_title: str
    crop: str | None
    points: tuple[ExchangePoint, ...]
    limit: str
    seed: int
    seconds: float | None = None
