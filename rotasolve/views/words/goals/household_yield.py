"""Targets met, in words."""

from __future__ import annotations

from rotasolve.goals.household_yield import TargetsMet
from rotasolve.views.words.look import Look
from rotasolve.views.words.saying import say


@say.register
def _(reached: TargetsMet, look: Look) -> str:
    in_poor_years = " even in a poor year" if reached.in_a_poor_year else ""
    return f"{reached.met} of {reached.targets} yearly targets met in full{in_poor_years}"
