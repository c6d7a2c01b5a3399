"""Crops that stay for years, as the scenario tells of them: a pinned planting and a yield for each garden year.

What stays is cut into garden years, so that each has its own harvest and is judged, drawn and counted as any planting.
A young plant yields its share of a full crop: it is a kind of its crop, named after its year.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.domain.scenario import PinnedPlanting
from rotasolve.domain.seasons import garden_year, year_end, year_start

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rotasolve.domain.catalogue import Catalogue
    from rotasolve.domain.crop import Crop
    from rotasolve.domain.plan import Planting
    from rotasolve.domain.scenario import Scenario, Standing

_NEVER = 400
"""Days to the first picking that no garden year has: what is too young is not picked."""
_YIELDS = ("yield_per_plant", "yield_per_row", "yield_per_area")


def with_young_plants(catalogue: Catalogue, scenario: Scenario) -> Catalogue:
    """Return the catalogue with a kind for each year in which something that stays does not yield in full."""
    known = {crop.name: crop for crop in catalogue.crops}
    young: dict[str, Crop] = {}
    for one in scenario.standing:
        crop = known[one.crop]
        for year in _years(scenario, one):
            age = year - one.planted + 1
            name = crop.name_in_year(age)
            if name not in known:
                young[name] = _young(crop, name, crop.percent_in_year(age))
    if not young:
        return catalogue
    crops = sorted((*catalogue.crops, *young.values()), key=lambda crop: crop.name)
    return catalogue.model_copy(update={"crops": tuple(crops)})


def with_standing(scenario: Scenario, catalogue: Catalogue) -> tuple[Scenario, Catalogue]:
    """Return both with what stays: a pin for each garden year in which it takes its ground, and its young plants."""
    catalogue = with_young_plants(catalogue, scenario)
    crops = {crop.name: crop for crop in catalogue.crops}
    pins = [pin for one in scenario.standing for pin in _pins(scenario, one, crops[one.crop])]
    return scenario.model_copy(update={"pinned": (*scenario.pinned, *pins)}) if pins else scenario, catalogue


def goes_in(scenario: Scenario, crop: Crop, planting: Planting) -> bool:
    """Return whether a planting is put in: any, but of what stays only that of the year in which it is planted."""
    year = planting.begins_in(scenario.site.south)
    return crop.stays is None or any(
        (one.bed, one.strips, one.planted) == (planting.bed, planting.strips, year) for one in scenario.standing
    )


def _pins(scenario: Scenario, one: Standing, crop: Crop) -> Iterator[PinnedPlanting]:
    south = scenario.site.south
    for year in _years(scenario, one):
        last = year_end(year, south)
        yield PinnedPlanting(
            bed=one.bed,
            crop=crop.name_in_year(year - one.planted + 1),
            start=year_start(year, south),
            way=crop.starts[0].way,
            until=last if one.until is None else min(last, one.until),
            strips=one.strips,
            plants=one.plants,
        )


def _years(scenario: Scenario, one: Standing) -> list[int]:
    """Return the planned garden years in which it stands."""
    last = None if one.until is None else garden_year(one.until, scenario.site.south)
    return [year for year in scenario.planned_years if one.planted <= year and (last is None or year <= last)]


def _young(crop: Crop, name: str, percent: int) -> Crop:
    changed: dict[str, object] = {"name": name, "also": (), "kind_of": crop.name}
    for field in _YIELDS:
        figure = getattr(crop, field)
        if figure is not None:
            ends = {end: getattr(figure, end) for end in ("value", "low", "typical", "high")}
            scaled = {end: None if value is None else round(value * percent / 100, 6) for end, value in ends.items()}
            changed[field] = figure.model_copy(update=scaled)
    if percent == 0:
        start = crop.starts[0]
        never = start.days_to_harvest.model_copy(update={"value": _NEVER, "low": None, "typical": None, "high": None})
        changed["starts"] = (start.model_copy(update={"days_to_harvest": never}),)
    return crop.model_copy(update=changed)
