"""Windows that are open or closed, in words."""

from __future__ import annotations

from rotasolve.domain.seasons import say_day
from rotasolve.rules.season_window import Closed, Opening, OutOfSeason, PickedUnripe, WindowClaim
from rotasolve.views.words.look import Look
from rotasolve.views.words.windows import say

_PLACES = {"open ground": "in open ground", "cold frame": "in the cold frame", "fleece": "under fleece"}


@say.register
def _(claim: WindowClaim, look: Look) -> str:
    return f"{claim.crop} in {claim.bed} is started in its season"


@say.register
def _(found: PickedUnripe, look: Look) -> str:
    return f"{found.crop} picked on {say_day(found.picked)} is ripe on {say_day(found.ripe)} at the soonest"


@say.register
def _(found: OutOfSeason, look: Look) -> str:
    started = f"{found.crop} {found.way} on {say_day(found.start)}"
    if found.window is None:
        return f"{started}, never open here"
    return f"{started}, open from {say_day(found.window[0])} to {say_day(found.window[1])}"


@say.register
def _(why: Closed, look: Look) -> str:
    first, *others = why.openings
    never = first.window is None
    here = f"never {why.way} {_say_place(first)}" if never else f"{why.way} {_say_opening(first, look)}"
    said = [f"{why.crop} is {here}", *(_say_opening(other, look) for other in others)]
    if why.least_night_c is not None:
        said.append(f"it wants nights of {why.least_night_c:g} degC or more")
    return "; ".join(said)


def _say_place(opening: Opening) -> str:
    return _PLACES.get(opening.cover, f"under a {opening.cover}")


def _say_opening(opening: Opening, look: Look) -> str:
    place = _say_place(opening)
    if opening.window is None:
        return f"never {place}"
    reasons = ", ".join(say(reason, look) for reason in opening.opens)
    why = f": {reasons}" if reasons else ""
    first, last = opening.window
    if first == last:
        return f"on {say_day(first)} {place}{why}"
    return f"from {say_day(first)} to {say_day(last)} {place}{why}"
