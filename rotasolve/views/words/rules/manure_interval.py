"""The days between raw manure and a harvest, in words."""

from __future__ import annotations

from rotasolve.domain.seasons import say_day
from rotasolve.rules.manure_interval import ManureClaim, PickedFrom, PickedTooSoon
from rotasolve.views.words.look import Look
from rotasolve.views.words.saying import say


@say.register
def _(claim: ManureClaim, look: Look) -> str:
    return (
        f"raw manure was spread on {claim.bed} on {say_day(claim.spread)}, so for {claim.touching_days} days nothing "
        f"is picked there that touches the soil, and for {claim.clear_days} days nothing else"
    )


@say.register
def _(found: PickedTooSoon, look: Look) -> str:
    touches = "touches" if found.touches_soil else "does not touch"
    return (
        f"{found.crop}, which {touches} the soil, is picked on {say_day(found.picked)}: {found.after_days} days "
        f"after it, {found.asked_days} needed"
    )


@say.register
def _(why: PickedFrom, look: Look) -> str:
    return (
        f"{why.crop} may be picked in {why.bed} from {say_day(why.free)} on, after the raw manure of "
        f"{say_day(why.spread)}, not on {say_day(why.first_harvest)}"
    )
