"""Succession cover: fresh harvest in every half month in which the household wishes it.

What it asks
    For each target with fresh months, each half month of those months in each garden year in which no planting of
    the crop is being picked loses 10 points times the target's weight.
Why
    A glut in one fortnight feeds nobody in the next; growers sow salads and roots again every 10 to 21 days (Iowa,
    RHS and Virginia bulletins, S31 to S34).
Loosen it
    Leave out fresh_from and fresh_to, or name fewer months.
"""

from __future__ import annotations

from collections.abc import Container, Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from typing import TYPE_CHECKING

from rotasolve.domain.claim import Facts
from rotasolve.domain.plan import GoalScore, Plan
from rotasolve.domain.seasons import garden_year, last_day, period_of
from rotasolve.relations.household.outcomes import fresh_periods, picked_in

if TYPE_CHECKING:
    from rotasolve.board import Board
    from rotasolve.relations.ground.garden import Garden

POINTS = 10


def _wished(garden: Garden, months: Container[int]) -> Iterator[int]:
    """Yield the half months of the plan's garden years that lie in some months, going from one to the next by days."""
    years, south = garden.scenario.planned_years, garden.scenario.site.south
    day = date(years[0], 1, 1)
    while garden_year(day, south) <= years[-1]:
        if day.month in months and garden_year(day, south) in years:
            yield period_of(day)
        day = last_day(period_of(day)) + timedelta(days=1)


@dataclass(frozen=True)
class FreshHalfMonths(Facts):
    """In how many of the half months wished there is something to pick."""

    picked_half_months: int
    wished_half_months: int


class SuccessionCover:
    """Something to pick."""

    key = "succession-cover"
    reached = FreshHalfMonths

    def cost(self, garden: Garden, board: Board) -> None:
        """Charge each wished half month in which nothing of the crop is picked."""
        for target in garden.scenario.household.targets:
            if not target.fresh_months:
                continue
            picked: dict[int, list[int]] = {}
            for number, choice in enumerate(garden.choices):
                for period in choice.sowing.picked if choice.sowing.crop == target.crop else ():
                    picked.setdefault(period, []).append(number)
            for period in fresh_periods(garden, target):
                points = POINTS * target.weight
                if period not in picked:
                    board.lose_always(points)
                    continue
                bare = board.variable(f"no {target.crop} to pick in half month {period}", 1)
                board.define([(bare, 1), *((number, 1) for number in picked[period])], low=1)
                board.lose(points, bare)

    def score(self, garden: Garden, plan: Plan) -> GoalScore:
        """Look for a planting whose picking dates touch each wished half month."""
        lost = bare = wished = 0
        for target in garden.scenario.household.targets:
            ours = [planting for planting in plan.plantings if planting.crop == target.crop]
            for period in _wished(garden, target.fresh_months):
                wished += 1
                if not picked_in(ours, period):
                    bare += 1
                    lost += POINTS * target.weight
        return GoalScore(goal=self.key, lost=lost, reached=FreshHalfMonths(wished - bare, wished))
