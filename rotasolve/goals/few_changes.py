"""Few changes: a plan made from an earlier one changes what it must, and beyond that little.

What it asks
    Each planting of the earlier plan that does not stand in the new one as it was (bed, strips, crop, way, days and
    number of plants) loses 100 points, whether it is moved, changed or dropped. ``few_changes`` says how much that
    counts: ``usual``, ``much`` (1,000 points), ``little`` (30) or ``not at all``. What is kept, what failed and what
    the scenario no longer wants is not charged; a plan made from nothing is charged nothing.
Why
    Seed is bought, neighbours are told, the grower has the plan in mind: a change must be worth its trouble. Common
    practice, no source for the points: at 100 a planting is changed where that wins a twelfth of a target of usual
    weight of which little is met, or a quarter of one that is nearly met.
Loosen it
    ``rules: {few_changes: not at all}`` plans on as if from nothing, with the earlier plan as a start.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING

from rotasolve.domain.claim import Facts
from rotasolve.domain.plan import GoalScore, Plan

if TYPE_CHECKING:
    from collections.abc import Iterable

    from rotasolve.board import Board
    from rotasolve.domain.plan import Planting
    from rotasolve.relations.ground.garden import Garden

POINTS = {"not at all": 0, "little": 30, "usual": 100, "much": 1_000}


@dataclass(frozen=True)
class PlantingsChanged(Facts):
    """How many plantings of the earlier plan changed, of how many that could."""

    changed: int
    plantings: int


class FewChanges:
    """Little changed against an earlier plan."""

    key = "few-changes"
    reached = PlantingsChanged

    def cost(self, garden: Garden, board: Board) -> None:
        """Charge every planting as changed, then win back each that stands as it was.

        In a bed of counts only the choice made for it is known to stand on its strips.
        """
        points = POINTS[garden.scenario.rules.few_changes]
        before = {(p.bed, p.strips, p.crop, p.way, p.start, p.clear, p.plants) for p in garden.before}
        board.lose_always(points * len(garden.before))
        for number, choice in enumerate(garden.choices):
            sowing, kept = choice.sowing, choice.sowing.kept
            strips = tuple(cell.strip for cell in choice.cells) if kept is None else kept.strips
            where = (choice.bed, strips, sowing.crop, sowing.way, sowing.start, sowing.course.clear)
            if (*where, choice.block.plants) in before:
                board.lose(-points, number)

    def score(self, garden: Garden, plan: Plan) -> GoalScore:
        """Look for each planting of the earlier plan in the new one."""
        gone = (_counted(garden.before) - _counted(plan.plantings)).total()
        each = POINTS[garden.scenario.rules.few_changes]
        return GoalScore(goal=self.key, lost=each * gone, reached=PlantingsChanged(gone, len(garden.before)))


def _counted(plantings: Iterable[Planting]) -> Counter[tuple[object, ...]]:
    """Return what makes each planting what it is, with how often it is there."""
    return Counter((p.bed, tuple(sorted(p.strips)), p.crop, p.way, p.start, p.clear, p.plants) for p in plantings)
