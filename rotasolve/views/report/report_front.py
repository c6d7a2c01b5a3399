"""The front of the report: the answers first; and the annex of figures behind them."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from rotasolve.domain.seasons import say_year
from rotasolve.views.pages.editing import say_no_standing
from rotasolve.views.pages.first_screen import say_size
from rotasolve.views.pages.target_table import TARGET_COLUMNS, target_cells
from rotasolve.views.report.report_parts import PageTable, Told, page_table
from rotasolve.views.words.cautions import cautions_of
from rotasolve.views.words.got import got_of, say_how_near
from rotasolve.views.words.missed import say_missed
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
    got = got_of(plan, scenario.words)
    return {
        "size": say_size(scenario, plan),
        "got": got if plan.targets else None,
        "short": page_table("In kg", got.columns, got.rows),
        "why": list(say_missed(told.missed, scenario.words, told.look)),
        "near": _near(plan),
        "verdict": say_verdict(plan),
        "breaches": [reason_sentence(breach, told.look) for breach in plan.verdict.breaches],
        "notes": [*notes, *plan.verdict.warnings],
        "cautions": cautions_of(plan, told.garden.catalogue, scenario),
    }


def figures(told: Told) -> dict[str, Any]:
    """Return what the annex of figures asks for: the garden, the targets of each year, points, and how it was found."""
    scenario, plan = told.garden.scenario, told.plan
    return {
        "facts": summary_facts(scenario, told.look),
        "beds": page_table("The beds", BED_COLUMNS, bed_cells(scenario, told.look)),
        "standing": _standing(plan),
        "goals": page_table("Points lost (fewer is better)", GOAL_COLUMNS, goal_cells(plan.goals, told.look)),
        "targets": [table for year in told.years if (table := _targets(told, year)) is not None],
    }


def _near(plan: Plan) -> str:
    """Say without points how near the plan is to the best, as far as that still holds."""
    standing = plan.standing
    if standing is None or (plan.goals and plan.points_lost != standing.lost):
        return _standing(plan)[0]
    return say_how_near(standing)


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
