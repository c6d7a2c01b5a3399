"""Ground bare in winter, in words."""

from __future__ import annotations

from rotasolve.goals.winter_cover import WinterCovered
from rotasolve.views.words.look import Look
from rotasolve.views.words.saying import say


@say.register
def _(reached: WinterCovered, look: Look) -> str:
    return f"ground covered {reached.covered_percent} % of the winter"
