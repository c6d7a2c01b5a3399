"""The whole search: one side improves the plan, the other proves how good any plan can be, and the referee judges."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from rotasolve.domain.plan import Plan, Standing
from rotasolve.errors import InternalFault
from rotasolve.referee import blank_plan, judge, recount
from rotasolve.solver.arrange import StripRuns, places_in_exact
from rotasolve.solver.budget import Budget
from rotasolve.solver.cpsat import Ending, Limits
from rotasolve.solver.highs import relaxed_bound, run_highs
from rotasolve.solver.improver import Improver
from rotasolve.solver.incumbent import Incumbent, Progress, gap_of
from rotasolve.solver.parts import LaidOut
from rotasolve.solver.program import Program, build_program
from rotasolve.solver.read_back import plantings_of

if TYPE_CHECKING:
    from rotasolve.relations.ground.garden import Garden

_TICK_SECONDS = 0.2
_REFEREE_SHARE = 0.6
"""The referee takes about this share of the time that the program takes to build (measured on the allotment)."""


@dataclass(frozen=True)
class Found:
    """A refereed plan; ``proven`` if no plan from the sowings and sizes of block offered loses fewer points."""

    plan: Plan
    proven: bool


@dataclass(frozen=True)
class Known:
    """What others find out: a plan to start from, and points that every plan must lose.

    ``bound`` is asked again and again; with it the search itself spends no time on bounds.
    """

    start: LaidOut | None = None
    bound: Callable[[], int] | None = None


class Search:
    """One search in one garden. ``on_progress`` hears of it on the calling thread; ``stop`` ends it early.

    With wall seconds HiGHS proves bounds on one thread while CP-SAT improves the plan on another. With a
    deterministic effort everything runs one after the other, so that the same seed gives the same plan. ``known`` is
    what an earlier search of the same garden, with other wishes, has found. ``spent`` is the share of the limit that
    was used, once it has run.
    """

    def __init__(
        self,
        garden: Garden,
        limits: Limits,
        on_progress: Callable[[Progress], None] = lambda progress: None,
        stop: threading.Event | None = None,
        known: Known | None = None,
    ) -> None:
        self.garden, self.limits, self._known = garden, limits, known or Known()
        self._on_progress, self._stop = on_progress, stop or threading.Event()
        self._first_refereed: float | None = None
        self.spent = 0.0
        self._started = time.monotonic()

    def run(self) -> Found | Literal["none possible", "none found"]:
        """Search and return a refereed plan, or why there is none.

        Raises
        ------
        InternalFault
            If the referee refuses the plan, or recounts more points lost than the solver: a defect of rotasolve.
        """
        if self._known.start is not None:
            self._referee_first(self._known.start)  # a start that holds is a plan before any program is built
        program = build_program(self.garden)
        incumbent = Incumbent(program, near_enough=self.limits.gap)
        relaxed = Incumbent(program)
        built = time.monotonic() - self._started
        budget = Budget(self.limits, _REFEREE_SHARE * built, self._started)
        improver = Improver(program, incumbent, relaxed, self.limits, budget)
        if self.limits.effort is not None:
            incumbent.raise_bound(self._known.bound() if self._known.bound else relaxed_bound(program))
            ending = improver.run(self._stop, self._referee_first, self._known.start)
        else:
            ending = self._race(program, improver, incumbent, relaxed)
        self.spent = improver.spent
        if improver.best is None:
            return "none possible" if ending == "none possible" else "none found"
        values, cost = incumbent.best()
        if self.garden.all_exact and values is not None and cost is not None and cost < improver.best.cost:
            return self._finish(program, incumbent, LaidOut(values, {}, cost))
        return self._finish(program, incumbent, improver.best)

    def _race(self, program: Program, improver: Improver, incumbent: Incumbent, relaxed: Incumbent) -> Ending:
        assert self.limits.seconds is not None
        deadline = self._started + self.limits.seconds
        over, endings, failures = threading.Event(), {}, []
        exact = self.garden.all_exact

        def prove() -> None:
            left = max(0.1, deadline - time.monotonic())
            # Plans of counts that HiGHS finds may have no lay-out, so they only guide; its bound holds all the same.
            endings["prove"] = run_highs(program, incumbent, left, self.limits.seed, over, None if exact else relaxed)
            if endings["prove"] == "none possible":
                over.set()

        def improve() -> None:
            endings["improve"] = improver.run(over, self._referee_first, self._known.start)
            over.set()

        def work(function: Callable[[], None]) -> None:
            try:
                function()
            except BaseException as trouble:  # carried to the calling thread below, never swallowed
                failures.append(trouble)
                over.set()

        sides = (improve,) if self._known.bound else (prove, improve)
        workers = [threading.Thread(target=work, args=(side,), daemon=True) for side in sides]
        for worker in workers:
            worker.start()
        while any(worker.is_alive() for worker in workers):
            workers[-1].join(_TICK_SECONDS)
            if self._known.bound:
                incumbent.raise_bound(self._known.bound())
            self._on_progress(incumbent.progress())
            if self._stop.is_set() or incumbent.closed:
                over.set()
            if over.is_set():
                workers[0].join(_TICK_SECONDS)
        if failures:
            raise failures[0]
        return endings["improve"]

    def _referee_first(self, plan: LaidOut) -> None:
        if self._first_refereed is not None:
            return
        verdict = judge(self.garden, blank_plan(self.garden.scenario, plantings_of(self.garden, self._places(plan))))
        if not verdict.breaches:
            self._first_refereed = time.monotonic() - self._started

    def _places(self, plan: LaidOut) -> dict[str, StripRuns]:
        exact = {bed: places_in_exact(self.garden, plan.values, bed) for bed in sorted(self.garden.exact_beds)}
        return {**plan.places, **exact}

    def _finish(self, program: Program, incumbent: Incumbent, best: LaidOut) -> Found:
        plantings = plantings_of(self.garden, self._places(best))
        plan = recount(self.garden, blank_plan(self.garden.scenario, plantings))
        lost = sum(goal.lost for goal in plan.goals)
        if plan.verdict.breaches:
            raise InternalFault(f"the referee refuses our own plan: {plan.verdict.breaches[0].claim}")
        if lost > best.cost:
            raise InternalFault(f"the solver counts {best.cost} points lost, the referee {lost}")
        at_least = min(incumbent.bound, lost)
        timed = self.limits.effort is None
        seconds = time.monotonic() - self._started
        standing = Standing(
            outcome="proven best" if at_least >= lost else "good, not proven",
            lost=lost,
            at_least_lost=at_least,
            lost_if_empty=program.cost_if_empty,
            gap=round(gap_of(lost, at_least, program.cost_if_empty), 4),
            first_plan_seconds=round(self._first_refereed or seconds, 2) if timed else None,
            seconds=round(seconds, 2) if timed else None,
            seed=self.limits.seed,
            limit=self.limits.words(),
            engine="CP-SAT and HiGHS",
            every_start=self.garden.every_start,
        )
        return Found(plan.model_copy(update={"standing": standing}), standing.outcome == "proven best")
