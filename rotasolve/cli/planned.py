"""What ``plan`` says: its plan, with what changed against an earlier one, or why it has none."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from rotasolve.cli import exit_codes
from rotasolve.cli.terminal import answer, answer_json, answer_page, talk

if TYPE_CHECKING:
    from rotasolve.cli.case import Case
    from rotasolve.cli.earlier import Earlier
    from rotasolve.domain.plan import Breach, Plan
    from rotasolve.domain.result import Impossible, OutOfTime
    from rotasolve.domain.scenario import Scenario
    from rotasolve.tasks.replanning import Replanned
    from rotasolve.views.words.look import Look


class Told(NamedTuple):
    """What the plan's page is told: the names typed, whether all is shown, and whether the search was cut short."""

    scenario: str
    written: Path | None
    details: bool
    stopped: bool


def say_plan(
    case: Case,
    plan: Plan,
    warnings: tuple[str, ...],
    look: Look | None,
    before: Earlier | None,
    found: Replanned,
    told: Told,
) -> None:
    """Show what changed against an earlier plan, if there is one, and the plan; in JSON if ``look`` is None.

    One screen, and the whole plan below it if all is to be shown.
    """
    from rotasolve.relations.sun.low_sun import low_sun
    from rotasolve.tasks.missing import why_missed
    from rotasolve.views.answers.changes_page import changes_answer, changes_page
    from rotasolve.views.exports.plan_json import plan_answer
    from rotasolve.views.pages.first_screen import Names, first_screen
    from rotasolve.views.pages.page import plan_page

    changes = found.changes
    if look is None:
        said = plan_answer(plan, case.scenario, case.catalogue, stopped_early=told.stopped, warnings=warnings)
        if before is not None and changes is not None:
            said["from"] = {
                "notes": list(before.notes),
                "nothing_new": found.nothing_new,
                **changes_answer(before.plan, plan, changes, found.why),
            }
        answer_json(said)
        return
    page = ""
    if before is not None and changes is not None:
        south = case.scenario.site.south
        page = changes_page(before.plan, plan, changes, south, look, found.why, nothing_new=found.nothing_new) + "\n"
    missed = why_missed(case.garden, plan)
    names = Names(told.scenario, str(told.written) if told.written is not None else None)
    low = low_sun(case.garden, plan.plantings)
    page += first_screen(case.scenario, case.catalogue, plan, missed, names, look, low)
    if told.details:
        page += "\n" + plan_page(case.scenario, case.catalogue, plan, look)
    answer_page(page, told.details)


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
