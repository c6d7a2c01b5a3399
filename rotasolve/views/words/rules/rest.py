"""The rest of families and hosts, in words."""

from __future__ import annotations

from rotasolve.domain.seasons import say_year
from rotasolve.rules.rest import Host, HostTooNear, KnownForGood, RestClaim, TooSoonAgain
from rotasolve.views.words.look import Look
from rotasolve.views.words.saying import say
from rotasolve.views.words.wording import say_count


@say.register
def _(claim: RestClaim, look: Look) -> str:
    zone = f"{claim.bed}, strip {claim.strip}" if claim.strip else claim.bed
    if claim.kind == "closed":
        return f"{zone} is closed to hosts of {claim.group}, which lasts in the soil without end"
    years = say_count(claim.gap_years, "complete year")
    if claim.kind == "disease":
        return f"hosts of {claim.group} stay out of {zone} for {years}, because the disease is known there"
    return f"{claim.group} rest for {years} between plantings in {zone}"


@say.register
def _(found: Host, look: Look) -> str:
    years = [say_year(year, found.south) for year in sorted({found.year, found.last})]
    when = f"in {' and '.join(years)}" if found.last - found.year < 2 else f"from {' to '.join(years)}"
    if found.seen:
        return f"the disease was seen {when}"
    return f"whatever grew {when}, which is not on record" if found.crop is None else f"{found.crop} {when}"


@say.register
def _(found: TooSoonAgain, look: Look) -> str:
    between = say_count(found.between_years, "complete year")
    return f"{say(found.first, look)}, {say(found.second, look)}: {between} between, {found.asked_years} needed"


@say.register
def _(why: KnownForGood, look: Look) -> str:
    here = f"in strip {why.strip}" if why.strip else "here"
    return f"{why.disease} is known {here} and lasts in the soil without end, hosts stay out for good"


@say.register
def _(why: HostTooNear, look: Look) -> str:
    here, south = f"in strip {why.strip}" if why.strip else "here", why.host.south
    who = f"hosts of {why.group}" if why.disease else why.group
    year = say_year(why.host.year, south)
    stood = f"{why.host.crop} {'is planned' if why.planned else 'stood'} {here} in {year}"
    if why.host.seen:
        stood = f"{why.group} was seen {here} in {year}"
    elif why.host.crop is None:
        stood = f"what stood {here} in {year} is not on record"
    if not why.later:
        return f"{stood}; {who} may return in {say_year(why.again, south)}"
    between = say_count(why.gap_years, "complete year")
    return f"{stood}; {who} need {between} between and may come in {say_year(why.again, south)} again"
