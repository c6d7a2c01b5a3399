"""Few plantings: a bed carries a few sensible plantings, not a strip of everything.

What it asks
    Each sowing of a crop that is used in a bed (one crop started in one way on one day and cleared on one day) loses
    30 points, a green manure 5, whatever ground it takes. ``few_plantings`` says how much that counts: ``usual``,
    ``much`` (three times as many points), ``little`` (a third) or ``not at all``. What was kept is not charged.
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

POINTS = {"not at all": 0, "little": 10, "usual": 30, "much": 90}
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
        """Charge each sowing used in a bed once, by a mark where it may take several places or lots."""
        used: dict[tuple[str, str], list[int]] = {}
        for number, choice in enumerate(garden.choices):
            if choice.sowing.kept is None:
                used.setdefault((choice.bed, choice.sowing.name), []).append(number)
        for (bed, name), numbers in used.items():
            crop = garden.crops[garden.choices[numbers[0]].sowing.crop]
            points = _points(crop, garden.scenario.rules)
            if not points:
                continue
            if len(numbers) == 1 and board.upper[numbers[0]] <= 1:
                board.lose(points, numbers[0])
                continue
            mark = board.variable(f"{name} used in {bed}", 1)
            for number in numbers:
                board.define([(number, 1), (mark, -board.upper[number])], high=0)
            board.lose(points, mark)

    def score(self, garden: Garden, plan: Plan) -> GoalScore:
        """Count the plantings of the plan, those of one start in one bed as one."""
        told = {(p.bed, p.crop, p.way, p.start, p.clear) for p in plan.plantings if not p.kept}
        lost = sum(_charged(garden.crops[crop].green_manure, garden.scenario.rules) for _, crop, _, _, _ in told)
        reached = PlantingsCounted(len(told), len(garden.scenario.beds), garden.scenario.years)
        return GoalScore(goal=self.key, lost=lost, reached=reached)


def _points(crop: Crop, rules: Rules) -> int:
    whole = POINTS[rules.few_plantings]
    return whole // COVERS_COST_A_SIXTH if crop.green_manure else whole


def _charged(green_manure: bool, rules: Rules) -> int:
    """Return the points of one planting, worked out anew."""
    each = POINTS[rules.few_plantings]
    return (each - each % COVERS_COST_A_SIXTH) // COVERS_COST_A_SIXTH if green_manure else each
