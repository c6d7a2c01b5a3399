"""Answers for programs to questions about a plan: places, room made, clashes, targets out of reach."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.views.answers.place_list import say_notes
from rotasolve.views.answers.room_page import say_change
from rotasolve.views.exports.as_json import SCHEMA_VERSION, Answer
from rotasolve.views.exports.plan_json import hindrance_answer, reason_answer
from rotasolve.views.words.look import Look
from rotasolve.views.words.wishes import say_gain, say_held_by
from rotasolve.views.words.wording import plain

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import date

    from rotasolve.domain.moves import Room
    from rotasolve.domain.place import Places, Question
    from rotasolve.domain.result import Impossible
    from rotasolve.domain.shortfall import Shortfall


def places_answer(found: Places, *, scenario_matches: bool = True) -> Answer:
    """Return every place and every refusal in full."""
    return {
        "schema_version": SCHEMA_VERSION,
        "scenario_matches": scenario_matches,
        "asked": found.question.model_dump(mode="json"),
        "places": [place.model_dump(mode="json") for place in found.places],
        "refusals": [
            {
                **refusal.model_dump(mode="json", exclude={"hindrances"}),
                "hindrances": [hindrance_answer(hindrance) for hindrance in refusal.hindrances],
            }
            for refusal in found.refusals
        ],
        "notes": say_notes(found),
    }


def room_answer(ways: Sequence[Room], asked: Question, today: date, *, scenario_matches: bool = True) -> Answer:
    """Return the changes that make room, with the whole new plans; ``room`` is the first way, null if there is none."""
    told = [_room(room) for room in ways]
    return {
        "schema_version": SCHEMA_VERSION,
        "scenario_matches": scenario_matches,
        "asked": asked.model_dump(mode="json"),
        "today": today.isoformat(),
        "room": told[0] if told else None,
        "other_ways": told[1:],
    }


def _room(room: Room) -> Answer:
    told = room.model_dump(mode="json", exclude={"question"})
    for said, move in zip(told["moves"], room.moves, strict=True):
        said["change"] = say_change(move)
    return told


def clash_answer(found: Impossible | None) -> Answer:
    """Return whether there is a clash, its claims, and the ways out."""
    return {
        "schema_version": SCHEMA_VERSION,
        "clashes": found is not None,
        "clash": [reason_answer(claim) for claim in found.clash] if found is not None else [],
        "ways_out": [[reason_answer(claim) for claim in way] for way in found.ways_out] if found is not None else [],
    }


def shortfall_answer(
    found: Sequence[Shortfall], *, scenario_matches: bool = True, stopped_early: bool = False
) -> Answer:
    """Return the yearly targets out of reach, with what is missing and what would help, in kg."""
    return {
        "schema_version": SCHEMA_VERSION,
        "scenario_matches": scenario_matches,
        "stopped_early": stopped_early,
        "shortfalls": [_shortfall(short) for short in found],
    }


def _shortfall(short: Shortfall) -> Answer:
    """Return one target out of reach; lengths are metric for programs."""
    look = Look()
    gains = [{"kind": gain.kind, "what": plain(say_gain(gain, look)), "kg": gain.kg} for gain in short.gains]
    told = short.model_dump(mode="json", exclude={"gains", "hopeless"})
    return {**told, "gains": gains, "held_by": plain(say_held_by(short, look)), "missing_kg": short.missing_kg}
