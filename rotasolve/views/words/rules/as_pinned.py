"""What the grower fixed or keeps, in words."""

from __future__ import annotations

from rotasolve.domain.seasons import say_day
from rotasolve.domain.strips import say_strips
from rotasolve.rules.as_pinned import FewerPlants, NotThere, PinClaim, StripsWithout
from rotasolve.views.words.look import Look
from rotasolve.views.words.saying import say


@say.register
def _(claim: PinClaim, look: Look) -> str:
    how = f" {claim.way}" if claim.way is not None else ""
    end = f" to {say_day(claim.until)}" if claim.until is not None else ""
    day = say_day(claim.start)
    # No separator for thousands: this is the grower's own number.
    count = f" with {claim.plants} plant{'' if claim.plants == 1 else 's'}"
    if claim.kept:
        return f"you keep {claim.crop}{how} in {claim.bed}, {say_strips(claim.strips)}, from {day}{end}{count}"
    where = f", strips {_listed(claim.strips, ',')}" if claim.strips else ""
    return f"you fixed {claim.crop}{how} in {claim.bed}{where} from {day}{end}{count if claim.plants > 1 else ''}"


@say.register
def _(found: NotThere, look: Look) -> str:
    return "it is not in the plan as it was" if found.kept else "it is not in the plan"


@say.register
def _(found: StripsWithout, look: Look) -> str:
    return f"strips {_listed(found.strips, ', ')} are without it"


@say.register
def _(found: FewerPlants, look: Look) -> str:
    return f"only {found.plants} of {found.wanted} plants"


def _listed(strips: tuple[int, ...], joint: str) -> str:
    return joint.join(str(strip) for strip in strips)
