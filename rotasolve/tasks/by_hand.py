"""Take up a plan that may have been edited by hand: what follows is worked out anew, and no old claim is kept."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from rotasolve.domain.edits import WorkedOut, digest_of, edits_of
from rotasolve.referee import breaches_of, judge, recount
from rotasolve.relations.ground.following import followed

if TYPE_CHECKING:
    from rotasolve.domain.plan import Breach, Plan
    from rotasolve.relations.ground.garden import Garden

_NOTHING: Mapping[int, frozenset[str]] = {}
_DERIVED = ("raise_from", "first_harvest", "last_harvest", "rows", "harvest")
_FILLED_IN = ("way", "clear", "plants")


def take_up(
    garden: Garden, plan: Plan, left_out: Mapping[int, frozenset[str]] = _NOTHING
) -> tuple[Plan, tuple[WorkedOut, ...]]:
    """Return a plan whose figures all follow from its plantings, and what had to be worked out for that.

    A plan that is as it was written is returned as it is. In one that was edited every planting changed or added is
    worked out anew, targets, points and verdict are recounted, and it stands no more as proven or near the best. The
    plan must name beds, crops, strips and days that the scenario has.
    """
    edits = edits_of(plan)
    if edits is not None and not edits.touched:
        return plan, ()
    asked = range(len(plan.plantings)) if edits is None else edits.changed
    plantings, notes = list(plan.plantings), []
    for number in asked:
        missing = left_out.get(number, frozenset())
        old = plantings[number]
        new = plantings[number] = followed(garden, old, missing)
        told = [field for field in _DERIVED if field not in missing and getattr(old, field) != getattr(new, field)]
        told += [field for field in _FILLED_IN if field in missing]
        if told:
            notes.append(WorkedOut(number, old, new, tuple(told)))
    if edits is None and not notes and not left_out:
        # Nothing tells whether it was edited, and a file's word on breaches is not taken over: judged anew.
        return plan.model_copy(update={"verdict": judge(garden, plan)}), ()
    changed = plan.model_copy(update={"plantings": tuple(plantings), "standing": None})
    return recount(garden, changed), tuple(notes)


def findings(garden: Garden, plan: Plan) -> tuple[tuple[Breach, tuple[int, ...]], ...]:
    """Return every breach, as the verdict does, each with the numbers of the plantings that break it."""
    numbers: dict[str, int] = {}
    for number, planting in enumerate(plan.plantings):
        numbers.setdefault(digest_of(planting), number)
    return tuple(
        (breach, tuple(sorted({numbers[digest_of(p)] for p in breach.plantings})))
        for breach in breaches_of(garden, plan)
    )
