"""Must have: what the household insists on is in the plan.

What it asks
    At least the stated number of plants of a crop is harvested in the stated year (in every year if none is
    stated), in the stated bed if one is named.
Why
    The grower's own wish; it is kept before any target.
Breaks it
    ``must_have: [{crop: sweet pepper, plants: 6}]`` and a year with four pepper plants.
Loosen it
    Ask for fewer plants, drop the year or the bed, or turn the wish into a target.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from rotasolve.domain.claim import Breach, Claim
from rotasolve.domain.seasons import garden_year, say_year

if TYPE_CHECKING:
    from rotasolve.board import Board
    from rotasolve.domain.hindrance import Hindrance
    from rotasolve.domain.household import MustHave
    from rotasolve.domain.plan import Plan, Planting
    from rotasolve.relations.garden import Garden

_ANYWHERE = "any bed"


def must_claim(must: MustHave, year: int, south: bool) -> Claim:
    """Return the claim that a must-have is met in a garden year."""
    about = (must.crop, str(must.plants), say_year(year, south), must.bed or _ANYWHERE)
    return Claim(rule="must-have", about=about)


def _years(must: MustHave, garden: Garden) -> tuple[int, ...]:
    return garden.scenario.planned_years if must.year is None else (must.year,)


class MustHaveCrops:
    """At least so many plants."""

    key = "must-have"

    def post(self, garden: Garden, board: Board) -> None:
        """Demand the plants from the lots whose first harvest falls into the year."""
        south = garden.scenario.site.south
        for must in dict.fromkeys(garden.scenario.household.must_have):
            for year in _years(must, garden):
                terms = [
                    (number, choice.lot.plants)
                    for number, choice in enumerate(garden.choices)
                    if choice.sowing.crop == must.crop
                    and choice.sowing.crop_year == year
                    and must.bed in (None, choice.bed)
                ]
                with board.because(must_claim(must, year, south)):
                    board.at_least(terms, must.plants)

    def breaches(self, garden: Garden, plan: Plan) -> Iterator[Breach]:
        """Count the plants by the garden year of the first harvest."""
        south = garden.scenario.site.south
        for must in dict.fromkeys(garden.scenario.household.must_have):
            for year in _years(must, garden):
                plants = sum(
                    planting.plants
                    for planting in plan.plantings
                    if planting.crop == must.crop
                    and (must.bed is None or planting.bed == must.bed)
                    and garden_year(planting.first_harvest or planting.start, south) == year
                )
                if plants < must.plants:
                    yield Breach(claim=must_claim(must, year, south), found=f"only {plants} of {must.plants} plants")

    def say(self, claim: Claim) -> str:
        """Say the claim in plain words."""
        crop, plants, year, bed = claim.about
        where = "" if bed == _ANYWHERE else f" in {bed}"
        return f"you want at least {plants} {'plant' if plants == '1' else 'plants'} of {crop}{where} in {year}"

    def hinders(self, garden: Garden, plan: Plan, planting: Planting) -> Iterator[Hindrance]:
        """Nothing: one more planting never leaves the household with less."""
        yield from ()
