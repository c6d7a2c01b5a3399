"""A family once in a season, in words."""

from __future__ import annotations

from rotasolve.domain.seasons import say_year
from rotasolve.domain.strips import say_strips
from rotasolve.rules.family_once import KinInSeason, OnceClaim, TwiceInSeason
from rotasolve.views.words.look import Look
from rotasolve.views.words.saying import say


@say.register
def _(claim: OnceClaim, look: Look) -> str:
    who = f"hosts of {claim.group}, which is known there," if claim.disease else claim.group
    return f"each strip of {claim.bed} bears {who} once in a growing season"


@say.register
def _(found: TwiceInSeason, look: Look) -> str:
    first = f"{found.first}, from before the plan," if found.before else found.first
    return f"{first} and {found.second} both grow on {say_strips(found.strips)} in {say_year(found.year, found.south)}"


@say.register
def _(why: KinInSeason, look: Look) -> str:
    grows = "is planned" if why.planned else "grew"
    return f"{why.crop} of the same group {grows} on {say_strips(why.strips)} in {say_year(why.year, why.south)}"
