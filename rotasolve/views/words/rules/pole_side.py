"""Heights that fall from the pole side, in words."""

from __future__ import annotations

from rotasolve.domain.seasons import say_day
from rotasolve.domain.strips import say_strips
from rotasolve.rules.pole_side import OrderClaim, OutOfOrder, Shades, WrongSide
from rotasolve.views.words.look import Look
from rotasolve.views.words.saying import say
from rotasolve.views.words.statures import say_in_order, say_stature
from rotasolve.views.words.wording import say_whole_cm


@say.register
def _(claim: OrderClaim, look: Look) -> str:
    return f"in {claim.bed} a taller crop never stands on the sunny side of a lower one"


@say.register
def _(found: OutOfOrder, look: Look) -> str:
    return f"{say_in_order(found.tall, found.low, look)} from {say_day(found.since)}"


@say.register
def _(found: Shades, look: Look) -> str:
    far = f"{say_whole_cm(found.shadow_cm, look)} about {say_day(found.about)}"
    return f"{say_in_order(found.tall, found.low, look)}, shadow {far}"


@say.register
def _(why: WrongSide, look: Look) -> str:
    where, side = say_strips(why.strips), "north" if why.south else "south"
    it, other = say_stature(why.it, look), say_stature(why.other, look)
    if why.taller:
        text = f"in {where} it ({it}) would stand {side} of {why.other.crop} ({other})"
    else:
        text = f"in {where} {why.other.crop} ({other}) would stand {side} of it ({it})"
    text += f" until {say_day(why.until)}"
    if why.harmless:
        text += "; its noon shadow would not reach the middle of the lower one's strip, so it costs next to nothing"
        text += " ('height_order: by shadow' lets it)"
    return text
