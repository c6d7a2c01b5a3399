"""Household yield: each year's harvest of each crop comes as near its target as it can.

What it asks
    A target is cut into 200 steps. Each step short in a garden year loses 2 points times the target's weight (1 to
    5), so a wholly missed target of weight 2 loses 800 points. More than 120 % of a target is a glut: each step
    above it loses 1 point, or the ground would be filled with what nobody eats.
Why
    The household's own wish. Typical yields are planned with, and a poor year's are shown beside them; with
    ``meet_targets_at: low yield`` a poor year's are planned with.
Loosen it
    Give the target a lower weight, or fewer kilograms; ``surplus: welcome`` charges no glut.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from rotasolve.domain.claim import Facts
from rotasolve.domain.plan import GoalScore, Plan
from rotasolve.domain.seasons import garden_year
from rotasolve.recount.harvests import lots_of
from rotasolve.relations.household.wanted import counted_kg

if TYPE_CHECKING:
    from rotasolve.board import Board
    from rotasolve.domain.household import Target
    from rotasolve.relations.ground.garden import Choice, Garden

STEPS = 200
GLUT_FROM = 240
POINTS_PER_STEP = 2


def steps_per_lot(kg: float, target: Target) -> int:
    """Return how many 200ths of the target one lot yields, rounded, but at least 1 if it yields anything."""
    return 0 if kg <= 0 else max(1, round(STEPS * kg / target.kg))


@dataclass(frozen=True)
class TargetsMet(Facts):
    """How many of all yearly targets the plan meets in full; ``in_a_poor_year`` if it is poor years that must do."""

    met: int
    targets: int
    in_a_poor_year: bool


class HouseholdYield:
    """Targets met."""

    key = "household-yield"
    reached = TargetsMet

    def cost(self, garden: Garden, board: Board) -> None:
        """Charge each step short of a target, and each step of glut."""
        household = garden.scenario.household
        for target in household.targets:
            for year in garden.scenario.planned_years:
                terms = [
                    (number, steps)
                    for number, choice in enumerate(garden.choices)
                    if choice.sowing.crop == target.crop and choice.sowing.crop_year == year
                    if (steps := _steps_of_choice(garden, choice, target))
                ]
                short = board.variable(f"{target.crop} short in {year}", STEPS)
                board.define([*terms, (short, 1)], low=STEPS)
                board.lose(POINTS_PER_STEP * target.weight, short)
                if terms and household.surplus == "avoid":
                    glut = board.variable(f"{target.crop} glut in {year}", sum(s * board.upper[n] for n, s in terms))
                    board.define([*terms, (glut, -1)], high=GLUT_FROM)
                    board.lose(1, glut)

    def score(self, garden: Garden, plan: Plan) -> GoalScore:
        """Recount the steps from the plantings, lot by lot."""
        household = garden.scenario.household
        lost, missed, glut = 0, 0, int(household.surplus == "avoid")
        for target in household.targets:
            for year in garden.scenario.planned_years:
                got = sum(_steps_of_plantings(garden, plan, target, year))
                short = max(0, STEPS - got)
                lost += short * POINTS_PER_STEP * target.weight + glut * max(0, got - GLUT_FROM)
                missed += bool(short)
        wishes = len(household.targets) * garden.scenario.years
        reached = TargetsMet(wishes - missed, wishes, household.meet_targets_at == "low yield")
        return GoalScore(goal=self.key, lost=lost, reached=reached)


def _steps_of_choice(garden: Garden, choice: Choice, target: Target) -> int:
    """Return the steps one unit of a choice brings; a kept planting is more or less than a lot."""
    kg = counted_kg(garden.harvest_of_lot(choice), garden.scenario.household)
    return round(garden.lots_in(choice) * steps_per_lot(kg, target))


def _steps_of_plantings(garden: Garden, plan: Plan, target: Target, year: int) -> list[int]:
    crop, household, steps = garden.crops[target.crop], garden.scenario.household, []
    for planting in plan.plantings:
        ripe = planting.first_harvest
        if planting.crop != target.crop or ripe is None or planting.last_harvest is None:
            continue
        if garden_year(ripe, garden.scenario.site.south) != year:
            continue
        lots, kg = lots_of(crop, garden.beds[planting.bed], planting, household, garden.percent_of(planting))
        each = max(1, round(kg / target.kg * STEPS)) if kg > 0 else 0
        steps.append(round(lots * each))
    return steps
