"""The exchange curve: what every wish loses when more people are to be fed, or more of one crop is to be had.

Each point is the same garden with harder wishes, so a plan of one point is a plan of another. Two facts make the curve
monotone, and let points help one another:

* *More people.* All targets grow by the same factor and surplus costs nothing. Take any plan: with larger targets each
  planting is a smaller share of its target, so no wish is better met, while neighbours, rest, bare ground and fresh
  half months are as before. Hence the plan loses at least as many points at the harder point, and so does the best one.
* *More of one crop.* Its kilograms are demanded by a rule and it has no target. Whatever keeps the harder rule keeps
  the easier one and loses the same points. Hence the best plan of the easier point loses no more.

So a plan counts at every easier point for no more than it loses, and what every plan must lose at a point, every plan
must lose at every harder one. The hardest point that has a plan is searched first; all others start from it, or from
the best plan that any search has found for them since.
"""

from __future__ import annotations

import math
import threading
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import TYPE_CHECKING

from rotasolve.domain.exchange import Exchange, ExchangePoint, PointOutcome
from rotasolve.domain.household import MustHave
from rotasolve.errors import GardenFault
from rotasolve.referee import blank_plan, recount, score
from rotasolve.relations.ground.garden import make_garden
from rotasolve.relations.household.wanted import with_targets
from rotasolve.solver.cpsat import Limits
from rotasolve.solver.highs import relaxed_bound, run_highs
from rotasolve.solver.incumbent import Incumbent, gap_of
from rotasolve.solver.known_plan import known_plan
from rotasolve.solver.program import build_program
from rotasolve.solver.search import Found, Known, Search

if TYPE_CHECKING:
    from rotasolve.domain.catalogue import Catalogue
    from rotasolve.domain.plan import Plan
    from rotasolve.domain.scenario import Scenario
    from rotasolve.relations.ground.garden import Garden
    from rotasolve.solver.incumbent import Progress
    from rotasolve.solver.program import Program

MOST_POINTS = 24
_FIRST_SHARE = 0.3
"""Share of the limit for the first point, which starts from nothing."""
_AGAIN_SHARE = 0.1
"""Share of the limit for a look at a point that starts from a neighbour's plan, or its own."""
_PROOF_SHARE = 0.06
"""Share of the limit for the bound of a point: after five of 86 seconds it hardly rises, after three it falls short
by up to a seventh (family garden, five people); what it takes is lost to the searches beside it."""
_SMALL_BOUND = 0.005
"""A bound below this share of what an empty garden loses hardly moves a gap."""
_LEAST = 0.5
"""Seconds, or deterministic units, below which nothing more is begun."""
_LEAST_SPENT = 0.02
"""Deterministic units that every look counts for, so that looks come to an end."""
_WORKERS = 2
"""Points searched side by side; half of the time is Python's, so more would wait for one another."""


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
    plan_from: float | None = None
    lost: int | None = None
    at_least: int = 0
    impossible: bool = False
    proved: bool = False
    busy: bool = False
    looked: int = 0
    seconds: float = 0.0

    @property
    def gap(self) -> float:
        """The gap to the bound proven at this very point."""
        return 1.0 if self.lost is None else gap_of(self.lost, self.at_least, self.lost_if_empty)

    @cached_property
    def lost_if_empty(self) -> int:
        """What an empty garden loses."""
        return sum(goal.lost for goal in score(self.garden, blank_plan(self.garden.scenario)))

    def raise_bound(self, bound: float) -> None:
        """Keep a bound if it is tighter; points are whole, so a fraction rounds up."""
        self.at_least = max(self.at_least, math.ceil(bound - 1e-6))

    def offer(self, plan: Plan, found_at: float) -> None:
        """Keep a plan found anywhere on the curve if it keeps the rules here and loses fewer points."""
        lost = sum(goal.lost for goal in score(self.garden, plan))
        if self.impossible or (self.lost is not None and lost >= self.lost):
            return
        judged = recount(self.garden, plan)
        if not judged.verdict.breaches:
            self.plan, self.lost, self.plan_from = judged, lost, found_at


class _Bounds(Incumbent):
    """Hears the bounds of one point's program and passes them on; knows no plan."""

    def __init__(self, program: Program, point: _Point) -> None:
        super().__init__(program)
        self._point = point

    def raise_bound(self, bound: float) -> None:
        """Pass a bound on."""
        if math.isfinite(bound):
            self._point.raise_bound(bound)


