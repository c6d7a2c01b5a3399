"""The order of demand, in words."""

from __future__ import annotations

from rotasolve.goals.order_of_demand import DemandMet
from rotasolve.views.words.look import Look
from rotasolve.views.words.saying import say
from rotasolve.views.words.wording import say_count


@say.register
def _(reached: DemandMet, look: Look) -> str:
    found = [
        (reached.heavy_again, "a second year running"),
        (reached.heavy_unprepared, "not after legumes: compost for these"),
    ]
    said = [f"heavy feeders in {say_count(reached.heavy, 'bed and year')}"]
    said += [f"{times} {what}" for times, what in found if times]
    others = [
        (reached.roots_on_fed, "roots on ground fed for them"),
        (reached.light_after_legumes, "light feeders after legumes"),
    ]
    said += [f"{what} {say_count(times, 'time')}" for times, what in others if times]
    return ", ".join(said)
