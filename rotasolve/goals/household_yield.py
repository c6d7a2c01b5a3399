"""Household yield: each year's harvest of each crop comes near its target, and a shortage is shared.

What it asks
    Each per cent of a target that a garden year misses loses points times the target's weight (1 to 5): 1 point for
    each of the last tenth, 3 between half and nine tenths, 6 for each of the first half. So a wholly missed target of
    weight 2 loses 860 points, half of one 260, and a tenth 20, whatever the crop's bulk. More than 110 % of a target
    is a glut: each per cent above it loses 2 points, or the ground would be filled with what nobody eats. A planting
    of a crop of which no amount is wished loses 10 points for each per cent of a full crop that it misses.
Why
    The household's own wish. The first potatoes of the year are worth more than the last: where ground is short, half
    of everything feeds a household better than all of some and nothing of the rest. Peppers that must be had are to
    ripen, not to be set out when little comes of it. The prices are common practice, no source. Typical yields are
    planned with, and a poor year's are shown beside them; with ``meet_targets_at: low yield`` a poor year's are planned
    with.
Loosen it
    Give the target a lower weight, or fewer kilograms; ``surplus: welcome`` charges no glut.
"""

from __future__ import annotations

import math
from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING

from rotasolve.domain.claim import Facts
from rotasolve.domain.plan import GoalScore, Plan
from rotasolve.domain.seasons import garden_year
from rotasolve.recount.harvests import counts_for, kilograms_counted
from rotasolve.relations.household.wanted import counted_kg, wish_by_crop

if TYPE_CHECKING:
    from rotasolve.board import Board
    from rotasolve.domain.household import Target
    from rotasolve.relations.ground.garden import Choice, Garden

SHORTAGE = ((10, 1), (40, 3), (50, 6))
"""What missing costs: (per cent of the target, points for each of them), the last tenth first.

The prices rise, so that no plan misses a dear per cent while a cheap one would do: no 0/1 variable has to say so.
"""
GLUT_FROM = 110
POINTS_PER_GLUT = 2
POINTS_PER_MISSING = 10
FINE = 10
"""Parts of a per cent in which a planting's harvest is counted: sums are rounded to whole per cents."""


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
        """Charge each per cent short of a target, by pieces of rising price, and each per cent of glut."""
        household = garden.scenario.household
        wished = wish_by_crop(garden)
        ripening: dict[tuple[str, int], list[tuple[int, Choice]]] = defaultdict(list)
        for number, choice in enumerate(garden.choices):
            ripening[choice.sowing.crop, choice.sowing.crop_year].append((number, choice))
            if choice.sowing.course.first_harvest is not None and choice.sowing.crop not in wished:
                board.lose(POINTS_PER_MISSING * (100 - choice.sowing.course.share_percent), number)
        for target in household.targets:
            kinds = sorted(garden.meeting(target.crop))
            for year in garden.scenario.planned_years:
                ripe = (each for kind in kinds for each in ripening.get((kind, year), ()))
                brought = ((n, _parts_of_choice(garden, choice, target)) for n, choice in ripe)
                terms = [(number, parts) for number, parts in brought if parts]
                short = []
                for percent, points in SHORTAGE:
                    piece = board.variable(f"{target.crop} short in {year}, {points} points each", percent)
                    board.lose(points * target.weight, piece)
                    short.append((piece, FINE))
                board.define([*terms, *short], low=100 * FINE)
                if terms and household.surplus == "avoid":
                    most = sum(parts * board.upper[number] for number, parts in terms)
                    glut = board.variable(f"{target.crop} glut in {year}", math.ceil(most / FINE))
                    board.define([*terms, (glut, -FINE)], high=GLUT_FROM * FINE)
                    board.lose(POINTS_PER_GLUT, glut)

    def score(self, garden: Garden, plan: Plan) -> GoalScore:
        """Recount the per cents from the plantings."""
        household = garden.scenario.household
        lost, missed, glut = 0, 0, POINTS_PER_GLUT * (household.surplus == "avoid")
        for target in household.targets:
            for year in garden.scenario.planned_years:
                got = sum(_parts_of_plantings(garden, plan, target, year))
                lost += _points_short(got) * target.weight + glut * max(0, -(-got // FINE) - GLUT_FROM)
                missed += got < 100 * FINE
        lost += sum(
            POINTS_PER_MISSING * (100 - garden.percent_of(planting))
            for planting in plan.plantings
            if planting.first_harvest is not None
            and not any(counts_for(garden.crops[planting.crop], wish.crop, household) for wish in household.targets)
        )
        wishes = len(household.targets) * garden.scenario.years
        reached = TargetsMet(wishes - missed, wishes, household.meet_targets_at == "low yield")
        return GoalScore(goal=self.key, lost=lost, reached=reached)


def _parts_of_choice(garden: Garden, choice: Choice, target: Target) -> int:
    """Return the parts of a target that a choice brings."""
    kg = counted_kg(garden.harvest_of(choice), garden.scenario.household)
    return round(100 * FINE * kg / target.kg)


def _points_short(got: int) -> int:
    """Return the points that so many parts of a target lose at weight 1: every whole per cent that is reached wins."""
    reached = min(100, got // FINE)
    return sum(6 if percent <= 50 else 3 if percent <= 90 else 1 for percent in range(reached + 1, 101))


def _parts_of_plantings(garden: Garden, plan: Plan, target: Target, year: int) -> list[int]:
    household, parts = garden.scenario.household, []
    for planting in plan.plantings:
        ripe, crop = planting.first_harvest, garden.crops[planting.crop]
        if not counts_for(crop, target.crop, household) or ripe is None or planting.last_harvest is None:
            continue
        if garden_year(ripe, garden.scenario.site.south) != year:
            continue
        kg = kilograms_counted(crop, planting, household, garden.percent_of(planting))
        parts.append(round(kg / target.kg * 100 * FINE))
    return parts
