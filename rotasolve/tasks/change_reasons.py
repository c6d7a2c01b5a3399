"""Why a planting of an earlier plan does not stand in the new one as it was: what is found where it is put back."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.referee import blank_plan, breaches_of
from rotasolve.rules import WISHES

if TYPE_CHECKING:
    from collections.abc import Container

    from rotasolve.domain.moves import Changes, Move, Why
    from rotasolve.domain.plan import Plan, Planting
    from rotasolve.relations.ground.garden import Garden

MOST_REASONS = 40
"""Where more plantings change than anyone reads, only the first are looked into."""


def reasons_of(garden: Garden, plan: Plan, changes: Changes, failed: Container[Planting] = ()) -> tuple[Why, ...]:
    """Return why each planting that changed did, in the order of the changes; the first ``MOST_REASONS`` of them.

    Parameters
    ----------
    garden
        With what is kept, and what could have stayed (``with_kept``).
    plan
        The new plan.
    failed
        The plantings of the earlier plan that failed.
    """
    moves = changes.moves[:MOST_REASONS]
    return tuple("failed" if move.before in failed else _why(garden, plan, move) for move in moves)


def _why(garden: Garden, plan: Plan, move: Move) -> Why:
    one, other = move.before.model_copy(update={"kept": False}), move.after
    if one.crop not in garden.wanted:
        return "not wanted"
    for beside in (garden.kept, tuple(planting for planting in plan.plantings if planting != other)):
        told = breaches_of(garden, blank_plan(garden.scenario, (*beside, one)))
        against = [breach for breach in told if breach.claim.rule not in WISHES and one in breach.plantings]
        if against:
            return against[0]
    could_stay = garden.scenario.rules.few_changes == "not at all" or one in garden.before
    return "fewer points" if could_stay else "in the past"
