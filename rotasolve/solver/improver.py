"""The improving side of the search: a first plan at once, a good plan of counts, its lay-out, then part after part.

In small gardens, modelled strip by strip, CP-SAT takes the whole program first. In large ones a plan of counts is
found without regard to which strip is whose, laid out bed by bed and year by year (what one bed cannot take by the
height order the others make up for), and the laid-out plan is improved part by part until the limit.
"""

from __future__ import annotations

import threading
import time
from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING

from rotasolve.relations.ground.lie_of_beds import rectangle_of
from rotasolve.solver.arrange import StripRuns, arrange
from rotasolve.solver.bed_years import bed_years, empty_bed_years
from rotasolve.solver.budget import Budget
from rotasolve.solver.cpsat import Ending, Limits, run_cpsat
from rotasolve.solver.first_plan import first_plan
from rotasolve.solver.incumbent import Incumbent
from rotasolve.solver.neighbourhoods import Neighbourhoods, worth_of
from rotasolve.solver.parts import LaidOut, PartSolver

if TYPE_CHECKING:
    from rotasolve.solver.program import Program

_WHOLE_SHARE = 0.3
"""Share of the limit that the whole program of a small garden gets first."""
_COUNTED_SHARE = 0.6
"""Share of the limit for the plan of counts of a large garden: a step on counts wins several times what one on strips
does (measured on the family garden), and blocks are laid out soon."""
_STEPS_LOOKED_AT = 15
_LITTLE = 0.04
"""Counting ends when so many steps have won less than this share of the points that are lost."""
_STEP = 2.5
"""Seconds, or deterministic units, for one part."""
_LEAST_STEP = 0.3
_LEAST_PLANTED = 0.3
"""The least for planting one bed in one year: in less, on a busy machine, nothing is found at all."""
_PLANTED_SHARE = 0.1
"""But all of them together may not take more than this share of the limit because of it."""
_LEAST_PART = 0.8
"""The least for a part that is laid out: building one takes about half as long."""
_MOST_PART = 1.0
"""The most for it: many short steps find more than a few that are taken to their end (measured on the allotment)."""
_MOST_LAID_OUT = 350
_MOST_COUNTED = 1400


