"""Good neighbours: crops with evidence of helping each other stand in the same bed.

What it asks
    Each bed in which two such crops stand at the height of a growing season (the half month in its middle) wins back
    1 point. Only pairs whose evidence is "some" or "strong" count; tradition alone is a remark, never a reward.
Why
    Trials put the working distance inside the bed (FINCH-2003); a benefit between beds is not credited.
Loosen it
    The lightest goal: it never costs a kilogram.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from rotasolve.domain.claim import Facts
from rotasolve.domain.plan import GoalScore, Plan
from rotasolve.domain.seasons import first_day, garden_year, period_of
from rotasolve.recount.families import helpful_pairs
from rotasolve.relations.ground.garden import growing_periods

if TYPE_CHECKING:
    from rotasolve.board import Board
    from rotasolve.relations.ground.garden import Garden

POINTS = 1


def looked_at(garden: Garden) -> list[int]:
    """Return the half month in the middle of each growing season."""
    south = garden.scenario.site.south
    seasons: dict[int, list[int]] = {}
    for period in sorted(growing_periods(garden)):
        seasons.setdefault(garden_year(first_day(period), south), []).append(period)
    return [periods[len(periods) // 2] for periods in seasons.values()]


@dataclass(frozen=True)
class PairsTogether(Facts):
    """How often the crops of a helpful pair stand in one bed at the height of a season."""

    times: int


class GoodNeighbours:
    """Help stands near."""

    key = "good-neighbours"
    reached = PairsTogether

    def cost(self, garden: Garden, board: Board) -> None:
        """Charge every pair as apart, then win back each half month in which both stand."""
        for one, other in garden.graph.good_neighbours(garden.wanted):
            for bed in garden.beds:
                cells = tuple(cell for cell in garden.cells if cell.bed == bed)
                ours, theirs = board.members(cells, frozenset({one})), board.members(cells, frozenset({other}))
                for period in looked_at(garden):
                    board.lose_always(POINTS)
                    here = [n for n in ours if period in garden.choices[n].sowing.periods]
                    there = [n for n in theirs if period in garden.choices[n].sowing.periods]
                    if not here or not there:
                        continue
                    both = board.variable(f"{one} beside {other} in {bed} in half month {period}", 1)
                    for numbers in (here, there):
                        board.define([*((n, 1) for n in sorted(numbers)), (both, -1)], low=0)
                    board.lose(-POINTS, both)

    def score(self, garden: Garden, plan: Plan) -> GoalScore:
        """Recount the half months in which both crops of a pair stand in one bed."""
        lost = together = 0
        season = sorted(growing_periods(garden))
        years = [garden_year(first_day(period), garden.scenario.site.south) for period in season]
        # The middle one of an odd number, the later of the two in the middle of an even one.
        middles = [season[(years.index(year) + len(years) - years[::-1].index(year)) // 2] for year in sorted({*years})]
        for one, other in helpful_pairs(garden.catalogue, garden.wanted):
            for bed in garden.beds:
                for period in middles:
                    standing = {
                        planting.crop
                        for planting in plan.plantings
                        if planting.bed == bed and period_of(planting.start) <= period <= period_of(planting.clear)
                    }
                    if {one, other} <= standing:
                        together += 1
                    else:
                        lost += POINTS
        return GoalScore(goal=self.key, lost=lost, reached=PairsTogether(together))
