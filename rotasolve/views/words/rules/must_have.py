"""What the household insists on, in words."""

from __future__ import annotations

from rotasolve.domain.seasons import say_year
from rotasolve.rules.must_have import MustClaim, TooFewKg, TooFewPlants
from rotasolve.views.words.look import Look
from rotasolve.views.words.saying import say


@say.register
def _(claim: MustClaim, look: Look) -> str:
    # No separator for thousands and no rounding: this is the grower's own number.
    plants = f"{claim.plants} plant{'' if claim.plants == 1 else 's'}"
    amount = plants if claim.kg is None else f"{claim.kg:.10g} kg"
    where = f" in {claim.bed}" if claim.bed is not None else ""
    return f"you want at least {amount} of {claim.crop}{where} in {say_year(claim.year, claim.south)}"


@say.register
def _(found: TooFewPlants, look: Look) -> str:
    return f"only {found.plants} of {found.wanted} plants"


@say.register
def _(found: TooFewKg, look: Look) -> str:
    return f"only {found.kg:g} of {found.wanted_kg:.10g} kg"
