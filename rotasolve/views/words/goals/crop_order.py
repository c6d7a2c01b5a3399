"""What follows what, in words."""

from __future__ import annotations

from rotasolve.domain.seasons import say_year
from rotasolve.goals.crop_order import BadOrder, OrdersKept
from rotasolve.views.words.look import Look
from rotasolve.views.words.saying import say
from rotasolve.views.words.wording import say_count


@say.register
def _(found: BadOrder, look: Look) -> str:
    return _said([found])


@say.register
def _(reached: OrdersKept, look: Look) -> str:
    times = f"a crop follows one that it does badly after {say_count(reached.times, 'time')}"
    pairs: dict[tuple[str, str], list[BadOrder]] = {}
    for order in reached.bad:
        pairs.setdefault((order.after, order.before), []).append(order)
    return f"{times}: {'; '.join(_said(alike) for alike in pairs.values())}" if pairs else times


def _said(alike: list[BadOrder]) -> str:
    """Say what follows what, where and when, and why that is bad: of one pair of crops."""
    one, why = alike[0], alike[0].why.rstrip(".")
    where = ", ".join(f"{order.bed} {say_year(order.year, order.south)}" for order in alike)
    reason = f": {why[:1].lower()}{why[1:]}" if why else ""
    return f"{one.after} after {one.before} in {where} ({one.evidence} evidence{reason})"
