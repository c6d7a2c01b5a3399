"""Something to pick, in words."""

from __future__ import annotations

from rotasolve.goals.succession_cover import FreshHalfMonths
from rotasolve.views.words.look import Look
from rotasolve.views.words.saying import say
from rotasolve.views.words.wording import say_number


@say.register
def _(reached: FreshHalfMonths, look: Look) -> str:
    picked = _months(reached.picked_half_months, reached.wished_half_months)
    said = f"something to pick in {picked} months wished"
    if not reached.wished_by_amount:
        return said
    amounts = f"the amount wished a week in {_months(reached.enough_half_months, reached.wished_by_amount)} months"
    amounts += f", over twice as much in {say_number(reached.glut_half_months / 2)}" if reached.glut_half_months else ""
    return f"{said}; {amounts}" if reached.wished_half_months else amounts


def _months(hit: int, wished: int) -> str:
    """Say half months as months: ``1.5 of 2``."""
    return f"{say_number(hit / 2)} of {say_number(wished / 2)}"
