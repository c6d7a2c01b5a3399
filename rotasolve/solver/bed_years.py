"""The choices of each bed in each year, and the years in which a plan leaves most beds empty."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rotasolve.relations.ground.garden import Garden


def bed_years(garden: Garden, years: Sequence[int] = ()) -> list[frozenset[int]]:
    """Return the numbers of the choices of each bed in each of some years, or all planned ones, the years in order."""
    by_place: dict[tuple[int, str], list[int]] = {}
    for number, choice in enumerate(garden.choices):
        by_place.setdefault((choice.sowing.crop_year, choice.bed), []).append(number)
    places = [(year, bed) for year in years or garden.scenario.planned_years for bed in garden.beds]
    return [frozenset(by_place[place]) for place in places if place in by_place]


def empty_bed_years(garden: Garden, values: Sequence[int]) -> tuple[list[frozenset[int]], tuple[int, ...]]:
    """Return the beds in which nothing begins in years that leave most beds so, and these years.

    What stands into a year from the one before leaves it to be planted. ``values`` are those of the plan.
    """
    taken = (choice for choice, value in zip(garden.choices, values, strict=False) if value)
    planted = {(choice.bed, choice.sowing.begins) for choice in taken}
    empty: dict[int, list[frozenset[int]]] = {}
    for part in bed_years(garden):
        here = garden.choices[min(part)]
        if (here.bed, here.sowing.crop_year) not in planted:
            empty.setdefault(here.sowing.crop_year, []).append(part)
    years = tuple(year for year, parts in empty.items() if 2 * len(parts) > len(garden.beds))
    return [part for year in years for part in empty[year]], years
