"""The whole search: race for lots, arrange them on strips, mend the beds that cannot be arranged, referee the plan."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Literal

from rotasolve.domain.plan import Plan, Standing
from rotasolve.errors import InternalFault
from rotasolve.referee import blank_plan, judge, score
from rotasolve.relations.outcomes import target_outcomes
from rotasolve.solver.arrange import Places, arrange, chosen_in, places_in_exact
from rotasolve.solver.cpsat import Limits, run_cpsat
from rotasolve.solver.incumbent import Incumbent, Progress, gap_of
from rotasolve.solver.program import Program, build_program
from rotasolve.solver.race import race
from rotasolve.solver.read_back import plantings_of

if TYPE_CHECKING:
    from rotasolve.domain.plan import Planting
    from rotasolve.relations.garden import Garden

_ARRANGING_SHARE = 0.1
"""Share of the time kept back for arranging and mending when beds are modelled by counts."""


@dataclass(frozen=True)
class Found:
    """A refereed plan with how good it is known to be."""

    plan: Plan
    proven: bool


class Search:
    """One search in one garden. ``on_progress`` hears of it on the calling thread; ``stop`` ends it early."""

    def __init__(
        self,
        garden: Garden,
        limits: Limits,
        on_progress: Callable[[Progress], None] = lambda progress: None,
        stop: threading.Event | None = None,
    ) -> None:
        self.garden, self.limits = garden, limits
        self._on_progress, self._stop = on_progress, stop or threading.Event()
        self._first_refereed: float | None = None
        self._arranged: dict[tuple[str, tuple[tuple[str, int], ...]], Places | None] = {}

    def run(self) -> Found | Literal["none possible", "none found"]:
        """Search and return a refereed plan, or why there is none.

        Raises
        ------
        InternalFault
            If the referee refuses the plan or recounts other points than the solver: a defect of rotasolve.
        """
        started = time.monotonic()
        program = build_program(self.garden)
        incumbent = Incumbent(program)
        counted = self.garden.exact_beds < self.garden.beds.keys()
        limits = self.limits
        if limits.seconds is not None:
            limits = replace(limits, seconds=limits.seconds * (1 - _ARRANGING_SHARE if counted else 1))
        seen = -1

        def tick() -> None:
            nonlocal seen
            moment = incumbent.progress()
            if self._first_refereed is None and moment.lost is not None and self._try_first(incumbent):
                self._first_refereed = time.monotonic() - started
            if moment.plans != seen or moment.seconds:
                seen = moment.plans
                self._on_progress(moment)

        ending = race(program, incumbent, limits, self._stop, tick)
        if ending in ("none possible", "none found"):
            return "none possible" if ending == "none possible" else "none found"
        plantings, cost = self._arrange_all(program, incumbent)
        return self._finish(program, incumbent, plantings, cost, time.monotonic() - started)

    def _place(self, garden: Garden, values: tuple[int, ...], bed: str) -> Places | None:
        if bed in garden.exact_beds:
            return places_in_exact(garden, values, bed)
        lots = chosen_in(garden, values, bed)
        key = (bed, tuple(sorted((sowing.name, count) for sowing, count in lots.items())))
        if key not in self._arranged:
            self._arranged[key] = arrange(garden, bed, lots)
        return self._arranged[key]

    def _try_first(self, incumbent: Incumbent) -> bool:
        values, _ = incumbent.best()
        assert values is not None
        places = {bed: self._place(self.garden, values, bed) for bed in self.garden.beds}
        whole = {bed: here for bed, here in places.items() if here is not None}
        if len(whole) < len(places):
            return False
        plan = blank_plan(self.garden.scenario, plantings_of(self.garden, whole))
        return not judge(self.garden, plan).breaches

    def _arrange_all(self, program: Program, incumbent: Incumbent) -> tuple[tuple[Planting, ...], int]:
        """Give every lot its strips; model the beds where that fails strip by strip and solve them again."""
        garden, (values, cost) = self.garden, incumbent.best()
        assert values is not None
        assert cost is not None
        while True:
            places = {bed: self._place(garden, values, bed) for bed in garden.beds}
            stuck = sorted(bed for bed, here in places.items() if here is None)
            if not stuck:
                return plantings_of(garden, {bed: here or {} for bed, here in places.items()}), cost
            garden, values, cost = self._mend(garden, values, stuck)

    def _mend(self, garden: Garden, values: tuple[int, ...], stuck: list[str]) -> tuple[Garden, tuple[int, ...], int]:
        """Solve the stuck beds strip by strip, the rest fixed; if that cannot be, let everything move."""
        finer = garden.with_exact(stuck)
        program = build_program(finer)
        kept = {
            choice.name: count for choice, count in zip(garden.choices, values, strict=False) if choice.bed not in stuck
        }
        fixed = {n: kept[choice.name] for n, choice in enumerate(finer.choices) if choice.name in kept}
        # With a deterministic limit no clock may decide; else the time kept back is shared by the beds.
        seconds = None if self.limits.effort is not None else max(2.0, (self.limits.seconds or 60) * _ARRANGING_SHARE)
        effort = None if self.limits.effort is None else max(2.0, self.limits.effort * _ARRANGING_SHARE)
        limits = replace(self.limits, seconds=seconds, effort=effort, workers=1)
        for fixing in (fixed, {}):
            incumbent = Incumbent(program)
            run_cpsat(program, incumbent, limits, threading.Event(), fixing)
            if incumbent.values is not None and incumbent.cost is not None:
                return finer, incumbent.values, incumbent.cost
            limits = replace(limits, seconds=None, effort=(effort or 20.0) * 5)
        raise InternalFault(f"the beds {', '.join(stuck)} could not be arranged; please report this scenario")

    def _finish(
        self, program: Program, incumbent: Incumbent, plantings: tuple[Planting, ...], cost: int, seconds: float
    ) -> Found:
        plan = blank_plan(self.garden.scenario, plantings)
        verdict, goals = judge(self.garden, plan), score(self.garden, plan)
        lost = sum(goal.lost for goal in goals)
        if verdict.breaches:
            raise InternalFault(f"the referee refuses our own plan: {verdict.breaches[0].sentence}")
        if lost != cost:
            raise InternalFault(f"the solver counts {cost} points lost, the referee {lost}")
        at_least = min(incumbent.bound, lost)
        timed = self.limits.effort is None
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
            engine="CP-SAT and HiGHS" if timed else "CP-SAT",
        )
        whole = plan.model_copy(
            update={
                "targets": target_outcomes(self.garden, plantings),
                "goals": goals,
                "verdict": verdict,
                "standing": standing,
            }
        )
        return Found(whole, proven=standing.outcome == "proven best")
