"""Something to pick, in words."""

from __future__ import annotations

from rotasolve.goals.succession_cover import FreshHalfMonths
from rotasolve.views.words.look import Look
from rotasolve.views.words.saying import say


@say.register
def _(reached: FreshHalfMonths, look: Look) -> str:
    return f"something to pick in {reached.picked_half_months} of {reached.wished_half_months} half months wished"
