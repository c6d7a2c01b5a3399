"""Succession cover: fresh harvest in every half month in which the household wishes it.

What it asks
    For each target with fresh months, each half month of those months in each garden year in which no planting of
    the crop is being picked loses 10 points times the target's weight. Where the target says ``kg_a_week``, it goes by
    amount: each tenth of what is wished in a half month that is not picked then loses 1 point times the weight, and
    each tenth beyond twice the wish 1 point, unless ``surplus: welcome``. A harvest is spread evenly over its days of
    picking, a wish over the days of its months.
Why
    A glut in one fortnight feeds nobody in the next; growers sow salads and roots again every 10 to 21 days (Iowa,
    RHS and Virginia bulletins, S31 to S34).
Loosen it
    Leave out fresh_from and fresh_to, name fewer months, or wish less a week.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Container, Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from typing import TYPE_CHECKING

from rotasolve.domain.claim import Facts
from rotasolve.domain.plan import GoalScore, Plan
from rotasolve.domain.seasons import garden_year, last_day, period_of
from rotasolve.recount.harvests import counts_for, thousandths_by_half_month
from rotasolve.relations.household.outcomes import days_between, fresh_periods, picked_in, wished_kg
from rotasolve.relations.household.wanted import counted_kg

if TYPE_CHECKING:
    from rotasolve.board import Board
    from rotasolve.domain.household import Target
    from rotasolve.relations.ground.garden import Garden

POINTS = 10
WHOLE, TENTHS, GLUT_FROM = 1000, 10, 2000
"""By amount: thousandths of a wish, the steps in which it is charged, and from how many thousandths on it is a glut."""


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
    """In how many of the half months wished there is something to pick.

    By amount: in how many of those wished so at least nine tenths of the wish is there, and in how many over twice.
    """

    picked_half_months: int
    wished_half_months: int
    enough_half_months: int = 0
    wished_by_amount: int = 0
    glut_half_months: int = 0


class SuccessionCover:
    """Something to pick."""

    key = "succession-cover"
    reached = FreshHalfMonths

    def cost(self, garden: Garden, board: Board) -> None:
        """Charge each wished half month in which nothing of the crop is picked."""
        for target in garden.scenario.household.targets:
            if target.kg_a_week is not None:
                _charge_amounts(garden, board, target)
                continue
            picked: dict[int, list[int]] = {}
            kinds = garden.meeting(target.crop)
            for number, choice in enumerate(garden.choices):
                for period in choice.sowing.picked if choice.sowing.crop in kinds else ():
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
        household = garden.scenario.household
        for target in household.targets:
            ours = [one for one in plan.plantings if counts_for(garden.crops[one.crop], target.crop, household)]
            for period in _wished(garden, target.fresh_months):
                if target.kg_a_week is not None:
                    continue
                wished += 1
                if not picked_in(ours, period):
                    bare += 1
                    lost += POINTS * target.weight
        amounts = [each for target in garden.scenario.household.targets for each in _amounts(garden, plan, target)]
        lost += sum(points for points, _ in amounts)
        enough, glut = (sum(got >= 900 for _, got in amounts), sum(got > 2000 for _, got in amounts))
        reached = FreshHalfMonths(wished - bare, wished, enough, len(amounts), glut)
        return GoalScore(goal=self.key, lost=lost, reached=reached)


def _charge_amounts(garden: Garden, board: Board, target: Target) -> None:
    """Charge what is missing in each half month, and what is too much, in tenths of the wish."""
    household, kinds = garden.scenario.household, garden.meeting(target.crop)
    grown = [n for n in range(len(garden.choices)) if board.crop_of(n) in kinds]
    for period in fresh_periods(garden, target):
        wish, terms = wished_kg(target, period), []
        for number in grown:
            choice = garden.choices[number]
            first, last = choice.sowing.course.first_harvest, choice.sowing.course.last_harvest
            if first is None or last is None or period not in choice.sowing.picked:
                continue
            kg = counted_kg(garden.harvest_of(choice), household)
            days, whole = days_between(first, last, period), (last - first).days + 1
            terms.append((number, round(WHOLE * kg * days / whole / wish)))
        if not terms:
            board.lose_always(TENTHS * target.weight)
            continue
        short = board.variable(f"tenths of {target.crop} missing in half month {period}", TENTHS)
        board.define([*terms, (short, WHOLE // TENTHS)], low=WHOLE)
        board.lose(target.weight, short)
        most = sum(parts * board.upper[number] for number, parts in terms)
        if household.surplus == "avoid" and most > GLUT_FROM:
            glut = board.variable(f"tenths of {target.crop} too many in half month {period}", most // (WHOLE // TENTHS))
            board.define([*terms, (glut, -(WHOLE // TENTHS))], high=GLUT_FROM)
            board.lose(1, glut)


def _amounts(garden: Garden, plan: Plan, target: Target) -> Iterator[tuple[int, int]]:
    """Yield the points that each half month wished by amount loses, and the thousandths of its wish that it brings."""
    if target.kg_a_week is None:
        return
    got = Counter[int]()
    for planting in plan.plantings:
        if counts_for(garden.crops[planting.crop], target.crop, garden.scenario.household):
            crop, percent = garden.crops[planting.crop], garden.percent_of(planting)
            got.update(thousandths_by_half_month(crop, planting, garden.scenario.household, percent, target))
    for period in _wished(garden, target.fresh_months):
        missing, beyond = max(0, 1000 - got[period]), max(0, got[period] - 2000)
        glut = -(-beyond // 100) if garden.scenario.household.surplus == "avoid" else 0
        yield target.weight * -(-missing // 100) + glut, got[period]
