"""What ``plan`` says: its plan, with what changed against an earlier one, or why it has none."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from rotasolve.cli import exit_codes
from rotasolve.cli.terminal import answer, answer_json, talk

if TYPE_CHECKING:
    from rotasolve.cli.case import Case
    from rotasolve.cli.earlier import Earlier
    from rotasolve.domain.plan import Breach, Plan
    from rotasolve.domain.result import Impossible, OutOfTime
    from rotasolve.domain.scenario import Scenario
    from rotasolve.tasks.replanning import Replanned
    from rotasolve.views.words.look import Look


def say_plan(
    case: Case,
    plan: Plan,
    warnings: tuple[str, ...],
    look: Look | None,
    before: Earlier | None,
    found: Replanned,
    stopped: bool,
) -> None:
    """Show what changed against an earlier plan, if there is one, and the plan; in JSON if ``look`` is None."""
    from rotasolve.views.answers.changes_page import changes_answer, changes_page
    from rotasolve.views.exports.plan_json import plan_answer
    from rotasolve.views.pages.page import plan_page

    changes = found.changes
    if look is None:
        told = plan_answer(plan, case.scenario, case.catalogue, stopped_early=stopped, warnings=warnings)
        if before is not None and changes is not None:
            told["from"] = {
                "notes": list(before.notes),
                "nothing_new": found.nothing_new,
                **changes_answer(before.plan, plan, changes, found.why),
            }
        answer_json(told)
        return
    if before is not None and changes is not None:
        south = case.scenario.site.south
        answer(changes_page(before.plan, plan, changes, south, look, found.why, nothing_new=found.nothing_new) + "\n")
    answer(plan_page(case.scenario, case.catalogue, plan, look))


def say_none(
    found: Impossible | OutOfTime,
    scenario: Scenario,
    warnings: tuple[str, ...],
    look: Look | None,
    stopped: bool,
    against: Sequence[Breach] = (),
) -> int:
    """Say why there is no plan and return the exit status.

    ``look`` is None for JSON. A clash is an answer and goes to stdout; that the time ran out goes to stderr.
    ``against`` are rules that plantings kept from an earlier plan break by themselves.
    """
    from rotasolve.domain.result import Impossible
    from rotasolve.views.answers.changes_page import against_answer, against_page
    from rotasolve.views.answers.clash_page import clash_page
    from rotasolve.views.exports.plan_json import no_plan_answer

    if isinstance(found, Impossible):
        if look is None:
            told = no_plan_answer("impossible", found.clash, warnings, found.ways_out)
            if against:
                told["kept_against_rules"] = against_answer(against)
            answer_json(told)
        else:
            if against:
                answer(against_page(against, look) + "\n")
            answer(clash_page(scenario, found, look))
        return exit_codes.FOUND
    if look is None:
        answer_json(no_plan_answer("out of time", warnings=warnings))
    why = "before the search was stopped" if stopped else f"within {found.limit}; allow more time with --seconds"
    talk(f"No plan was found {why}. There may be one all the same.")
    return exit_codes.COULD_NOT_RUN
