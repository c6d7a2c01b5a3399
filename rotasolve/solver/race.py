"""The search: HiGHS proves bounds while CP-SAT improves the plan, part of the garden after part.

With a deterministic limit (``effort``) only CP-SAT runs, on one thread, so that the same seed gives the same plan.
"""

from __future__ import annotations

import random
import threading
import time
from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING

from rotasolve.solver.cpsat import Ending, Limits, run_cpsat
from rotasolve.solver.highs import run_highs
from rotasolve.solver.incumbent import Incumbent

if TYPE_CHECKING:
    from rotasolve.solver.program import Program

_WHOLE_FIRST = 0.3
"""Share of the time CP-SAT spends on the whole garden before it improves parts of it."""
_ROUND_SECONDS = 2.5
_ROUND_EFFORT = 0.8
_TICK = 0.2


def race(
    program: Program, incumbent: Incumbent, limits: Limits, stop: threading.Event, tick: Callable[[], None]
) -> Ending:
    """Search until proof, limit or ``stop``; the answer is in ``incumbent``. ``tick`` is called on this thread."""
    if limits.effort is not None:
        return _by_effort(program, incumbent, limits, stop)
    assert limits.seconds is not None
    deadline = time.monotonic() + limits.seconds
    endings: list[Ending] = []
    done = threading.Event()
    over = threading.Event()

    def prove() -> None:
        endings.append(run_highs(program, incumbent, max(0.1, deadline - time.monotonic()), limits.seed, over))
        if endings[-1] in ("best", "none possible"):
            over.set()

    def improve() -> None:
        whole = replace(limits, seconds=max(1.0, _WHOLE_FIRST * (deadline - time.monotonic())))
        endings.append(run_cpsat(program, incumbent, whole, over))
        if endings[-1] in ("best", "none possible"):
            over.set()
        generator = random.Random(limits.seed)
        while not over.is_set() and not incumbent.closed and time.monotonic() < deadline:
            values, _ = incumbent.best()
            if values is None:
                seconds = min(_ROUND_SECONDS * 4, deadline - time.monotonic())
                endings.append(run_cpsat(program, incumbent, replace(limits, seconds=seconds), over))
                continue
            seconds = min(_ROUND_SECONDS, deadline - time.monotonic())
            _improve_part(program, incumbent, replace(limits, seconds=seconds), over, generator)

    def work(function: Callable[[], None]) -> None:
        try:
            function()
        except BaseException as trouble:  # carried to the calling thread below, never swallowed
            failures.append(trouble)
            over.set()

    failures: list[BaseException] = []
    workers = [threading.Thread(target=work, args=(function,), daemon=True) for function in (prove, improve)]
    for worker in workers:
        worker.start()

    def wait() -> None:
        for worker in workers:
            worker.join()
        done.set()

    threading.Thread(target=wait, daemon=True).start()
    while not done.wait(_TICK):
        tick()
        if stop.is_set() or incumbent.closed or time.monotonic() > deadline:
            over.set()
    if failures:
        raise failures[0]
    return _verdict(incumbent, endings)


def _verdict(incumbent: Incumbent, endings: list[Ending]) -> Ending:
    if "none possible" in endings:
        return "none possible"
    if incumbent.cost is None:
        return "none found"
    return "best" if incumbent.closed else "some"


def _by_effort(program: Program, incumbent: Incumbent, limits: Limits, stop: threading.Event) -> Ending:
    assert limits.effort is not None
    left = limits.effort
    whole = max(left * _WHOLE_FIRST, min(left, 1.0))
    ending = run_cpsat(program, incumbent, replace(limits, effort=whole, workers=1), stop)
    left -= whole
    generator = random.Random(limits.seed)
    while ending == "some" and left > 0 and not stop.is_set() and not incumbent.closed:
        part = min(left, _ROUND_EFFORT)
        _improve_part(program, incumbent, replace(limits, effort=part, workers=1), stop, generator)
        left -= part
    return _verdict(incumbent, [ending])


def _improve_part(
    program: Program, incumbent: Incumbent, limits: Limits, stop: threading.Event, generator: random.Random
) -> None:
    """Let some beds, years or crops move while all other lots stay as in the best plan."""
    values, _ = incumbent.best()
    assert values is not None
    garden = program.garden
    beds, years = list(garden.beds), list(garden.scenario.planned_years)
    kind = generator.randrange(3)
    if kind == 0 and len(beds) > 1:
        free_beds = set(generator.sample(beds, max(1, min(len(beds) - 1, generator.randint(2, 4)))))
        free = {n for n, choice in enumerate(garden.choices) if choice.bed in free_beds}
    elif kind == 1 and len(years) > 1:
        free_years = set(generator.sample(years, max(1, len(years) // 2)))
        free = {n for n, choice in enumerate(garden.choices) if choice.sowing.crop_year in free_years}
    else:
        crops = sorted(garden.wanted)
        free_crops = set(generator.sample(crops, max(1, len(crops) // 3)))
        free = {n for n, choice in enumerate(garden.choices) if choice.sowing.crop in free_crops}
    fixed = {n: values[n] for n in range(len(garden.choices)) if n not in free}
    run_cpsat(program, incumbent, replace(limits, seed=generator.randrange(10**6)), stop, fixed, values)
