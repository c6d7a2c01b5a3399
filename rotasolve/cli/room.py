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
    take: int = 1,
) -> int:
    """Make room, answer on a page, or in JSON if ``look`` is None, write way ``take``, and return the exit status.

    Raises
    ------
    GardenFault
        If the plan breaks rules before anything is moved.
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
        ways = make_room(case.scenario, case.catalogue, question, case.plan, today)
    except BrokenPlan as refusal:
        first = plain(say_reason(refusal.breaches[0], look or Look()))
        raise GardenFault(f"{refusal}, the first: {first}; 'referee' names them all") from None
    taken = ways[take - 1] if take <= len(ways) else None
    trouble = write_if_possible(taken.plan, case.word, output, replace) if taken is not None else None
    if look is None:
        answer_json(room_answer(ways, question, today, scenario_matches=case.matches))
    elif ways:
        answer(room_page(case.scenario, ways, today, look))
    else:
        answer(no_room_page(case.scenario, question, today, look))
    if trouble is not None:
        raise trouble
    if output is not None and taken is not None:
        talk(f"Written: {output}, with way {take}." if len(ways) > 1 else f"Written: {output}.")
    elif output is not None:
        why = f"there is no way {take}" if ways else "there is no changed plan"
        talk(f"{output} was not written: {why}.")
    return exit_codes.FINE if taken is not None else exit_codes.FOUND
