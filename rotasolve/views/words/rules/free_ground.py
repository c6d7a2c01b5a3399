"""One crop at a time on a strip, in words."""

from __future__ import annotations

from rotasolve.domain.seasons import say_day
from rotasolve.domain.strips import say_strips
from rotasolve.rules.free_ground import (
    ClearedBeforeStart,
    GroundClaim,
    Held,
    NoSuchStrip,
    PickedWhileAway,
    StandsFromBefore,
    Stretch,
    StripTwice,
    TwoCrops,
)
from rotasolve.views.words.look import Look
from rotasolve.views.words.saying import say


@say.register
def _(claim: GroundClaim, look: Look) -> str:
    return f"each strip of {claim.bed} holds one crop at a time"


@say.register
def _(found: NoSuchStrip, look: Look) -> str:
    return f"strip {found.strip} does not exist"


@say.register
def _(found: StripTwice, look: Look) -> str:
    return f"{found.crop} names a strip twice"


@say.register
def _(found: ClearedBeforeStart, look: Look) -> str:
    return f"{found.crop} is cleared on {say_day(found.clear)}, before it is started"


@say.register
def _(found: PickedWhileAway, look: Look) -> str:
    return f"{found.crop} is picked on days on which it does not stand"


@say.register
def _(found: StandsFromBefore, look: Look) -> str:
    before = f"{found.past} from before the plan stands until {say_day(found.until)}"
    return f"{before}, {found.crop} starts on {say_day(found.start)}"


@say.register
def _(found: TwoCrops, look: Look) -> str:
    return f"strip {found.strip} holds {_say_stretch(found.one)} and {_say_stretch(found.other)}"


@say.register
def _(why: Held, look: Look) -> str:
    since = "from before the plan until" if why.since is None else f"from {say_day(why.since)} to"
    return f"{say_strips(why.strips)} held by {why.crop} {since} {say_day(why.until)}"


def _say_stretch(stretch: Stretch) -> str:
    return f"{stretch.crop} from {say_day(stretch.first)} to {say_day(stretch.last)}"
