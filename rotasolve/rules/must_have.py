"""Must have: what the household insists on is in the plan.

What it asks
    At least the stated number of plants, or of kilograms, of a crop is harvested in the stated year (in every year if
    none is stated), in the stated bed if one is named. Plants that are cleared before anything is ripe, as those of a
    crop that failed, do not count; a green manure counts as it stands. Kilograms are those of a usual year, or of a
    poor one if targets are met at the low yield.
Why
    The grower's own wish; it is kept before any target.
Breaks it
    ``must_have: [{crop: sweet pepper, plants: 6}]`` and a year with four pepper plants.
Loosen it
    Ask for fewer plants, drop the year or the bed, or turn the wish into a target.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from rotasolve.domain.claim import Claim, Facts
from rotasolve.domain.plan import Breach
from rotasolve.domain.seasons import garden_year, say_year
from rotasolve.recount.harvests import counts_for, kilograms_counted
from rotasolve.relations.household.wanted import counted_kg

if TYPE_CHECKING:
    from rotasolve.board import Board
    from rotasolve.domain.hindrance import Hindrance
    from rotasolve.domain.household import MustHave
    from rotasolve.domain.plan import Plan, Planting
    from rotasolve.relations.ground.garden import Choice, Garden


@dataclass(frozen=True)
class MustClaim(Claim):
    """At least so many plants, or kilograms if these are given, of a crop in a garden year; ``bed`` None: anywhere."""

    rule = "must-have"
    crop: str
    plants: int
    kg: float | None
    year: int
    south: bool
    bed: str | None

    @property
    def about(self) -> tuple[str, ...]:
        """Crop, amount, year and bed."""
        amount = str(self.plants) if self.kg is None else f"{self.kg:.10g} kg"
        return self.crop, amount, say_year(self.year, self.south), self.bed or "any bed"


@dataclass(frozen=True)
class TooFewPlants(Facts):
    """So many plants of those wanted are there."""

    plants: int
    wanted: int


@dataclass(frozen=True)
class TooFewKg(Facts):
    """So many kilograms of those wanted are there."""

    kg: float
    wanted_kg: float


def must_claim(must: MustHave, year: int, south: bool) -> MustClaim:
    """Return the claim that a must-have is met in a garden year."""
    return MustClaim(must.crop, must.plants, must.kg, year, south, must.bed)


class MustHaveCrops:
    """At least so many plants, or kilograms."""

    key = MustClaim.rule
    holds_inside_a_bed = False

    def post(self, garden: Garden, board: Board) -> None:
        """Demand the plants, or grams, from the plantings whose first harvest falls into the year."""
        south = garden.scenario.site.south
        for must in dict.fromkeys(garden.scenario.household.must_have):
            kinds = garden.meeting(must.crop)
            for year in garden.scenario.planned_years if must.year is None else (must.year,):
                terms = [
                    (number, choice.block.plants if must.kg is None else _grams(garden, choice))
                    for number, choice in enumerate(garden.choices)
                    if choice.sowing.crop in kinds
                    and choice.sowing.crop_year == year
                    and (choice.sowing.course.first_harvest or garden.crops[must.crop].green_manure)
                    and must.bed in (None, choice.bed)
                ]
                with board.because(must_claim(must, year, south)):
                    board.at_least(terms, must.plants if must.kg is None else round(must.kg * 1000))

    def breaches(self, garden: Garden, plan: Plan) -> Iterator[Breach]:
        """Count the plants, or the grams, by the garden year of the first harvest."""
        south = garden.scenario.site.south
        for must in dict.fromkeys(garden.scenario.household.must_have):
            for year in garden.scenario.planned_years if must.year is None else (must.year,):
                got = sum(
                    planting.plants if must.kg is None else _grams_of(garden, planting)
                    for planting in plan.plantings
                    if counts_for(garden.crops[planting.crop], must.crop, garden.scenario.household)
                    and (planting.first_harvest is not None or garden.crops[must.crop].green_manure)
                    and (must.bed is None or planting.bed == must.bed)
                    and garden_year(planting.first_harvest or planting.start, south) == year
                )
                if must.kg is None and got < must.plants:
                    yield Breach(must_claim(must, year, south), TooFewPlants(got, must.plants))
                elif must.kg is not None and got < round(must.kg * 1000):
                    yield Breach(must_claim(must, year, south), TooFewKg(got / 1000, must.kg))

    def hinders(self, garden: Garden, plan: Plan, planting: Planting) -> Iterator[Hindrance]:
        """Nothing: one more planting never leaves the household with less."""
        yield from ()


def _grams(garden: Garden, choice: Choice) -> int:
    return round(counted_kg(garden.harvest_of(choice), garden.scenario.household) * 1000)


def _grams_of(garden: Garden, planting: Planting) -> int:
    """Return the grams of a planting, recounted from its plants and dates."""
    crop, household = garden.crops[planting.crop], garden.scenario.household
    return round(kilograms_counted(crop, planting, household, garden.percent_of(planting)) * 1000)
