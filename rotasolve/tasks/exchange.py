"""The exchange curve: what every wish loses when more people are to be fed, or more of one crop is to be had.

Each point is the same garden with harder wishes, so a plan of one point is a plan of another. Two facts make the curve
monotone, and let points help one another:

* *More people.* All targets grow by the same factor and surplus costs nothing. Take any plan: with larger targets each
  planting is a smaller share of its target, so no wish is better met, while neighbours, rest, bare ground and fresh
  half months are as before. Hence the plan loses at least as many points at the harder point, and so does the best one.
* *More of one crop.* Its kilograms are demanded by a rule and it has no target. Whatever keeps the harder rule keeps
  the easier one and loses the same points. Hence the best plan of the easier point loses no more.

So a plan counts at every easier point for no more than it loses, and what every plan must lose at a point, every plan
must lose at every harder one. The hardest point is searched first, the others start from their harder neighbour's plan.
"""

from __future__ import annotations

import threading
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from rotasolve.domain.exchange import Exchange, ExchangePoint
from rotasolve.domain.household import MustHave
from rotasolve.errors import GardenFault
from rotasolve.referee import recount
from rotasolve.relations.garden import make_garden
from rotasolve.relations.wanted import with_targets
from rotasolve.solver.cpsat import Limits
from rotasolve.solver.incumbent import gap_of
from rotasolve.solver.search import Found, Known, Search

if TYPE_CHECKING:
    from rotasolve.domain.catalogue import Catalogue
    from rotasolve.domain.plan import Plan
    from rotasolve.domain.scenario import Scenario
    from rotasolve.relations.garden import Garden
    from rotasolve.solver.incumbent import Progress
    from rotasolve.solver.parts import LaidOut

MOST_POINTS = 24
_FIRST_SHARE = 0.4
"""Share of the limit for the first point, which starts from nothing."""
_AGAIN_SHARE = 0.08
"""Share of the limit for one more look at a point that is not near enough."""
_LEAST_SECONDS = 1.0


def usual_amounts(people: int) -> tuple[float, ...]:
    """Return the six numbers of people around ``people``: down to three fewer, up to two more."""
    first = max(1, people - 3)
    return tuple(float(number) for number in range(first, first + 6))


def asked_for(scenario: Scenario, catalogue: Catalogue, amount: float, crop: str | None) -> Scenario:
    """Return the scenario of one point: its wishes for ``amount`` people, or ``amount`` kg of the crop a year.

    Raises
    ------
    GardenFault
        If the scenario does not say how many people its targets are for, or the catalogue has no such crop.
    """
    scenario = with_targets(scenario, catalogue)
    household = scenario.household
    if crop is None:
        if household.people is None or not household.targets:
            raise GardenFault("the scenario names no people or no targets; add both under household, or name a crop")
        factor = amount / household.people
        targets = tuple(target.model_copy(update={"kg": target.kg * factor}) for target in household.targets)
        return _with_household(scenario, targets=targets, surplus="welcome")
    if all(known.name != crop or known.green_manure for known in catalogue.crops):
        raise GardenFault(f"no harvest of a crop '{crop}' is known")
    # Allowed besides, so that the garden offers the same sowings where nothing of the crop is asked for.
    allowed = dict.fromkeys((*scenario.also_allowed, crop))
    scenario = scenario.model_copy(update={"also_allowed": tuple(allowed)})
    demanded = (MustHave(crop=crop, kg=amount),) if amount > 0 else ()
    targets = tuple(target for target in household.targets if target.crop != crop)
    return _with_household(scenario, targets=targets, must_have=(*household.must_have, *demanded))


def _with_household(scenario: Scenario, **changes: object) -> Scenario:
    return scenario.model_copy(update={"household": scenario.household.model_copy(update=changes)})


@dataclass
class _Point:
    amount: float
    garden: Garden
    plan: Plan | None = None
    laid_out: LaidOut | None = None
    plan_from: float | None = None
    lost: int | None = None
    at_least: int = 0
    lost_if_empty: int = 0
    impossible: bool = False
    looked: int = 0
    seconds: float = 0.0

    @property
    def gap(self) -> float:
        return 1.0 if self.lost is None else gap_of(self.lost, self.at_least, self.lost_if_empty)

    def offer(self, plan: Plan, laid_out: LaidOut, found_at: float) -> None:
        """Keep a plan found anywhere on the curve if it keeps the rules here and loses fewer points."""
        if self.impossible:
            return
        judged = recount(self.garden, plan)
        lost = sum(goal.lost for goal in judged.goals)
        if not judged.verdict.breaches and (self.lost is None or lost < self.lost):
            self.plan, self.laid_out, self.lost, self.plan_from = judged, laid_out, lost, found_at


