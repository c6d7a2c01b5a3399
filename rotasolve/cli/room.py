"""What ``where --move`` does: make room in a plan, show before and after, write the changed plan."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.cli import exit_codes
from rotasolve.cli.inputs import write_if_possible
from rotasolve.cli.terminal import answer, answer_json, talk
from rotasolve.errors import BrokenPlan, GardenFault

if TYPE_CHECKING:
    from datetime import date
    from pathlib import Path

    from rotasolve.cli.case import PlanCase
    from rotasolve.domain.place import Question
    from rotasolve.views.words.look import Look


def answer_room(
    case: PlanCase,
    question: Question,
    today: date,
    look: Look | None,
    output: Path | None,
    replace: bool,
) -> int:
    """Make room, answer on a page, or in JSON if ``look`` is None, and return the exit status.

    Raises
    ------
    FileTrouble
        If the changed plan cannot be written; the answer is given all the same.
    """
    from rotasolve.tasks.moving import make_room
    from rotasolve.views.answers.question_answers import room_answer
    from rotasolve.views.answers.room_page import no_room_page, room_page
    from rotasolve.views.words.look import Look
    from rotasolve.views.words.reasons import say_reason
    from rotasolve.views.words.wording import plain

    try:
        room = make_room(case.scenario, case.catalogue, question, case.plan, today)
    except BrokenPlan as refusal:
        first = plain(say_reason(refusal.breaches[0], look or Look()))
        raise GardenFault(f"{refusal}, the first: {first}; 'referee' names them all") from None
    trouble = write_if_possible(room.plan, output, replace) if room is not None else None
    if look is None:
        answer_json(room_answer(room, question, today, scenario_matches=case.matches))
    elif room is None:
        answer(no_room_page(case.scenario, question, today, look))
    else:
        answer(room_page(case.scenario, room, today, look))
    if trouble is not None:
        raise trouble
    if output is not None:
        talk(f"Written: {output}." if room is not None else f"{output} was not written: there is no changed plan.")
    return exit_codes.FINE if room is not None else exit_codes.FOUND
