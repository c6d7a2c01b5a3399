"""The least sun of a strip, in words."""

from __future__ import annotations

from rotasolve.domain.seasons import MONTHS
from rotasolve.domain.strips import say_strips
from rotasolve.rules.least_sun import DarkStrip, DarkStrips, SunClaim
from rotasolve.views.words.look import Look
from rotasolve.views.words.saying import say


@say.register
def _(claim: SunClaim, look: Look) -> str:
    return f"every crop in {claim.bed} gets the sun it needs at the least"


@say.register
def _(found: DarkStrip, look: Look) -> str:
    gets = f"strip {found.strip} gets {found.gets_hours:.1f} h in {MONTHS[found.month - 1]}"
    return f"{found.crop} needs {found.need_hours:g} h of sun a day, {gets}"


@say.register
def _(why: DarkStrips, look: Look) -> str:
    gets = "gets" if len(why.strips) == 1 else "get as little as"
    sun = f"{why.gets_hours:.1f} h of sun a day in {MONTHS[why.month - 1]}"
    return f"{say_strips(why.strips)} {gets} {sun}, it needs {why.need_hours:g} h"
