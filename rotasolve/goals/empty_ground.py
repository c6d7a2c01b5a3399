"""Empty ground: little ground lies bare in the growing season.

What it asks
    Each strip that stands empty for a half month between four weeks before the last frost and the first frost loses
    1 point: enough to choose between plans that feed the household equally well, too little to grow a glut. What stands
    there from before the plan (``until`` in the history) covers it too.
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
from rotasolve.recount.ground import covered, cut_of
from rotasolve.relations.ground.free_from_before import strips_free
from rotasolve.relations.ground.growing_season import growing_periods

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
        """Charge all ground as empty that nothing holds from before, then win back what each block covers."""
        season = growing_periods(garden)
        board.lose_always(POINTS * strips_free(garden, season))
        for number, choice in enumerate(garden.choices):
            standing = sum(period in season for period in choice.sowing.periods)
            board.lose(-POINTS * choice.block.strips * standing, number)

    def score(self, garden: Garden, plan: Plan) -> GoalScore:
        """Recount from the plantings' dates and strips, and from what stood there before."""
        season = growing_periods(garden)
        whole = sum(cut_of(bed).strips for bed in garden.scenario.beds) * len(season)
        stands = len(covered(garden.scenario, plan, season))
        share = round(100 * stands / whole) if whole else 0
        return GoalScore(goal=self.key, lost=POINTS * (whole - stands), reached=GroundCovered(share))