@dataclass
class _Curve:
    """The points from the hardest to the easiest, and the search for them."""

    points: list[_Point]
    limits: Limits
    on_progress: Callable[[Progress], None]
    on_point: Callable[[float], None]
    stop: threading.Event
    begun: float = field(default_factory=time.monotonic)
    granted: float = 0.0

    @property
    def whole(self) -> float:
        return self.limits.effort if self.limits.effort is not None else self.limits.seconds or 1.0

    @property
    def left(self) -> float:
        """What is left of the limit, in seconds or deterministic units."""
        return self.whole - (self.granted if self.limits.effort is not None else time.monotonic() - self.begun)

    def run(self) -> None:
        for number, point in enumerate(self.points):
            if self.stop.is_set():
                return
            cold = all(other.laid_out is None for other in self.points)
            rest = len(self.points) - number
            share = max(self.left / rest, self.whole * _FIRST_SHARE) if cold else self.left / rest
            self.look(point, share)
        while not self.stop.is_set() and self.left > _LEAST_SECONDS:
            far = [point for point in self.points if point.lost is not None and point.gap > self.limits.gap]
            if not far:
                return
            # Those looked at least often first, and of them the farthest from its bound.
            self.look(min(far, key=lambda point: (point.looked, -point.gap)), self.whole * _AGAIN_SHARE)

    def look(self, point: _Point, amount: float) -> None:
        """Search one point for a while, from the best plan known for it, and let all points know what was found."""
        begun = time.monotonic()
        self.on_point(point.amount)
        amount = max(0.1, min(amount, self.left))
        self.granted += amount
        timed = self.limits.effort is None
        limits = replace(self.limits, seconds=amount if timed else None, effort=None if timed else amount)
        start = point.laid_out or next((p.laid_out for p in self.points if p.laid_out is not None), None)
        known = Known(start, point.at_least, bound_is_tight=point.looked > 0)
        found = Search(point.garden, limits, self.on_progress, self.stop, known).run()
        point.looked += 1
        point.seconds += time.monotonic() - begun
        if isinstance(found, Found):
            standing = found.plan.standing
            assert standing is not None
            point.lost_if_empty = standing.lost_if_empty
            point.at_least = max(point.at_least, standing.at_least_lost)
            for other in self.points:
                other.offer(found.plan, found.laid_out, point.amount)
        elif found == "none possible":
            point.impossible = True
        self.raise_bounds()

    def raise_bounds(self) -> None:
        """Carry what every plan must lose from each point to the harder ones."""
        least = 0
        for point in reversed(self.points):
            least = point.at_least = max(point.at_least, least)
            if point.lost is not None:
                point.at_least = least = min(point.at_least, point.lost)


def exchange_curve(
    scenario: Scenario,
    catalogue: Catalogue,
    amounts: Sequence[float],
    crop: str | None = None,
    limits: Limits | None = None,
    on_progress: Callable[[Progress], None] = lambda progress: None,
    on_point: Callable[[float], None] = lambda amount: None,
    stop: threading.Event | None = None,
) -> Exchange:
    """Return the best plan known for each amount, with how far it can be from the best possible one.

    Parameters
    ----------
    amounts
        People, or kilograms of ``crop`` a year, in any order; each is searched once.
    limits
        Wall seconds or deterministic effort for the whole curve, and the gap that is near enough for a point.
    on_point
        Called with the amount of each point whose search begins.

    Raises
    ------
    GardenFault
        If the scenario says nothing of people, or the crop is not known.
    """
    limits, begun = limits or Limits(seconds=80.0, gap=0.04), time.monotonic()
    hardest_first = sorted(set(amounts), reverse=True)
    points = [
        _Point(amount, make_garden(asked_for(scenario, catalogue, amount, crop), catalogue))
        for amount in hardest_first
    ]
    curve = _Curve(points, limits, on_progress, on_point, stop or threading.Event())
    curve.run()
    seconds = None if limits.effort is not None else round(time.monotonic() - begun, 1)
    return Exchange(
        scenario_title=scenario.title,
        crop=crop,
        points=tuple(_told(point, limits) for point in reversed(points)),
        limit=limits.words(),
        seed=limits.seed,
        seconds=seconds,
    )


def _told(point: _Point, limits: Limits) -> ExchangePoint:
    if point.lost is None or point.plan is None:
        outcome = "impossible" if point.impossible else "none found"
        return ExchangePoint(amount=point.amount, outcome=outcome, at_least_lost=point.at_least)
    return ExchangePoint(
        amount=point.amount,
        outcome="proven best" if point.at_least >= point.lost else "good, not proven",
        lost=point.lost,
        at_least_lost=point.at_least,
        lost_if_empty=point.lost_if_empty,
        gap=round(point.gap, 4),
        plan=point.plan.model_copy(update={"standing": None}),
        plan_from=point.plan_from,
        seconds=round(point.seconds, 1) if limits.effort is None else 0.0,
    )
