"""What changes from one plan to another, and room made for a crop by the smallest change."""

from __future__ import annotations

from typing import Literal

from rotasolve.domain.crop_share import CropShare
from rotasolve.domain.place import Question
from rotasolve.domain.plan import Breach, Plan, Planting
from rotasolve.domain.record import Record

Why = Breach | Literal["failed", "not wanted", "in the past", "fewer points"]
"""Why a planting does not stay: the rule that it would break, or what else has become of it."""


class Move(Record):
    """One planting of the plan that changes: where and when it was, and where and when it goes; None: given up."""

    before: Planting
    after: Planting | None


class Changes(Record):
    """What tells two plans apart: plantings that changed or went (``moves``), ``new`` ones, and how many are alike."""

    moves: tuple[Move, ...]
    new: tuple[Planting, ...]
    unchanged: int


class CropKg(Record):
    """The kilograms that a usual year brings more of a crop, or less (below 0), with one plan than with another."""

    crop: str
    kg: float


class Room(Record):
    """A plan with room made for the crop asked for.

    ``placed`` is the new planting, ``crop_share`` what it gives where that is less than a full crop, ``moves`` are the
    other changes. ``at_least`` says how many plantings no change can leave fewer of in another place; ``proven`` that
    these moves are the fewest. ``harvest`` is what all crops bring more or less. ``lost_before`` and ``lost_after``
    are the points the two plans lose against all wishes.
    """

    question: Question
    placed: Planting
    moves: tuple[Move, ...]
    at_least: int
    proven: bool
    plan: Plan
    harvest: tuple[CropKg, ...]
    lost_before: int
    lost_after: int
    crop_share: CropShare | None = None
