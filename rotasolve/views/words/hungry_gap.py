"""The hungry gap of each spring in words: its dates, what is picked in it and what the store gives."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.domain.seasons import MONTHS, first_day, last_day, say_year
from rotasolve.views.words.wording import TIED, say_kg, say_span

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from rotasolve.domain.supply import SpringSupply
    from rotasolve.views.words.look import Look

_MOST_CROPS = 6


def gap_title(springs: Sequence[SpringSupply]) -> str:
    """Return the heading of what is said of springs; ``springs`` are not empty."""
    return f"Hungry gap: less than {say_kg(springs[0].little_g / 1000)} to pick in half a month of spring"


def say_spring(spring: SpringSupply, south: bool, look: Look) -> str:
    """Say one spring: ``2028: 16 Mar - 31 May, 1.9 kg picked (leek 1.2 kg, kale 0.7 kg); eaten from the store ...``."""
    first, last = first_day(spring.first_period), last_day(spring.last_period)
    picked = _say_crops(spring.picked_g) or "nothing"
    stored = _say_crops(spring.stored_g) or "nothing"
    year = say_year(spring.year, south)
    if spring.hungry:
        when = say_span(first, last, spring.year, south, look)
    else:
        when = f"none from {MONTHS[first.month - 1]} to {MONTHS[last.month - 1]}"
    begins = "; the plan begins with this year, and what stood before is not counted" if spring.begins_plan else ""
    return f"{year}: {when}; picked then: {picked}; eaten from the store: {stored}{begins}."


def _say_crops(grams: Iterable[tuple[str, int]]) -> str:
    told = [f"{crop}{TIED}{say_kg(each / 1000)}" for crop, each in grams]
    more = f" and {len(told) - _MOST_CROPS} more" if len(told) > _MOST_CROPS else ""
    return ", ".join(told[:_MOST_CROPS]) + more
