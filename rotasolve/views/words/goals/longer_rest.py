"""A year more than the rule asks, in words."""

from __future__ import annotations

from rotasolve.goals.longer_rest import EarlyReturns
from rotasolve.views.words.look import Look
from rotasolve.views.words.saying import say
from rotasolve.views.words.wording import say_count


@say.register
def _(reached: EarlyReturns, look: Look) -> str:
    return f"{say_count(reached.returns, 'return')} a year or more sooner than wished"
