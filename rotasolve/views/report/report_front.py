"""The front of the report: the garden, how good the plan is, the referee's verdict, the targets, the cautions."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from rotasolve.domain.seasons import say_year
from rotasolve.views.pages.editing import say_no_standing
from rotasolve.views.pages.target_table import TARGET_COLUMNS, target_cells
from rotasolve.views.report.report_parts import PageTable, Told, page_table
from rotasolve.views.words.cautions import cautions_of
from rotasolve.views.words.reasons import reason_sentence
from rotasolve.views.words.standing import GOAL_COLUMNS, goal_cells, standing_sentences
from rotasolve.views.words.summary import BED_COLUMNS, bed_cells, summary_facts
from rotasolve.views.words.verdict import say_verdict
from rotasolve.views.words.wording import say_count

if TYPE_CHECKING:
    from rotasolve.domain.plan import Plan


def front(told: Told, notes: tuple[str, ...] = ()) -> dict[str, Any]:
    """Return what the front's template asks for; ``notes`` are warnings about the plan as a whole."""
    scenario, plan = told.garden.scenario, told.plan
    return {
        "facts": summary_facts(scenario, told.look),
        "beds": page_table("The beds", BED_COLUMNS, bed_cells(scenario, told.look)),
        "standing": _standing(plan),
        "verdict": say_verdict(plan),
        "breaches": [reason_sentence(breach, told.look) for breach in plan.verdict.breaches],
        "notes": [*notes, *plan.verdict.warnings],
        "goals": page_table("Points lost (fewer is better)", GOAL_COLUMNS, goal_cells(plan.goals, told.look)),
        "targets": [table for year in told.years if (table := _targets(told, year)) is not None],
        "cautions": cautions_of(plan, told.garden.catalogue, scenario),
    }


def _standing(plan: Plan) -> tuple[str, ...]:
    standing = plan.standing
    if standing is None:
        return (say_no_standing(plan) or "How far the plan is from the best one is not known.",)
    now = plan.points_lost
    if plan.goals and now != standing.lost:
        # What the search proved holds for the plan and the points it counted, not for these.
        return (
            f"How far the plan is from the best one is not known: counted anew it loses {say_count(now, 'point')}, and "
            f"it lost {standing.lost:,} when it was found. It was changed since, or found by another version.",
        )
    return standing_sentences(standing)


def _targets(told: Told, year: int) -> PageTable | None:
    caption = f"Harvest of {say_year(year, told.south)} from all beds, beside what you wish"
    return page_table(caption, TARGET_COLUMNS, target_cells(told.garden.scenario, told.plan, year))
