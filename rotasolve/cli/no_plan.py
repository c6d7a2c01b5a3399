"""What ``plan`` says when it has no plan to show."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from rotasolve.cli import exit_codes
from rotasolve.cli.terminal import answer, answer_json, look_of_terminal, talk

if TYPE_CHECKING:
    from rotasolve.domain.plan import Breach
    from rotasolve.domain.result import Impossible, OutOfTime
    from rotasolve.domain.scenario import Scenario


def say_none(
    found: Impossible | OutOfTime,
    scenario: Scenario,
    warnings: tuple[str, ...],
    json: bool,
    stopped: bool,
    inches: bool = False,
    against: Sequence[Breach] = (),
) -> int:
    """Say why there is no plan and return the exit status.

    A clash is an answer and goes to stdout; that the time ran out is not, and goes to stderr.
    ``against`` are rules that plantings kept from an earlier plan break by themselves.
    """
    from rotasolve.domain.result import Impossible
    from rotasolve.views.answers.changes_page import against_answer, against_page
    from rotasolve.views.answers.clash_page import clash_page
    from rotasolve.views.exports.plan_json import no_plan_answer

    if isinstance(found, Impossible):
        if json:
            told = no_plan_answer("impossible", found.clash, warnings, found.ways_out)
            if against:
                told["kept_against_rules"] = against_answer(against)
            answer_json(told)
        else:
            if against:
                answer(against_page(against, look_of_terminal(inches=inches)) + "\n")
            answer(clash_page(scenario, found, look_of_terminal(inches=inches)))
        return exit_codes.FOUND
    if json:
        answer_json(no_plan_answer("out of time", warnings=warnings))
    why = "before the search was stopped" if stopped else f"within {found.limit}; allow more time with --seconds"
    talk(f"No plan was found {why}. There may be one all the same.")
    return exit_codes.COULD_NOT_RUN
