"""Model = referee: the same choices put to the solver's rows and, as a finished plan, to the referee."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

import highspy
from ortools.sat.python import cp_model

from rotasolve.board import Board
from rotasolve.domain.claim import Claim
from rotasolve.domain.plan import Plan
from rotasolve.referee import blank_plan, judge
from rotasolve.relations.ground.garden import Garden
from rotasolve.rule import Goal
from rotasolve.rules import rule_by_key
from rotasolve.solver.arrange import places_in_exact
from rotasolve.solver.cpsat import translate
from rotasolve.solver.highs import arrays_of
from rotasolve.solver.program import Program, build_program, freeze
from rotasolve.solver.prover import SilentHighs, model_of
from rotasolve.solver.read_back import plantings_of
from tests.helpers.words import said

Taken = tuple[int, ...]
"""1 for each choice that is taken of a garden modelled strip by strip, 0 for the others."""


def taken_of(garden: Garden, chosen: Iterable[int]) -> Taken:
    """Return 1 for each chosen choice and 0 for the others."""
    picked = set(chosen)
    return tuple(int(number in picked) for number in range(len(garden.choices)))


def number_of(
    garden: Garden, crop: str, crop_year: int, strip: int = 1, bed: str = "bed", size: int | None = None
) -> int:
    """Return the one choice of a crop, harvested in that garden year, whose first strip is ``strip``.

    ``size`` is the strips its block takes; the fewest on offer there if none is given. Of several ends of one start, as
    a green manure has them, it is the last.
    """
    found = [
        number
        for number, choice in enumerate(garden.choices)
        if (choice.sowing.crop, choice.sowing.crop_year) == (crop, crop_year)
        and (choice.bed, choice.cells[0].strip) == (bed, strip)
    ]
    wished = size or min((garden.choices[number].block.strips for number in found), default=0)
    here = [number for number in found if garden.choices[number].block.strips == wished]
    starts = {garden.choices[number].sowing.start for number in here}
    assert len(starts) == 1, f"{crop} in {crop_year}, {wished} strips from {strip} of {bed}: starts on {starts}"
    return max(here, key=lambda number: garden.choices[number].sowing.course.clear)


def plan_of(garden: Garden, taken: Taken) -> Plan:
    """Return the finished plan of a garden modelled strip by strip."""
    places = {bed: places_in_exact(garden, taken, bed) for bed in garden.beds}
    return blank_plan(garden.scenario, plantings_of(garden, places))


def least_cost(program: Program, taken: Sequence[int] | None = None) -> int | None:
    """Return the fewest points CP-SAT can lose with the choices fixed (free if None); None if no row-keeping way is."""
    fixed = dict(enumerate(taken)) if taken is not None else None
    model, variables, _ = translate(program, fixed=fixed)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.cp_model_presolve = taken is None
    status = solver.solve(model)
    if status == cp_model.INFEASIBLE:
        return None
    assert status == cp_model.OPTIMAL
    return program.cost([solver.value(variable) for variable in variables])


def model_accepts(garden: Garden, taken: Taken, program: Program | None = None) -> bool:
    """Return whether every posted row can hold with these choices, goals left out."""
    return least_cost(program or build_program(garden, goals=False), taken) is not None


def broken(garden: Garden, taken: Taken) -> set[Claim]:
    """Return the claims the referee finds broken by these choices."""
    return {breach.claim for breach in judge(garden, plan_of(garden, taken)).breaches}


def accepted(garden: Garden, chosen: Iterable[int], program: Program | None = None) -> bool:
    """Return the one verdict of model and referee on the chosen choices; fails if they differ."""
    taken = taken_of(garden, chosen)
    by_model, by_referee = model_accepts(garden, taken, program), broken(garden, taken)
    assert by_model == (not by_referee), f"model {by_model}, referee {by_referee}, {plan_of(garden, taken).plantings}"
    return by_model


def posted(garden: Garden, key: str) -> set[Claim]:
    """Return the claims that one rule posts rows for."""
    board = Board(garden)
    rule_by_key(key).post(garden, board)
    return {row.claim for row in board.rows if row.claim is not None}


def found_by(garden: Garden, key: str, plan: Plan) -> list[str]:
    """Return what one rule finds in a plan, in words."""
    return [said(breach) for breach in rule_by_key(key).breaches(garden, plan)]


def goal_program(garden: Garden, goal: Goal) -> Program:
    """Return the program of one goal alone, without rules."""
    board = Board(garden)
    goal.cost(garden, board)
    return freeze(board)


def lost_both_ways(garden: Garden, goal: Goal, chosen: Iterable[int]) -> int:
    """Return the points a goal loses with the chosen choices: as the solver charges and as the plan is recounted."""
    taken = taken_of(garden, chosen)
    charged, recounted = least_cost(goal_program(garden, goal), taken), goal.score(garden, plan_of(garden, taken)).lost
    assert charged == recounted, f"{goal.key}: the solver charges {charged}, the plan loses {recounted}"
    return recounted


def highs_least_cost(program: Program) -> int | None:
    """Return the fewest points HiGHS can lose, in this process, or None if it finds the rows contradict each other."""
    if any(not row.terms and not row.low <= 0 <= row.high for row in program.rows):
        return None
    solver: Any = SilentHighs()  # type: ignore[no-untyped-call]
    solver.setOptionValue("mip_rel_gap", 0.0)
    # As the relaxation does: HiGHS refuses another number of threads later in one process.
    solver.setOptionValue("threads", 1)
    solver.passModel(model_of(arrays_of(program)))
    solver.run()
    if solver.getModelStatus() == highspy.HighsModelStatus.kInfeasible:
        return None
    assert solver.getModelStatus() == highspy.HighsModelStatus.kOptimal
    points: float = solver.getInfo().objective_function_value
    return round(points)
