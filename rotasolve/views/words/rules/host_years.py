"""So many host years in so many, in words."""

from __future__ import annotations

from rotasolve.domain.seasons import say_year
from rotasolve.rules.host_years import HostYearsClaim, TooOften
from rotasolve.views.words.look import Look
from rotasolve.views.words.saying import say


@say.register
def _(claim: HostYearsClaim, look: Look) -> str:
    zone = f"{claim.bed}, strip {claim.strip}" if claim.strip else claim.bed
    return f"{claim.hosts} in {zone} in {claim.most} of any {claim.of_years} years at most"


@say.register
def _(found: TooOften, look: Look) -> str:
    return f"it would be in {', '.join(say_year(year, found.south) for year in found.years)}"
