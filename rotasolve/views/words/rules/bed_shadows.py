"""Shadows from bed to bed, in words."""

from __future__ import annotations

from rotasolve.domain.seasons import say_day
from rotasolve.rules.bed_shadows import Reaches, ShadowClaim, WouldReach
from rotasolve.views.words.look import Look
from rotasolve.views.words.saying import say
from rotasolve.views.words.statures import say_in_order, say_stature
from rotasolve.views.words.wording import say_whole_cm


@say.register
def _(claim: ShadowClaim, look: Look) -> str:
    return f"no crop in {claim.caster} is so tall that its shadow reaches a lower crop in {claim.receiver}"


@say.register
def _(found: Reaches, look: Look) -> str:
    far = f"shadow {say_whole_cm(found.shadow_cm, look)} over a {say_whole_cm(found.gap_cm, look)} gap"
    return f"{say_in_order(found.tall, found.low, look)}, {far} about {say_day(found.about)}"


@say.register
def _(why: WouldReach, look: Look) -> str:
    far = f"{say_whole_cm(why.shadow_cm, look)} across a {say_whole_cm(why.gap_cm, look)} gap"
    tall = say_stature(why.tall, look)
    if why.is_reached:
        text = f"the shadow of {why.other} in {why.other_bed} ({tall}) would reach it"
    else:
        text = f"its shadow ({tall}) would reach {why.other} in {why.other_bed}"
    text += f", {far} about {say_day(why.about)}"
    if why.harmless:
        text += ", but not the middle of its strip, so it costs next to nothing"
        text += " ('height_order: by shadow' lets it)"
    return text
