"""Empty ground: little ground lies bare in the growing season.

What it asks
    Each strip that stands empty for a half month between four weeks before the last frost and the first frost loses
    1 point: enough to choose between plans that feed the household equally well, too little to grow a glut. Ground on
    which a crop from before the plan still stands is not empty.
Why
    Common practice, no source: bare ground grows weeds and loses soil. Allow a green manure to fill it.
Loosen it
    Nothing needs loosening: any target outweighs it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from rotasolve.domain.claim import Facts
from rotasolve.domain.plan import GoalScore, Plan
from rotasolve.domain.seasons import period_of
from rotasolve.recount.ground import cut_of
from rotasolve.relations.ground.garden import growing_periods

if TYPE_CHECKING:
    from rotasolve.board import Board
    from rotasolve.relations.ground.garden import Garden

POINTS = 1


@dataclass(frozen=True)
class GroundCovered(Facts):
    """What share of the ground and time of the growing season is planted."""

    covered_percent: int


class EmptyGround:
    """Little bare ground."""

    key = "empty-ground"
    reached = GroundCovered

    def cost(self, garden: Garden, board: Board) -> None:
        """Charge all ground as empty that nothing holds from before, then win back what each lot covers."""
        season = growing_periods(garden)
        held = sum(garden.taken_at_start(cell, period) for cell in garden.cells for period in season)
        board.lose_always(POINTS * (sum(garden.cells.values()) * len(season) - held))
        for number, choice in enumerate(garden.choices):
            covered = sum(period in season for period in choice.sowing.periods)
            board.lose(-POINTS * choice.lot.strips * covered, number)

    def score(self, garden: Garden, plan: Plan) -> GoalScore:
        """Recount from the plantings' dates and strips, and from what stood there before."""
        season = growing_periods(garden)
        stood = [
            (past.bed, strip, past.until)
            for past in garden.scenario.history
            for strip in past.strips or range(1, cut_of(garden.beds[past.bed]).strips + 1)
            if past.until is not None
        ]
        whole = sum(cut_of(bed).strips for bed in garden.scenario.beds) * len(season)
        # A set, because a plan that breaks rules may put two crops on one strip.
        ground = {
            (planting.bed, strip, period)
            for planting in plan.plantings
            for strip in planting.strips
            for period in range(period_of(planting.start), period_of(planting.clear) + 1)
            if period in season
        } | {(bed, strip, period) for bed, strip, until in stood for period in season if period <= period_of(until)}
        covered = min(whole, len(ground))
        lost = POINTS * (whole - covered)
        share = round(100 * covered / whole) if whole else 0
        return GoalScore(goal=self.key, lost=lost, reached=GroundCovered(share))
