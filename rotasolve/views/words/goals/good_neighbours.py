"""Helpful neighbours, in words."""

from __future__ import annotations

from rotasolve.goals.good_neighbours import PairsTogether
from rotasolve.views.words.look import Look
from rotasolve.views.words.saying import say
from rotasolve.views.words.wording import say_count


@say.register
def _(reached: PairsTogether, look: Look) -> str:
    times = say_count(reached.times, "time")
    return f"helpful neighbours together {times} (pairs in a bed at the height of a season)"
