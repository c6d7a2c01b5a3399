"""What a diary says was weighed of each crop in each year, beside what the published yields give for those plants."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from rotasolve.domain.scenario import Weighed
from rotasolve.domain.seasons import garden_year
from rotasolve.relations.ground.happened import happened_to
from rotasolve.relations.season.own_yields import own_yields

if TYPE_CHECKING:
    from datetime import date

    from rotasolve.domain.diary import Diary, Happening
    from rotasolve.domain.plan import Plan
    from rotasolve.domain.scenario import Scenario
    from rotasolve.relations.ground.happened import Happened


@dataclass(frozen=True)
class Weighing:
    """What was weighed of a crop in a garden year, and the published yield of the plantings it was weighed from, in kg.

    ``low_kg`` and ``high_kg`` are those of a poor and of a good year.

    ``plantings`` of them were weighed and ``unweighed`` were not: what these give is not counted. While one of them is
    still to be picked the season is not ``over``.
    """

    crop: str
    year: int
    kg: float
    published_kg: float
    low_kg: float
    high_kg: float
    plantings: int
    unweighed: int
    over: bool

    @property
    def beyond(self) -> Literal["below", "above"] | None:
        """On which side what was weighed lies outside the published range from a poor to a good year."""
        return "below" if self.kg < self.low_kg else "above" if self.kg > self.high_kg else None

    @property
    def counts(self) -> bool:
        """Whether it may shift the crop's yield: the season is over, and something was to be expected."""
        return self.over and self.published_kg > 0

    def record(self) -> Weighed:
        """Return it as a record of a scenario, in kg to the gram."""
        return Weighed(crop=self.crop, year=self.year, kg=round(self.kg, 3), published_kg=round(self.published_kg, 3))


def weighings_of(scenario: Scenario, plan: Plan, diary: Diary, today: date) -> tuple[Weighing, ...]:
    """Return what was weighed of the plantings of a plan, by crop and garden year of the first picking.

    Plants that failed are not expected to give anything. A planting counts as weighed if any of its pickings was: who
    weighs only some of them should not let that year count.
    """
    south, factors = scenario.site.south, own_yields(scenario.weighed)
    groups: dict[tuple[str, int], list[Happened]] = {}
    for one in happened_to(plan.plantings, diary)[0]:
        if one.planting.first_harvest is not None:
            year = garden_year(one.planting.first_harvest, south)
            groups.setdefault((one.planting.crop, year), []).append(one)
    found = []
    for (crop, year), group in sorted(groups.items()):
        weighed = [one for one in group if _weights(one)]
        if not weighed:
            continue
        # One picking may be told of several plantings: it is weighed once.
        told = {id(line): line.kg or 0.0 for one in weighed for line in _weights(one)}
        low, typical, high = _published_kg(weighed, factors[crop].factor if crop in factors else 1.0)
        over = all((one.ended or one.planting.clear) < today for one in weighed)
        unweighed = len(group) - len(weighed)
        found.append(Weighing(crop, year, sum(told.values()), typical, low, high, len(weighed), unweighed, over))
    return tuple(found)


def _weights(happened: Happened) -> tuple[Happening, ...]:
    return tuple(line for line in happened.of("picked") if line.kg is not None)


def _published_kg(weighed: list[Happened], factor: float) -> tuple[float, float, float]:
    """Return what the plants that lived give by the published yields, where the plan counts ``factor`` of those."""
    if not factor:
        return 0.0, 0.0, 0.0
    living = [(one.planting.harvest, 1 - one.lost_plants / one.planting.plants) for one in weighed]
    return (
        sum(harvest.low_kg * part for harvest, part in living) / factor,
        sum(harvest.typical_kg * part for harvest, part in living) / factor,
        sum(harvest.high_kg * part for harvest, part in living) / factor,
    )
