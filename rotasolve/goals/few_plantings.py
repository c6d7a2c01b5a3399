"""Few plantings: a bed carries a few sensible plantings, not a strip of everything.

What it asks
    Each planting (a block of one crop, started in one way on one day) loses 30 points, a green manure 5, whatever
    ground it takes. ``few_plantings`` says how much that counts: ``usual``, ``much`` (three times as many points),
    ``little`` (a third) or ``not at all``; ``whole beds`` charges as ``usual`` where only whole beds are offered. What
    was kept is not charged. How small a block may be goes by the same setting (``relations/ground/sizes``).
Why
    Published rotations have one to four crops in a bed and year; each planting is a job to sow, to label, to thin and
    to clear. Common practice, no source for the points: a bed's corner with three plants is worth less than the work.
Loosen it
    ``rules: {few_plantings: not at all}`` lets every corner be used.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from rotasolve.domain.claim import Facts
from rotasolve.domain.plan import GoalScore, Plan

if TYPE_CHECKING:
    from rotasolve.board import Board
    from rotasolve.domain.crop import Crop
    from rotasolve.domain.scenario import Rules
    from rotasolve.relations.ground.garden import Garden

POINTS = {"not at all": 0, "little": 10, "usual": 30, "much": 90, "whole beds": 30}
COVERS_COST_A_SIXTH = 6
"""A green manure asks for less work, and its ground would else lie bare."""


@dataclass(frozen=True)
class PlantingsCounted(Facts):
    """How many plantings are charged, on how many beds in how many years."""

    plantings: int
    beds: int
    years: int


class FewPlantings:
    """Few sensible plantings."""

    key = "few-plantings"
    reached = PlantingsCounted

    def cost(self, garden: Garden, board: Board) -> None:
        """Charge each planting on its own choice."""
        for number, choice in enumerate(garden.choices):
            if choice.sowing.kept is None or not choice.sowing.kept.held:
                board.lose(_points(garden.crops[choice.sowing.crop], garden.scenario.rules), number)

    def score(self, garden: Garden, plan: Plan) -> GoalScore:
        """Count the plantings of the plan."""
        told = [planting.crop for planting in plan.plantings if not planting.kept]
        lost = sum(_charged(garden.crops[crop].green_manure, garden.scenario.rules) for crop in told)
        reached = PlantingsCounted(len(told), len(garden.scenario.beds), garden.scenario.years)
        return GoalScore(goal=self.key, lost=lost, reached=reached)


def _points(crop: Crop, rules: Rules) -> int:
    whole = POINTS[rules.few_plantings]
    return whole // COVERS_COST_A_SIXTH if crop.green_manure else whole


def _charged(green_manure: bool, rules: Rules) -> int:
    """Return the points of one planting, worked out anew."""
    each = POINTS[rules.few_plantings]
    return (each - each % COVERS_COST_A_SIXTH) // COVERS_COST_A_SIXTH if green_manure else each
