"""Winter cover: little ground lies bare from November to March.

What it asks
    Each strip that stands empty for a half month from November to March (in the south from May to September), outside
    the growing season, loses 1 point, with ``winter_cover: much`` 3 points. All winters that begin in the plan count,
    the last one to its end. Leeks, kale, garlic and whatever else stands cover the ground as green manures do.
Why
    Any crop that stands into late autumn keeps nitrogen from being washed out, and the next crop gets it (TK-2004);
    rain beats bare ground down. Common practice for the months, no source for the points.
Loosen it
    ``rules: {winter_cover: not at all}``. A green manure among the crops allowed besides makes it easy to meet.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from rotasolve.domain.claim import Facts
from rotasolve.domain.plan import GoalScore, Plan
from rotasolve.domain.seasons import period_of, year_end
from rotasolve.recount.ground import covered, cut_of
from rotasolve.relations.ground.free_from_before import strips_free
from rotasolve.relations.ground.growing_season import growing_periods

if TYPE_CHECKING:
    from rotasolve.board import Board
    from rotasolve.relations.ground.garden import Garden

POINTS = {"not at all": 0, "usual": 1, "much": 3}


@dataclass(frozen=True)
class WinterCovered(Facts):
    """How much of the ground and of the winters something stands on."""

    covered_percent: int


class WinterCover:
    """Little bare ground in winter."""

    key = "winter-cover"
    reached = WinterCovered

    def cost(self, garden: Garden, board: Board) -> None:
        """Charge all ground as bare, then win back what each block covers."""
        points, south = POINTS[garden.scenario.rules.winter_cover], garden.scenario.site.south
        # The garden year ends two months into its winter, which goes on for three.
        ends = [period_of(year_end(year, south)) for year in garden.scenario.planned_years]
        winter = {period for end in ends for period in range(end - 3, end + 7)} - growing_periods(garden)
        if not points:
            return
        board.lose_always(points * strips_free(garden, winter))
        for number, choice in enumerate(garden.choices):
            standing = sum(period in winter for period in choice.sowing.periods)
            if standing:
                board.lose(-points * choice.block.strips * standing, number)

    def score(self, garden: Garden, plan: Plan) -> GoalScore:
        """Recount from the plantings' dates and strips."""
        scenario, winter = garden.scenario, set()
        for year in scenario.planned_years:
            months = [(year + 1, m) for m in (5, 6, 7, 8, 9)]
            if not scenario.site.south:
                months = [(year, 11), (year, 12), (year + 1, 1), (year + 1, 2), (year + 1, 3)]
            winter |= {period_of(date(*month, day)) for month in months for day in (1, 16)}
        winter -= growing_periods(garden)
        whole = sum(cut_of(bed).strips for bed in scenario.beds) * len(winter)
        bare = whole - len(covered(scenario, plan, winter))
        each = {"not at all": 0, "much": 3}.get(scenario.rules.winter_cover, 1)
        share = round(100 * (whole - bare) / whole) if whole else 0
        return GoalScore(goal=self.key, lost=each * bare, reached=WinterCovered(share))
