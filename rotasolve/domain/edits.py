"""Whether a plan is as rotasolve wrote it, or was edited by hand since: digests of what was written."""

from __future__ import annotations

import hashlib
import json
from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from rotasolve.domain.record import Record

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rotasolve.domain.plan import Plan, Planting

_DIGITS = 12
"""Hexadecimal digits of a digest: it guards against oversight, not against forgery."""


class Written(Record):
    """Digests of a plan as it was written: of the whole, and of each planting in the order of the file."""

    plan: str
    plantings: tuple[str, ...]


@dataclass(frozen=True)
class Edits:
    """What was edited by hand: the numbers of plantings changed or added, and how many of the old ones are gone.

    A planting that was changed counts as one new and one gone. ``touched`` also tells changes that leave every
    planting as it was: the years of the plan, or what is marked as kept.
    """

    changed: tuple[int, ...]
    gone: int
    touched: bool


@dataclass(frozen=True)
class WorkedOut:
    """What of one planting was worked out anew, by the planting's number.

    ``fields`` are those of ``after`` that differ from ``before``, the planting as it was read, or that it left out.
    """

    number: int
    before: Planting
    after: Planting
    fields: tuple[str, ...]


def digest_of(planting: Planting) -> str:
    """Return the digest of a planting, whether it is marked as kept or not."""
    return _digest({**planting.model_dump(mode="json"), "kept": None})


def sealed(plan: Plan) -> Plan:
    """Return the plan with the digests of its plantings, to be written to a file."""
    digests = tuple(digest_of(planting) for planting in plan.plantings)
    return plan.model_copy(update={"written": Written(plan=_digest_of_plan(plan), plantings=digests)})


def edits_of(plan: Plan) -> Edits | None:
    """Return what was edited since a plan was written; None if that is unknown, for it carries no digests."""
    if plan.written is None:
        return None
    left = Counter(plan.written.plantings)
    changed = []
    for number, planting in enumerate(plan.plantings):
        digest = digest_of(planting)
        if left[digest]:
            left[digest] -= 1
        else:
            changed.append(number)
    gone = left.total()
    touched = bool(changed) or gone > 0 or _digest_of_plan(plan) != plan.written.plan
    return Edits(tuple(changed), gone, touched)


def _digest_of_plan(plan: Plan) -> str:
    whole: Sequence[Any] = (plan.first_year, plan.years, sorted((digest_of(p), p.kept) for p in plan.plantings))
    return _digest(whole)


def _digest(value: object) -> str:
    text = json.dumps(value, sort_keys=True, separators=(",", ":"))
    return hashlib.sha256(text.encode("utf-8")).hexdigest()[:_DIGITS]
