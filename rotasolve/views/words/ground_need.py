"""What the wishes need of the ground, in words: said before a plan, so that nobody waits for what cannot be."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import islice
from typing import TYPE_CHECKING

from rotasolve.domain.seasons import MONTHS
from rotasolve.views.words.summary import say_area
from rotasolve.views.words.wording import TIED, say_count, say_kg

if TYPE_CHECKING:
    from rotasolve.domain.ground_need import FamilyGround, GroundNeed, GroundUnder
    from rotasolve.views.words.look import Look

_MOST_NAMED = 4
"""Crops named of crowded ground, and families: more would not be read."""


def need_facts(need: GroundNeed, look: Look) -> list[tuple[str, str]]:
    """Return the ground needed month by month, each cover with its name: the fuller half of each month."""
    facts = []
    for ground in need.grounds:
        fuller = [max(ground.needed_m2[2 * month : 2 * month + 2]) for month in range(12)]
        months = (f"{name[:3]}{TIED}{say_area(m2, look)}" for name, m2 in zip(MONTHS, fuller, strict=True))
        name = f"Ground the wishes need, of {say_area(ground.there_m2, look)} {_under(ground.cover)}"
        facts.append((name, ", ".join(months)))
    return facts


def say_need(need: GroundNeed, look: Look) -> Iterator[str]:
    """Say in whole sentences what cannot fit, which wishes ask most, and what would fit; nothing if all does."""
    for ground in need.crowded:
        yield _say_crowded(ground, look)
    tired = sorted(need.tired, key=lambda family: family.there_m2 - family.needed_m2)
    for family in tired[:_MOST_NAMED]:
        yield _say_tired(family, look)
    if need.less:
        amounts = (f"{one.crop} {say_kg(one.fits_kg)} instead of {say_kg(one.wanted_kg)}" for one in need.less)
        yield f"About so much would fit beside the other wishes: {', '.join(amounts)}."


def say_need_shortly(need: GroundNeed, look: Look) -> Iterator[str]:
    """Say the first thing that cannot fit, and who says more; nothing if all does."""
    for said in islice(say_need(need, look), 1):
        yield f"{said} 'rotasolve check' says what would fit."


def _under(cover: str) -> str:
    return "in open ground" if cover == "open ground" else f"under a {cover}"


def _say_crowded(ground: GroundUnder, look: Look) -> str:
    most = [f"{crop} {say_area(m2, look)}" for crop, m2 in ground.crops[:_MOST_NAMED]]
    others = len(ground.crops) - len(most)
    rest = f" and {say_count(others, 'other')}" if others else ""
    return (
        f"The wishes need about {say_area(ground.fullest_m2, look)} {_under(ground.cover)} in "
        f"{MONTHS[ground.fullest_month - 1]}, and {say_area(ground.there_m2, look)} are there: {', '.join(most)}{rest}."
    )


def _say_tired(family: FamilyGround, look: Look) -> str:
    years = say_count(family.rest_years, "complete year")
    return (
        f"{family.family} ({', '.join(family.crops)}) need about {say_area(family.needed_m2, look)} a year "
        f"{_under(family.cover)}, and with {years} of rest they have about {say_area(family.there_m2, look)} of it."
    )
