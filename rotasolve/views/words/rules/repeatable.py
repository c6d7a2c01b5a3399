"""A plan that goes round, in words."""

from __future__ import annotations

from rotasolve.domain.seasons import say_day, say_year
from rotasolve.rules.repeatable import BackTooSoon, RepeatClaim, RoundsMeet
from rotasolve.views.words.look import Look
from rotasolve.views.words.saying import say
from rotasolve.views.words.wording import say_count


@say.register
def _(claim: RepeatClaim, look: Look) -> str:
    zone = f"{claim.bed}, strip {claim.strip}" if claim.strip else claim.bed
    around = "after one year" if claim.years == 1 else f"after {claim.years} years"
    if not claim.group:
        return f"the plan may begin again {around}: its end leaves {zone} free for its start"
    rest = say_count(claim.gap_years, "complete year")
    return f"the plan may begin again {around}: {claim.group} rest for {rest} in {zone} then too"


@say.register
def _(found: BackTooSoon, look: Look) -> str:
    between = say_count(found.between_years, "complete year")
    return (
        f"after {found.crop} in {say_year(found.year, found.south)} comes {found.again} again in "
        f"{say_year(found.year_again, found.south)}: {between} between, {found.asked_years} needed"
    )


@say.register
def _(found: RoundsMeet, look: Look) -> str:
    until, start = say_day(found.until), say_day(found.start)
    return f"strip {found.strip} holds {found.crop} until {until}, and {found.again} comes again on {start}"
