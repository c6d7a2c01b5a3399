"""Good neighbours: crops that help each other stand in the same bed, and those that harm each other do not.

What it asks
    Each bed in which two crops that help each other stand at the height of a growing season (the half month in its
    middle) wins back 1 point; each in which two stand that harm each other loses 10 points, with strong evidence 20.
    Only pairs whose evidence is "some" or "strong" count; tradition alone is a remark, never a reward or a charge.
Why
    Trials put the working distance inside the bed (FINCH-2003); a benefit between beds is not credited. Each pair of
    ``crops/families.yaml`` has its own source: tomato and potato, say, share late blight (CORNELL-LB).
Loosen it
    The lightest of goals: it costs a kilogram at most where a bad neighbour could stand in another bed. A crop file of
    your own may hold other pairs.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from rotasolve.domain.claim import Facts
from rotasolve.domain.plan import GoalScore, Plan
from rotasolve.domain.seasons import period_of
from rotasolve.recount.families import pairs_with_evidence
from rotasolve.recount.seasons import middles_of
from rotasolve.relations.ground.growing_season import growing_periods, heights_of_seasons

if TYPE_CHECKING:
    from rotasolve.board import Board
    from rotasolve.relations.ground.garden import Cell, Garden

POINTS = 1
POINTS_OF_HARM = {"some": 10, "strong": 20}


@dataclass(frozen=True)
class Pair:
    """Two crops, how well it is shown what they do to each other, and how often they stand in one bed."""

    one: str
    other: str
    evidence: str
    times: int


@dataclass(frozen=True)
class PairsTogether(Facts):
    """How often the crops of a helpful pair stand in one bed at the height of a season, and which, and harmful ones."""

    times: int
    helpful: tuple[Pair, ...] = ()
    harmful: tuple[Pair, ...] = ()


class GoodNeighbours:
    """Help stands near, and harm apart."""

    key = "good-neighbours"
    reached = PairsTogether

    def cost(self, garden: Garden, board: Board) -> None:
        """Charge every helpful pair as apart, then win back each half month in which both stand; charge harm."""
        good, bad = (garden.graph.pairs_beside(effect, garden.wanted) for effect in ("good", "bad"))
        for bed in garden.beds:
            cells = tuple(cell for cell in garden.cells if cell.bed == bed)
            for period in heights_of_seasons(garden).values():
                for pair in good:
                    board.lose_always(POINTS)
                    both = self._together(board, cells, period, pair)
                    if both is not None:
                        board.lose(-POINTS, both)
                for pair, evidence in bad.items():
                    marks = [board.stands(cells, period, board.members(cells, frozenset({crop}))) for crop in pair]
                    if None in marks:
                        continue
                    both = board.variable(f"{pair[0]} harms {pair[1]} in {bed} in half month {period}", 1)
                    board.define([*((mark, 1) for mark in marks if mark is not None), (both, -1)], high=1)
                    board.lose(POINTS_OF_HARM[evidence], both)

    @staticmethod
    def _together(board: Board, cells: tuple[Cell, ...], period: int, pair: tuple[str, str]) -> int | None:
        """Return a mark that may be set only where both of a pair stand; None where they never can."""
        standing = [
            sorted({n for cell in cells for n in board.on_cell_by_crop(cell, period).get(crop, ())}) for crop in pair
        ]
        if not all(standing):
            return None
        both = board.variable(f"{pair[0]} beside {pair[1]} in {cells[0].bed} in half month {period}", 1)
        for numbers in standing:
            board.define([*((n, 1) for n in numbers), (both, -1)], low=0)
        return both

    def score(self, garden: Garden, plan: Plan) -> GoalScore:
        """Recount the half months in which both crops of a pair stand in one bed."""
        middles = middles_of(growing_periods(garden), garden.scenario.site.south).values()
        grounds = [
            {p.crop for p in plan.plantings if p.bed == bed and period_of(p.start) <= period <= period_of(p.clear)}
            for bed in garden.beds
            for period in middles
        ]
        found: dict[str, tuple[Pair, ...]] = {}
        for effect in ("good", "bad"):
            known = pairs_with_evidence(garden.catalogue, effect, garden.wanted)
            counted = [Pair(*pair, known[pair], sum({*pair} <= standing for standing in grounds)) for pair in known]
            found[effect] = tuple(pair for pair in counted if pair.times)
        together = sum(pair.times for pair in found["good"])
        apart = len(pairs_with_evidence(garden.catalogue, "good", garden.wanted)) * len(grounds) - together
        harm = sum((20 if pair.evidence == "strong" else 10) * pair.times for pair in found["bad"])
        reached = PairsTogether(together, found["good"], found["bad"])
        return GoalScore(goal=self.key, lost=POINTS * apart + harm, reached=reached)
