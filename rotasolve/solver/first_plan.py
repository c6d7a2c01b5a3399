"""The plan to begin with: the fewest plantings that keep every rule, laid out."""

from __future__ import annotations

import threading
from dataclasses import replace
from typing import TYPE_CHECKING

from rotasolve.solver.arrange import arrange
from rotasolve.solver.cpsat import Ending, Limits, run_cpsat
from rotasolve.solver.incumbent import Incumbent
from rotasolve.solver.parts import LaidOut, PartSolver

if TYPE_CHECKING:
    from rotasolve.solver.program import Program


def first_plan(
    program: Program, parts: PartSolver, limits: Limits, stop: threading.Event
) -> tuple[LaidOut | None, Ending]:
    """Return the plan with the fewest plantings that keeps every rule, and how the search for it ended."""
    garden = program.garden
    fewest = replace(program, points=dict.fromkeys(range(len(garden.choices)), 1), constant=0)
    start = Incumbent(fewest)
    # The limit is never shorter than what a first plan takes; a plan too late is better than none.
    limits = replace(limits, seconds=None, effort=20.0, workers=1, first_will_do=True)
    # Nearly always only what must be had, pinned or kept asks for anything: all else stays out of the ground.
    needed = _needed(program)
    unasked = {number: 0 for number in range(len(garden.choices)) if number not in needed}
    ending = run_cpsat(fewest, start, limits, stop, fixed=unasked)
    if start.values is None and not stop.is_set():
        ending = run_cpsat(fewest, start, limits, stop)
    if start.values is None:
        return None, ending
    places = {}
    for bed in garden.beds:
        if bed not in garden.exact_beds:
            taken = zip(garden.choices, start.values, strict=False)
            places[bed] = arrange(garden, bed, [c for c, value in taken if value and c.bed == bed])
    stuck = {bed for bed, here in places.items() if here is None}
    now = LaidOut(start.values, {bed: here or {} for bed, here in places.items()}, 10**9)
    part = frozenset(n for n, choice in enumerate(garden.choices) if choice.bed in stuck)
    return parts.solve(part, now, limits, stop)


def _needed(program: Program) -> frozenset[int]:
    """Return the choices of which some rule asks for at least so many."""
    count = len(program.garden.choices)
    asking = (row.terms for row in program.rows if row.claim is not None and row.low > 0)
    return frozenset(number for terms in asking for number, _ in terms if number < count)
