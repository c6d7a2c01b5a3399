"""What follows what, in words."""

from __future__ import annotations

from rotasolve.goals.crop_order import BadOrder, OrdersKept
from rotasolve.views.words.look import Look
from rotasolve.views.words.saying import say
from rotasolve.views.words.wording import say_count


@say.register
def _(found: BadOrder, look: Look) -> str:
    why = f"; {found.why.rstrip('.')}" if found.why else ""
    return f"{found.after} after {found.before} in {found.bed} in {found.year} ({found.evidence} evidence{why})"


@say.register
def _(reached: OrdersKept, look: Look) -> str:
    times = f"a crop follows one that it does badly after {say_count(reached.times, 'time')}"
    return f"{times}: {', '.join(say(order, look) for order in reached.bad)}" if reached.bad else times