@dataclass
class _Curve:
    """The points from the hardest to the easiest, and the search for them."""

    points: list[_Point]
    limits: Limits
    on_progress: Callable[[Progress], None]
    on_point: Callable[[float], None]
    stop: threading.Event
    begun: float = field(default_factory=time.monotonic)
    spent: float = 0.0
    failures: list[BaseException] = field(default_factory=list)
    lock: threading.Lock = field(default_factory=threading.Lock)

    @property
    def timed(self) -> bool:
        return self.limits.effort is None

    @property
    def whole(self) -> float:
        return self.limits.effort if self.limits.effort is not None else self.limits.seconds or 1.0

    @property
    def left(self) -> float:
        """What is left of the limit, in seconds or deterministic units."""
        return self.whole - (time.monotonic() - self.begun if self.timed else self.spent)

    def run(self) -> None:
        """Find a first plan for the hardest point that has one; then all points side by side, if time is measured."""
        for point in self.points:
            if all(other.plan is None for other in self.points) and not self.over:
                self.look(point, self.whole * _FIRST_SHARE)
        if not self.timed:
            for point in self.points:
                point.raise_bound(relaxed_bound(build_program(point.garden)))
            self.improve()
            return
        over = threading.Event()
        prover = threading.Thread(target=self.carrying, args=(lambda: self.prove(over),), daemon=True)
        workers = [threading.Thread(target=self.carrying, args=(self.improve,), daemon=True) for _ in range(_WORKERS)]
        for thread in (prover, *workers):
            thread.start()
        for worker in workers:
            worker.join()
        over.set()
        prover.join()
        if self.failures:
            raise self.failures[0]

    @property
    def over(self) -> bool:
        return self.stop.is_set() or bool(self.failures) or self.left <= _LEAST

    def carrying(self, work: Callable[[], None]) -> None:
        """Carry what goes wrong on a thread to the one that waits for it."""
        try:
            work()
        except BaseException as trouble:
            self.failures.append(trouble)

    def prove(self, over: threading.Event) -> None:
        """Let HiGHS raise the bounds of the points, the hardest first, those that are near enough last."""
        while not over.is_set() and not self.over:
            waiting = [point for point in self.points if not point.proved]
            if not waiting:
                return
            point = min(waiting, key=lambda point: point.gap <= self.limits.gap)
            point.proved = True
            program = build_program(point.garden)
            seconds = max(_LEAST, self.whole * _PROOF_SHARE)
            ending = run_highs(program, _Bounds(program, point), seconds, self.limits.seed, over, Incumbent(program))
            point.impossible = point.impossible or ending == "none possible"
            if not point.impossible and point.at_least < _SMALL_BOUND * point.lost_if_empty:
                return  # the wishes of easier points are met more easily still: no bound of theirs would matter

    def improve(self) -> None:
        """Look at the points again and again until all are near enough or the limit is reached."""
        while not self.over:
            with self.lock:
                far = [point for point in self.points if not point.busy and self.worth_a_look(point)]
                if not far:
                    return
                # Those not looked at yet first, then the farthest from its bound.
                point = min(far, key=lambda point: (point.looked > 0, -self.gap_of(point)))
                point.busy = True
            try:
                self.look(point, self.whole * _AGAIN_SHARE)
            finally:
                point.busy = False

    def worth_a_look(self, point: _Point) -> bool:
        return not point.impossible and (point.looked == 0 or self.gap_of(point) > self.limits.gap)

    def look(self, point: _Point, amount: float) -> None:
        """Search one point for a while, from the best plan known for it, and let all points know what was found."""
        begun = time.monotonic()
        self.on_point(point.amount)
        amount = max(0.1, min(amount, self.left))
        # Another seed for each look, or the same parts of the garden would be drawn again.
        seed = self.limits.seed + point.looked
        limits = replace(self.limits, seconds=amount, effort=None if self.timed else amount, seed=seed)
        plan = point.plan or next((p.plan for p in self.points if p.plan is not None), None)
        # Other wishes offer other sizes of block, so the plan is taken up planting by planting.
        start = None if plan is None else known_plan(point.garden, plan.plantings)
        known = None if plan is None else Known(start, lambda: self.bound_of(point))
        search = Search(point.garden, limits, self.on_progress, self.stop, known)
        found = search.run()
        # By the clock the time tells; else what the search took of what it was given, and a little for its beginning.
        self.spent += amount * min(1.0, search.spent) + _LEAST_SPENT
        with self.lock:
            point.looked += 1
            point.seconds += time.monotonic() - begun
            if found == "none possible":
                point.impossible = True
            if isinstance(found, Found):
                self.share(point, found, proved=plan is None)

    def share(self, point: _Point, found: Found, proved: bool) -> None:
        """Offer a plan to every point; keep the bound of a search that has looked for one."""
        standing = found.plan.standing
        assert standing is not None
        if proved:
            point.proved = True
            point.raise_bound(standing.at_least_lost)
        for other in self.points:
            other.offer(found.plan, point.amount)

    def bound_of(self, point: _Point) -> int:
        """Return what every plan must lose at a point, proven there or at an easier one."""
        return max(other.at_least for other in self.points if other.amount <= point.amount)

    def gap_of(self, point: _Point) -> float:
        """Return the share of the points within reach that a point's plan may be missing; 1 without a plan."""
        return 1.0 if point.lost is None else gap_of(point.lost, self.bound_of(point), point.lost_if_empty)


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
    limits, begun = limits or Limits(seconds=86.0, gap=0.04), time.monotonic()
    hardest_first = sorted(set(amounts), reverse=True)
    points = [
        _Point(amount, make_garden(asked_for(scenario, catalogue, amount, crop), catalogue)) for amount in hardest_first
    ]
    curve = _Curve(points, limits, on_progress, on_point, stop or threading.Event())
    curve.run()
    seconds = None if limits.effort is not None else round(time.monotonic() - begun, 1)
    return Exchange(
        scenario_title=scenario.title,
        crop=crop,
        points=tuple(_told(point, curve) for point in reversed(points)),
        limit=limits.words(),
        seed=limits.seed,
        seconds=seconds,
    )


def _told(point: _Point, curve: _Curve) -> ExchangePoint:
    if point.lost is None or point.plan is None:
        outcome: PointOutcome = "impossible" if point.impossible else "none found"
        return ExchangePoint(amount=point.amount, outcome=outcome)
    at_least = min(curve.bound_of(point), point.lost)
    return ExchangePoint(
        amount=point.amount,
        outcome="proven best" if at_least >= point.lost else "good, not proven",
        lost=point.lost,
        at_least_lost=at_least,
        lost_if_empty=point.lost_if_empty,
        gap=round(curve.gap_of(point), 4),
        plan=point.plan.model_copy(update={"standing": None}),
        plan_from=point.plan_from,
        seconds=round(point.seconds, 1) if curve.timed else 0.0,
    )
