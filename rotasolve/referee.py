"""The referee: judges a finished plan by every rule and goal, from its dates, strips and places alone."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.domain.plan import CHANGES, GoalScore, Plan, Planting, Verdict
from rotasolve.goals import GOALS
from rotasolve.recount.harvests import harvest_of
from rotasolve.relations.household.outcomes import target_outcomes
from rotasolve.rules import RULES

if TYPE_CHECKING:
    from rotasolve.domain.plan import Breach
    from rotasolve.domain.scenario import Scenario
    from rotasolve.relations.ground.garden import Garden


def blank_plan(scenario: Scenario, plantings: tuple[Planting, ...] = ()) -> Plan:
    """Return a plan of the scenario's years that holds only the plantings, to be judged or scored."""
    return Plan(
        made_by="rotasolve",
        scenario_title=scenario.title,
        scenario_hash="",
        first_year=scenario.first_year,
        years=scenario.years,
        plantings=plantings,
    )


def breaches_of(garden: Garden, plan: Plan) -> tuple[Breach, ...]:
    """Return every breach of every rule, in the rules' order, with the plantings that break it."""
    return tuple(breach for rule in RULES for breach in rule.breaches(garden, plan))


def judge(garden: Garden, plan: Plan) -> Verdict:
    """Return every breach of every rule, in the rules' order."""
    return Verdict(breaches=breaches_of(garden, plan))


def recount(garden: Garden, plan: Plan) -> Plan:
    """Return the plan with targets, goals and verdict recounted; nothing it says of them is believed."""
    return plan.model_copy(
        update={
            "targets": target_outcomes(garden, tuple(_with_own_harvest(garden, one) for one in plan.plantings)),
            "goals": score(garden, plan),
            "verdict": judge(garden, plan),
        }
    )


def _with_own_harvest(garden: Garden, planting: Planting) -> Planting:
    harvest = harvest_of(garden.crops[planting.crop], planting, garden.percent_of(planting))
    return planting.model_copy(update={"harvest": harvest})


def score(garden: Garden, plan: Plan) -> tuple[GoalScore, ...]:
    """Return the points each goal loses, recounted from the plantings; changes where there is an earlier plan."""
    return tuple(goal.score(garden, plan) for goal in GOALS if goal.key != CHANGES or garden.before)
