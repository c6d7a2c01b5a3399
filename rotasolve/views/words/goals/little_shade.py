"""Sun taken from other beds, in words."""

from __future__ import annotations

from rotasolve.goals.little_shade import ShadeCounted
from rotasolve.views.words.look import Look
from rotasolve.views.words.saying import say


@say.register
def _(reached: ShadeCounted, look: Look) -> str:
    return "sun taken from other beds" if reached.is_counted else "nothing known of the beds' places"
