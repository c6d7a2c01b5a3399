"""The sun that the crops of other beds take, in words."""

from __future__ import annotations

from rotasolve.domain.seasons import MONTHS, say_day
from rotasolve.rules.sun_past_neighbours import ShadeClaim, SunTaken, WouldLackSun, WouldTakeSun
from rotasolve.views.words.look import Look
from rotasolve.views.words.saying import say


@say.register
def _(claim: ShadeClaim, look: Look) -> str:
    return f"the crops of other beds leave every crop in {claim.bed} the sun it needs at the least"


@say.register
def _(found: SunTaken, look: Look) -> str:
    return _say_lack(found.crop, found)


@say.register
def _(why: WouldLackSun, look: Look) -> str:
    return f"{_say_lack('it', why.lack)} (until {say_day(why.until)})"


@say.register
def _(why: WouldTakeSun, look: Look) -> str:
    return f"it would leave too little sun to {why.lack.crop} in {why.bed}: {_say_lack(why.lack.crop, why.lack)}"


def _say_lack(who: str, lack: SunTaken) -> str:
    beds = ", ".join(f"{bed} {hours:.1f} h" for bed, hours in lack.taken)
    has = f"the bed has {lack.has_hours:.1f} h in {MONTHS[lack.month - 1]}"
    return f"{who} needs {lack.need_hours:g} h of sun a day, {has}, and crops take {beds}"
