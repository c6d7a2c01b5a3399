"""The wait after a green manure, in words."""

from __future__ import annotations

from rotasolve.domain.seasons import say_day
from rotasolve.domain.strips import say_strips
from rotasolve.rules.green_manure_wait import StartedTooSoon, WaitClaim, Waiting, WouldWait
from rotasolve.views.words.look import Look
from rotasolve.views.words.saying import say
from rotasolve.views.words.wording import say_count


@say.register
def _(claim: WaitClaim, look: Look) -> str:
    return f"ground in {claim.bed} waits {say_count(claim.days, 'day')} after {claim.crop} was dug in"


@say.register
def _(found: StartedTooSoon, look: Look) -> str:
    return (
        f"{say_strips(found.strips)} cleared of {found.crop} on {say_day(found.cleared)} takes {found.following} "
        f"on {say_day(found.start)}, after {say_count(found.waited_days, 'day')}"
    )


@say.register
def _(why: Waiting, look: Look) -> str:
    cleared = f"{say_strips(why.strips)} cleared of {why.crop} on {say_day(why.cleared)}"
    return f"{cleared}, which waits until {say_day(why.until)}"


@say.register
def _(why: WouldWait, look: Look) -> str:
    waits = f"{say_strips(why.strips)} would wait until {say_day(why.until)}"
    return f"{waits}, but {why.following} starts there on {say_day(why.start)}"
