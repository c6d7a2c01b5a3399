"""Longer rest: families stay away from the same ground a year longer than they must, where that costs little.

What it asks
    Each pair of visits of one family to the same bed (or strip) that keeps the hard gap but not the wished one
    loses 15 points, earlier years included. Plantings that are hosts in the same garden years are one visit; which
    years those are, the rule ``rest`` says.
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
from rotasolve.recount.families import restings, stay_of, stays_before
from rotasolve.recount.ground import cut_of
from rotasolve.relations.ground.hosts import HostYears, rest_too_short

if TYPE_CHECKING:
    from rotasolve.board import Board
    from rotasolve.relations.ground.families import RestGroup
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
        """Charge each pair of visits that has fewer years between than wished, and as many as it must."""
        for zone, cells in garden.zones.items():
            for group in garden.rest_groups(cells[0].bed):
                if group.gap_wished <= group.gap or not board.members(cells, group.crops):
                    continue
                visits = board.visits(zone, group)
                for years, mark in visits.items():
                    for before in garden.past_visits(zone, group):
                        if _sooner_than_wished(years, before, group):
                            board.lose(POINTS, mark)
                for (one, mark), (other, again) in combinations(visits.items(), 2):
                    if _sooner_than_wished(one, other, group):
                        both = board.variable(f"{group.name} in {zone} in {one} and {other}", 1)
                        board.define([(mark, 1), (again, 1), (both, -1)], high=1)
                        board.lose(POINTS, both)

    def score(self, garden: Garden, plan: Plan) -> GoalScore:
        """Recount the visits from the plantings and the history."""
        scenario, pairs = garden.scenario, 0
        for bed in scenario.beds:
            here = [planting for planting in plan.plantings if planting.bed == bed.name]
            strips = range(1, cut_of(bed).strips + 1) if scenario.rules.rotation == "strip" else (0,)
            for group in restings(garden.catalogue, scenario, bed):
                hosts = [planting for planting in here if planting.crop in group.crops]
                for strip in strips:
                    planned = {
                        (stay.first, stay.last): stay
                        for stay in (stay_of(p, scenario.site.south) for p in hosts if not strip or strip in p.strips)
                    }
                    before = {(s.first, s.last): s for s in stays_before(scenario, group, bed.name, strip)}
                    old = ((one, other) for one in before.values() for other in planned.values())
                    for one, other in (*old, *combinations(planned.values(), 2)):
                        rest = one.rest_to(other)
                        pairs += rest is not None and group.gap <= rest < group.gap_wished
        return GoalScore(goal=self.key, lost=POINTS * pairs, reached=EarlyReturns(pairs))


def _sooner_than_wished(one: HostYears, other: HostYears, group: RestGroup) -> bool:
    return rest_too_short(one, other, group.gap_wished) and not rest_too_short(one, other, group.gap)
