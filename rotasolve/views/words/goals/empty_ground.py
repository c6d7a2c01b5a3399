"""Bare ground, in words."""

from __future__ import annotations

from rotasolve.goals.empty_ground import GroundCovered
from rotasolve.views.words.look import Look
from rotasolve.views.words.saying import say


@say.register
def _(reached: GroundCovered, look: Look) -> str:
    return f"ground covered {reached.covered_percent} % of the growing season"
