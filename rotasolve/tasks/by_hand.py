"""Take up a plan that may have been edited by hand: what follows is worked out anew, and no old claim is kept."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from rotasolve.domain.edits import digest_of, edits_of
from rotasolve.domain.seasons import say_day
from rotasolve.domain.strips import say_strips
from rotasolve.referee import breaches_of, judge, recount
from rotasolve.relations.ground.following import followed

if TYPE_CHECKING:
    from datetime import date

    from rotasolve.domain.plan import Breach, Plan, Planting
    from rotasolve.relations.ground.garden import Garden

_NOTHING: Mapping[int, frozenset[str]] = {}
_DERIVED = {
    "raise_from": "sown indoors",
    "first_harvest": "first picked",
    "last_harvest": "last picked",
    "rows": "rows",
    "harvest": "kg",
}


@dataclass(frozen=True)
class Note:
    """What of one planting was worked out anew, by the planting's number."""

    number: int
    sentence: str


def take_up(
    garden: Garden, plan: Plan, left_out: Mapping[int, frozenset[str]] = _NOTHING
) -> tuple[Plan, tuple[Note, ...]]:
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
        if said := _say_new(old, new, missing):
            notes.append(Note(number, said))
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


def _say_new(old: Planting, new: Planting, missing: frozenset[str]) -> str:
    told = []
    for field, words in _DERIVED.items():
        before, after = getattr(old, field), getattr(new, field)
        if before == after or field in missing:
            continue
        if field == "harvest":
            told.append(f"{new.harvest.typical_kg:g} kg, not {old.harvest.typical_kg:g}")
        elif field == "rows":
            told.append(f"{after} rows, not {before}")
        else:
            told.append(f"{words} {_say(after)}" + (f", not {_say(before)}" if before is not None else ""))
    filled = {
        "way": new.way,
        "clear": f"cleared {_say(new.clear)}",
        "plants": "1 plant" if new.plants == 1 else f"{new.plants} plants",
    }
    told += [words for field, words in filled.items() if field in missing]
    if new.first_harvest is None and old.first_harvest is not None:
        told.append("it is cleared before it is ripe and yields nothing")
    where = f"{new.crop} in {new.bed}, {say_strips(new.strips)}, {say_day(new.start)}"
    return f"{where}: {'; '.join(told)}" if told else ""


def _say(day: date | None) -> str:
    return "never" if day is None else say_day(day)
