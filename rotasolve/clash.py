"""A smallest clash: claims that cannot all hold; and the ways out of it. The grower's own wishes are blamed last."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from ortools.sat.python import cp_model

from rotasolve.domain.result import Impossible
from rotasolve.rules import GROUND, RULES, WISHES
from rotasolve.solver.cpsat import translate_switched
from rotasolve.solver.program import build_program, loosened

if TYPE_CHECKING:
    from rotasolve.domain.claim import Claim
    from rotasolve.relations.ground.garden import Garden
    from rotasolve.solver.program import Program

_ORDER = {rule.key: place for place, rule in enumerate(RULES)}
_EFFORT = 20.0
_WEIGHT_OF_WISH = 100
_WEIGHT_OF_GROUND = 10_000
_EFFORT_OF_A_WAY = 3.0
WAYS_OUT = 3
"""So many ways out are looked for."""

Switched = tuple[cp_model.CpModel, list[cp_model.IntVar], dict["Claim", cp_model.IntVar]]


def explain(garden: Garden, known_impossible: bool = False) -> Impossible:
    """Return a smallest clash and the ways out of it, both empty if a plan is possible.

    ``known_impossible`` looks for ways out even if no clash is found within the effort.
    """
    program = hard_program(garden)
    clash = smallest_clash(program)
    return Impossible(clash, ways_out(program) if clash or known_impossible else ())


def hard_program(garden: Garden) -> Program:
    """Return a garden's program without goals: with an objective CP-SAT's core names every claim."""
    return loosened(build_program(garden, goals=False))


def smallest_clash(program: Program) -> tuple[Claim, ...]:
    """Return claims of which no plan can hold all, while any one fewer would do; empty if a plan is possible.

    Claims are dropped one at a time, laws of the ground first kept, so that what remains to blame is as far as
    possible not the grower's wish.
    """
    claims = sorted(
        {row.claim for row in program.rows if row.claim}, key=lambda claim: (_ORDER[claim.rule], claim.about)
    )
    core = _core(translate_switched(program), claims)
    if core is None:
        return ()
    # What the core does not name cannot matter any more: the rest is done on a far smaller model.
    switched = translate_switched(_only(program, core))
    left = [claim for claim in claims if claim in core]
    for claim in reversed(left):
        fewer = [other for other in left if other != claim]
        smaller = _core(switched, fewer) if len(fewer) < len(left) else None
        if smaller is not None:
            left = [other for other in fewer if other in smaller]
    return tuple(left)


def _only(program: Program, claims: set[Claim]) -> Program:
    """Return the program with the rows of some claims, and of the definitions those that their variables reach."""
    rows = [row for row in program.rows if row.claim in claims]
    choices = len(program.garden.choices)
    marks = {number for row in rows for number, _ in row.terms if number >= choices}
    rows += [row for row in program.rows if row.claim is None and any(number in marks for number, _ in row.terms)]
    return replace(program, rows=tuple(rows))


def ways_out(program: Program) -> tuple[tuple[Claim, ...], ...]:
    """Return sets of claims of which giving up any one set would do, the easiest first; empty if a plan is possible.

    Each set is minimal: with one claim fewer given up there is still no plan. The fewest wishes of the grower are
    given up first, then the fewest claims; the ground itself only where nothing else helps. In large gardens the
    order holds as far as the effort goes.
    """
    model, _, switches = translate_switched(program)
    weight = cp_model.LinearExpr.weighted_sum(
        [switch.negated() for switch in switches.values()], [_weight(claim) for claim in switches]
    )
    found: list[tuple[Claim, ...]] = []
    while len(found) < WAYS_OUT:
        solver, weighed = _solver(_EFFORT_OF_A_WAY), model.clone()
        weighed.minimize(weight)
        status = solver.solve(weighed)
        if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
            break
        given_up = [claim for claim, switch in switches.items() if not solver.value(switch)]
        if status == cp_model.FEASIBLE:
            given_up = _shrunk(model, switches, given_up)
        if not given_up:
            break
        given_up.sort(key=lambda claim: (_ORDER[claim.rule], claim.about))
        found.append(tuple(given_up))
        # The next set must keep one of these: a set that only adds to it would not be minimal.
        model.add_bool_or([switches[claim] for claim in given_up])
    return tuple(found)


def _shrunk(model: cp_model.CpModel, switches: dict[Claim, cp_model.IntVar], given_up: list[Claim]) -> list[Claim]:
    """Return as few of the claims as do: wishes are kept first, and what cannot be told in time stays given up."""
    needed = list(given_up)
    for claim in sorted(given_up, key=lambda claim: (-_weight(claim), claim.about)):
        fewer = {other for other in needed if other != claim}
        held = model.clone()
        for other, switch in switches.items():
            if other not in fewer:
                held.add(switch == 1)
        if _solver(_EFFORT_OF_A_WAY).solve(held) in (cp_model.OPTIMAL, cp_model.FEASIBLE):
            needed = [other for other in needed if other in fewer]
    return needed


def _weight(claim: Claim) -> int:
    return _WEIGHT_OF_GROUND if claim.rule in GROUND else _WEIGHT_OF_WISH if claim.rule in WISHES else 1


def _solver(effort: float) -> cp_model.CpSolver:
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.catch_sigint_signal = False
    solver.parameters.max_deterministic_time = effort
    return solver


def _core(switched: Switched, claims: list[Claim]) -> set[Claim] | None:
    """Return some of ``claims`` that already clash, or None if all can hold or the effort did not suffice to tell."""
    model, _, switches = switched
    model.clear_assumptions()
    by_index = {}
    for claim in claims:
        if claim in switches:
            model.add_assumption(switches[claim])
            by_index[switches[claim].index] = claim
    solver = _solver(_EFFORT)
    status = solver.solve(model)
    if status != cp_model.INFEASIBLE:
        return None
    named = {by_index[index] for index in solver.sufficient_assumptions_for_infeasibility() if index in by_index}
    return named or set(claims)