class Improver:
    """Finds plans for one program and offers them to the incumbent, within a budget."""

    def __init__(
        self, program: Program, incumbent: Incumbent, relaxed: Incumbent, limits: Limits, budget: Budget
    ) -> None:
        self.program, self.garden = program, program.garden
        self._incumbent, self._relaxed, self._limits = incumbent, relaxed, limits
        self._parts = PartSolver(program)
        self._budget = budget
        self.best: LaidOut | None = None

    def run(self, stop: threading.Event, on_first: Callable[[LaidOut], None], start: LaidOut | None = None) -> Ending:
        """Search until the limit or ``stop``; ``on_first`` hears of the first plan.

        ``start`` is a plan of the same garden made for other wishes: the search goes on from it, unless it breaks a
        rule here.
        """
        warm = start is not None and self._begin_with(start, stop)
        ending: Ending = "some"
        if not warm:
            # Often an almost empty plan: it is not told as progress, and kept only until the first real one.
            self.best, ending = first_plan(self.program, self._parts, self._limits, stop)
        if self.best is None:
            return ending
        on_first(self.best)
        if self.garden.all_exact:
            self._whole(stop)
        elif warm:
            # A plan to start from is better than what counting and laying out would make of nothing.
            self._plant_empty_years(stop)
        else:
            self._count_then_lay_out(stop)
        self._improve(stop)
        return "best" if self._incumbent.closed else "some"

    @property
    def spent(self) -> float:
        """The share of the limit used up so far."""
        return self._budget.used

    def _step(self, part: float) -> float:
        """Return a step of that share of the limit, within what a step is worth taking for."""
        return min(_STEP, max(_LEAST_STEP, self._budget.share(part)))

    def _over(self, stop: threading.Event) -> bool:
        return stop.is_set() or self._incumbent.closed or self._budget.used >= 1

    def _keep(self, plan: LaidOut) -> bool:
        if self.best is not None and plan.cost >= self.best.cost:
            return False
        self.best = plan
        self._incumbent.offer(plan.values)
        return True

    def _begin_with(self, start: LaidOut, stop: threading.Event) -> bool:
        """Take over the choices and places of a plan; marks and goals are counted anew.

        Where a demand is not met, as what must be had after a crop has failed, the choices that could meet it move, and
        if that does not do, all in their beds and years. False if a rule is broken all the same.
        """
        choices = len(self.garden.choices)
        if len(start.values) < choices:
            return False
        values = start.values[:choices] + (0,) * (len(self.program.upper) - choices)
        limits = replace(self._limits, seconds=None, effort=5.0)
        for part in self._parts.to_mend(values):
            plan, _ = self._parts.solve(part, LaidOut(values, start.places, 0), limits, stop)
            if plan is not None:
                return self._keep(plan)
        return False

    def _whole(self, stop: threading.Event) -> None:
        """Plant a small garden bed after bed, then let CP-SAT take the whole of it for a while."""
        for part in bed_years(self.garden):
            if not self._over(stop):
                assert self.best is not None
                limits = self._budget.grant(self._step(0.01))
                plan, _ = self._parts.solve(part, self.best, limits, stop)
                if plan is not None:
                    self._keep(plan)
        assert self.best is not None
        run_cpsat(
            self.program,
            self._incumbent,
            self._budget.grant(self._budget.share(_WHOLE_SHARE)),
            stop,
            hint=self.best.values,
        )
        self._take_over()

    def _take_over(self) -> None:
        """Take the incumbent's plan where it is better: in exact gardens HiGHS and CP-SAT find whole plans too."""
        values, cost = self._incumbent.best()
        if values is not None and cost is not None and self.best is not None and cost < self.best.cost:
            self.best = LaidOut(values, {}, cost)

    def _plant_empty_years(self, stop: threading.Event) -> None:
        """Plant the years in which most beds of the start are empty, as the last one of years that have rolled on.

        They are counted together, all else held, and laid out beside what stands already.
        """
        assert self.best is not None
        empty, years = empty_bed_years(self.garden, self.best.values)
        if not empty:
            return
        counted, step = self.best, self._step(0.05)
        for part in empty:
            counted = self._planted(counted, part, self._planting_step(len(empty)), stop)
        draws = Neighbourhoods(self.garden, self._limits.seed, _MOST_COUNTED, years=years)
        share = _COUNTED_SHARE * len(years) / self.garden.scenario.years
        counted = self._count_on(counted, draws, step, share, stop)
        laid: LaidOut | None = replace(counted, places=self.best.places)
        for part in bed_years(self.garden, years):  # the other beds have been counted anew as well
            laid = None if laid is None or stop.is_set() else self._as_counted(laid, part, stop)
        if laid is not None:
            self._keep(laid)

    def _planting_step(self, count: int) -> float:
        """Return the step for planting one bed in one year, of so many."""
        least = min(_LEAST_PLANTED, self._budget.share(_PLANTED_SHARE) / max(1, count))
        return max(self._step(0.05) / 8, least)

    def _count_then_lay_out(self, stop: threading.Event) -> None:
        assert self.best is not None
        counted = self.best
        draws = Neighbourhoods(self.garden, self._limits.seed, _MOST_COUNTED)
        step = self._step(0.05)
        places = bed_years(self.garden)
        for part in places:
            found = self._found_elsewhere(counted)
            if found is not None:
                # HiGHS jumps to a plan of counts before it proves anything: better than planting bed after bed.
                counted = found
                self._lay_out(counted, step / 4, stop)
                break
            if self._budget.used >= _PLANTED_SHARE:
                break
            counted = self._planted(counted, part, self._planting_step(len(places)), stop)
        self._lay_out(self._count_on(counted, draws, step, _COUNTED_SHARE, stop, elsewhere=True), step / 2, stop)

    def _count_on(
        self,
        counted: LaidOut,
        draws: Neighbourhoods,
        step: float,
        share: float,
        stop: threading.Event,
        elsewhere: bool = False,
    ) -> LaidOut:
        """Return a better plan of counts, found part after part in a share of the limit, or until that slows down.

        With ``elsewhere`` HiGHS's plans of counts are taken up.
        """
        used = self._budget.used
        until, costs = used + share * (1 - used), [counted.cost]
        while self._budget.used < until and not self._over(stop) and not _slows(costs):
            counted = (self._found_elsewhere(counted) if elsewhere else None) or counted
            kind, part = draws.draw(counted.values)
            before = counted.cost
            counted, ending = self._count(counted, part, step, stop)
            draws.learn(kind, counted.cost < before, ending == "best", len(part))
            costs.append(counted.cost)
        return counted

    def _found_elsewhere(self, counted: LaidOut) -> LaidOut | None:
        """Return the better plan of counts that HiGHS has found, if it has."""
        values, cost = self._relaxed.best()
        if values is None or cost is None or cost >= counted.cost:
            return None
        return LaidOut(values, counted.places, cost)

    def _lay_out(self, counted: LaidOut, step: float, stop: threading.Event) -> None:
        """Lay a plan of counts out, bed by bed, and keep it if it is better.

        All years of a bed are laid out together: crops that stand through a winter tie one year's order of heights to
        the next one's. What has no room is left out, and the improvement of parts finds something better for it.
        """
        assert self.best is not None
        values, places = list(counted.values), dict[str, StripRuns]()
        here: dict[str, list[int]] = {bed: [] for bed in self.garden.beds if bed not in self.garden.exact_beds}
        for number, choice in enumerate(self.garden.choices):
            if choice.bed in here:
                here[choice.bed].append(number)
        for bed, numbers in here.items():
            if not self._budget.has_time_for(0):
                # Too large for its limit: the beds that are left stay as they are in the best plan so far.
                for number in numbers:
                    values[number] = self.best.values[number]
                places[bed] = self.best.places[bed]
                continue
            placed = self._placed(bed, [number for number in numbers if counted.values[number]], {}, values)
            if placed is None or stop.is_set():
                return self._lay_out_by_year(counted, step, stop)
            places[bed] = placed
        plan, _ = self._parts.solve(frozenset(), LaidOut(tuple(values), places, 0), self._budget.grant(1.0), stop)
        if plan is None:
            return self._lay_out_by_year(counted, step, stop)
        self._keep(plan)
        return None

    def _lay_out_by_year(self, counted: LaidOut, step: float, stop: threading.Event) -> None:
        """Lay a plan of counts out, bed by bed and year by year, other counts taking over where a rule asks for it."""
        assert self.best is not None
        laid = replace(counted, places=self.best.places)
        for part in bed_years(self.garden):
            if stop.is_set() or not self._budget.has_time_for(0):
                return
            plan = self._as_counted(laid, part, stop)
            if plan is None:
                plan, _ = self._parts.solve(part, laid, self._budget.grant(step), stop)
            if plan is None:
                # Too hard in the time given: the bed stays as it was this year and is filled by what follows.
                plan = self._emptied(laid, part, stop)
            if plan is None:
                return
            laid = plan
        self._keep(laid)

    def _placed(self, bed: str, numbers: list[int], held: StripRuns, values: list[int]) -> StripRuns | None:
        """Return strips for as many of a bed's choices as have room together; the others' values become 0."""
        chosen = [self.garden.choices[number] for number in numbers]
        places = arrange(self.garden, bed, chosen, held, [worth_of(self.garden, choice) for choice in chosen])
        if places is None:
            return None
        for number, choice in zip(numbers, chosen, strict=True):
            blocks = [rectangle_of(self.garden.beds[bed], strips) for strips in places.get(choice.sowing, ())]
            kept = choice.sowing.kept
            there = (choice.block.deep, choice.block.parts) in blocks if kept is None else bool(blocks) or kept.held
            values[number] = int(there)
        return places

    def _planted(self, now: LaidOut, part: frozenset[int], step: float, stop: threading.Event) -> LaidOut:
        """Return the plan with one bed planted in one year: as it counts best, or, early on, as it can be laid out."""
        counted, _ = self._count(now, part, step, stop)
        plan = None if counted is now else self._as_counted(counted, part, stop)
        if plan is None or plan.cost >= now.cost:
            return now
        self._keep(plan)
        return plan

    def _count(
        self, counted: LaidOut, part: frozenset[int], step: float, stop: threading.Event
    ) -> tuple[LaidOut, Ending]:
        if self._over(stop):
            return counted, "some"
        plan, ending = self._parts.solve(part, counted, self._budget.grant(step), stop, lay_out=False)
        return (plan, ending) if plan is not None and plan.cost <= counted.cost else (counted, ending)

    def _as_counted(self, laid: LaidOut, part: frozenset[int], stop: threading.Event) -> LaidOut | None:
        """Return the plan with one bed's year laid out as it was counted, or with as much of it as has room together.

        None if a rule asks for more than that.
        """
        numbers, first = [number for number in sorted(part) if laid.values[number]], self.garden.choices[min(part)]
        if first.bed in self.garden.exact_beds:
            return laid  # its strips are counted one by one already
        held = {s: runs for s, runs in laid.places[first.bed].items() if s.crop_year != first.sowing.crop_year}
        places = arrange(self.garden, first.bed, [self.garden.choices[number] for number in numbers], held)
        if places is not None:
            return replace(laid, places={**laid.places, first.bed: places})
        values = list(laid.values)
        places = self._placed(first.bed, numbers, held, values)
        if places is None:
            return None
        plan = LaidOut(tuple(values), {**laid.places, first.bed: places}, 0)
        return self._parts.solve(frozenset(), plan, self._budget.grant(1.0), stop)[0]

    def _emptied(self, laid: LaidOut, part: frozenset[int], stop: threading.Event) -> LaidOut | None:
        assert self.best is not None
        bed = self.garden.choices[next(iter(part))].bed
        values = list(laid.values)
        for number in part:
            values[number] = self.best.values[number]
        years = {self.garden.choices[n].sowing.crop_year for n in part}
        here = {sowing: runs for sowing, runs in laid.places[bed].items() if sowing.crop_year not in years}
        kept = {sowing: runs for sowing, runs in self.best.places[bed].items() if sowing.crop_year in years}
        plan = replace(laid, values=tuple(values), places={**laid.places, bed: {**here, **kept}})
        return self._parts.solve(frozenset(), plan, self._budget.grant(1.0), stop)[0]

    def _improve(self, stop: threading.Event) -> None:
        exact = self.garden.all_exact
        draws = Neighbourhoods(self.garden, self._limits.seed, _MOST_LAID_OUT * (6 if exact else 1), short_first=True)
        step = max(_LEAST_PART, min(_MOST_PART, self._step(0.025)))
        longest = 0.0
        while not self._over(stop) and self._budget.has_time_for(longest):
            begun = time.monotonic()
            if exact:
                self._take_over()
            assert self.best is not None
            kind, part = draws.draw(self.best.values)
            plan, ending = self._parts.solve(part, self.best, self._budget.grant(step), stop)
            draws.learn(kind, plan is not None and self._keep(plan), ending == "best", len(part))
            longest = max(longest, time.monotonic() - begun)


def _slows(costs: list[int]) -> bool:
    """Return whether the last steps have won so little that it is time to lay out."""
    return len(costs) > _STEPS_LOOKED_AT and costs[-_STEPS_LOOKED_AT] - costs[-1] < _LITTLE * costs[-1]
