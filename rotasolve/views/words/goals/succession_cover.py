"""Something to pick, in words."""

from __future__ import annotations

from rotasolve.goals.succession_cover import FreshHalfMonths
from rotasolve.views.words.look import Look
from rotasolve.views.words.saying import say


@say.register
def _(reached: FreshHalfMonths, look: Look) -> str:
    said = f"something to pick in {reached.picked_half_months} of {reached.wished_half_months} half months wished"
    if not reached.wished_by_amount:
        return said
    amounts = f"the amount wished a week in {reached.enough_half_months} of {reached.wished_by_amount} half months"
    amounts += f", over twice as much in {reached.glut_half_months}" if reached.glut_half_months else ""
    return f"{said}; {amounts}" if reached.wished_half_months else amounts
