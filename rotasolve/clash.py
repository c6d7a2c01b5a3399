"""A smallest clash: claims that cannot all hold, the grower's own wishes blamed last."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ortools.sat.python import cp_model

from rotasolve.domain.claim import Claim, Reason
from rotasolve.referee import say_claim
from rotasolve.rules import RULES
from rotasolve.solver.cpsat import translate_switched
from rotasolve.solver.program import build_program, loosened

if TYPE_CHECKING:
    from rotasolve.relations.garden import Garden

_ORDER = {rule.key: place for place, rule in enumerate(RULES)}
_EFFORT = 20.0


def find_clash(garden: Garden) -> tuple[Reason, ...]:
    """Return claims of which no plan can hold all, while any one fewer would do; empty if a plan is possible.

    Goals are left out of the model: with an objective CP-SAT's core names every claim. Claims are dropped one at a
    time, laws of the ground first kept, so that what remains to blame is as far as possible not the grower's wish.
    """
    program = loosened(build_program(garden, goals=False))
    claims = sorted(
        {row.claim for row in program.rows if row.claim}, key=lambda claim: (_ORDER[claim.rule], claim.about)
    )
    switched = translate_switched(program)
    core = _core(switched, claims)
    if core is None:
        return ()
    kept = list(core)
    for claim in sorted(core, key=lambda claim: (-_ORDER[claim.rule], claim.about)):
        fewer = [other for other in kept if other != claim]
        smaller = _core(switched, fewer)
        if smaller is not None:
            kept = [other for other in fewer if other in smaller]
    return tuple(Reason(claim=claim, sentence=say_claim(claim)) for claim in claims if claim in kept)


def _core(
    switched: tuple[cp_model.CpModel, list[cp_model.IntVar], dict[Claim, cp_model.IntVar]], claims: list[Claim]
) -> set[Claim] | None:
    """Return some of ``claims`` that already clash, or None if all can hold or the effort did not suffice to tell."""
    model, _, switches = switched
    model.clear_assumptions()
    by_index = {}
    for claim in claims:
        if claim in switches:
            model.add_assumption(switches[claim])
            by_index[switches[claim].index] = claim
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.catch_sigint_signal = False
    solver.parameters.max_deterministic_time = _EFFORT
    status = solver.solve(model)
    if status != cp_model.INFEASIBLE:
        return None
    named = {by_index[index] for index in solver.sufficient_assumptions_for_infeasibility() if index in by_index}
    return named or set(claims)
