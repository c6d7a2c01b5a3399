"""Longer rest: families stay away from the same ground a year longer than they must, where that costs little.

What it asks
    Each pair of visits of one family to the same bed (or strip) that keeps the hard gap but not the wished one
    loses 15 points, earlier years included.
Why
    The preventive profile: 2 complete years are the published minimum, 3 and more are advised where there is room.
Loosen it
    ``rules: {family_gap_wished: 2}`` makes the wish no longer than the rule.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations
from typing import TYPE_CHECKING

from rotasolve.domain.claim import Facts
from rotasolve.domain.plan import GoalScore, Plan
from rotasolve.domain.seasons import garden_year
from rotasolve.recount.families import restings
from rotasolve.recount.ground import cut_of

if TYPE_CHECKING:
    from rotasolve.board import Board
    from rotasolve.domain.bed import Bed
    from rotasolve.relations.ground.garden import Garden

POINTS = 15


@dataclass(frozen=True)
class EarlyReturns(Facts):
    """How often a family comes back later than it must and sooner than wished."""

    returns: int


class LongerRest:
    """A year more than the rule asks."""

    key = "longer-rest"
    reached = EarlyReturns

    def cost(self, garden: Garden, board: Board) -> None:
        """Charge each pair of host years that lies between the hard and the wished gap."""
        years = garden.crop_years
        for zone, cells in garden.zones.items():
            for group in garden.rest_groups(cells[0].bed):
                if group.gap_wished <= group.gap or not board.members(cells, group.crops):
                    continue
                marks = {year: board.host_year(zone, group, year) for year in years}
                past = {crop_year for crop_year, _ in garden.past_years(zone, group)}
                for year, mark in marks.items():
                    if mark is None:
                        continue
                    for earlier in range(year - group.gap_wished, year - group.gap):
                        other = marks.get(earlier)
                        if earlier in past:
                            board.lose(POINTS, mark)
                        elif other is not None:
                            both = board.variable(f"{group.name} in {zone} in {earlier} and {year}", 1)
                            board.define([(mark, 1), (other, 1), (both, -1)], high=1)
                            board.lose(POINTS, both)

    def score(self, garden: Garden, plan: Plan) -> GoalScore:
        """Recount the visits from the plantings and the history."""
        south, rules, pairs = garden.scenario.site.south, garden.scenario.rules, 0
        grounds: list[tuple[Bed, int | None]] = [(bed, None) for bed in garden.scenario.beds]
        if rules.rotation == "strip":
            grounds = [(bed, strip) for bed, _ in grounds for strip in range(1, cut_of(bed).strips + 1)]
        for bed, strip in grounds:
            for group in restings(garden.catalogue, rules, bed):
                planned = {
                    garden_year(planting.first_harvest or planting.start, south)
                    for planting in plan.plantings
                    if planting.bed == bed.name
                    and planting.crop in group.crops
                    and (strip is None or strip in planting.strips)
                }
                past = {
                    old.year
                    for old in garden.scenario.history
                    if old.bed == bed.name
                    and old.crop in group.crops
                    and (strip is None or not old.strips or strip in old.strips)
                }
                for one, other in combinations(sorted(planned | past), 2):
                    if other in planned and group.gap < other - one <= group.gap_wished:
                        pairs += 1
        return GoalScore(goal=self.key, lost=POINTS * pairs, reached=EarlyReturns(pairs))
