"""What may be planted in each bed: the sowings offered to the solver, of the crops that a scenario wants."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from functools import cached_property
from typing import TYPE_CHECKING

from rotasolve.relations.ground.blocks import rows_filled
from rotasolve.relations.ground.lie_of_beds import rectangle_of
from rotasolve.relations.ground.sowings import Kept, Sowing, offered, pinned_sowing, sowings_of

if TYPE_CHECKING:
    from rotasolve.domain.bed import Bed
    from rotasolve.domain.catalogue import Catalogue, CoverName
    from rotasolve.domain.crop import Crop
    from rotasolve.domain.scenario import Scenario


def wanted_crops(scenario: Scenario) -> frozenset[str]:
    """Return the crops that a scenario lets into the ground."""
    household = scenario.household
    return frozenset(
        {name for target in household.targets for name in target.kinds or (target.crop,)}
        | {eats.crop for eats in household.eats}
        | {must.crop for must in household.must_have}
        | {pin.crop for pin in scenario.pinned}
        | set(scenario.also_allowed)
    )


def _standing(crop: Crop, bed: Bed, strips: tuple[int, ...], plants: int) -> Kept:
    """Return how a planting stands that was started before the plan, on strips that are known."""
    size = rectangle_of(bed, strips) or (len(strips), 1)
    return Kept(tuple(sorted(strips)), rows_filled(crop, bed, plants, *size), plants)


def offered_under(cover: CoverName, scenario: Scenario, catalogue: Catalogue, years: Sequence[int]) -> list[Sowing]:
    """Return the sowings offered under a cover for some of the planned years, crop by crop, without pins."""
    targets = scenario.household.targets
    fresh = {kind: frozenset(target.fresh_months) for target in targets for kind in target.kinds}
    fresh |= {target.crop: frozenset(target.fresh_months) for target in targets}
    wanted, over = wanted_crops(scenario), catalogue.cover(cover)
    return [
        sowing
        for crop in catalogue.crops
        if crop.name in wanted
        for sowing in offered(sowings_of(crop, over, scenario, years), fresh.get(crop.name, frozenset()))
    ]


class Offer(Mapping[str, tuple[Sowing, ...]]):
    """The sowings of each bed, worked out when one is first looked at: many questions about a plan look at none."""

    def __init__(self, scenario: Scenario, catalogue: Catalogue) -> None:
        self._scenario, self._catalogue = scenario, catalogue

    def __getitem__(self, bed: str) -> tuple[Sowing, ...]:
        return self._by_bed[bed]

    def __iter__(self) -> Iterator[str]:
        return iter(self._by_bed)

    def __len__(self) -> int:
        return len(self._scenario.beds)

    @cached_property
    def _by_bed(self) -> dict[str, tuple[Sowing, ...]]:
        scenario, catalogue = self._scenario, self._catalogue
        crops = {crop.name: crop for crop in catalogue.crops}
        years = scenario.planned_years
        by_cover = {name: offered_under(name, scenario, catalogue, years) for name in {b.cover for b in scenario.beds}}
        by_bed: dict[str, tuple[Sowing, ...]] = {}
        for bed in scenario.beds:
            known = {sowing.name: sowing for sowing in by_cover[bed.cover]}
            for pin in scenario.pinned:
                if pin.bed == bed.name:
                    sowing = pinned_sowing(pin, crops[pin.crop], catalogue.cover(bed.cover), scenario)
                    if pin.start < scenario.begins and pin.strips and pin.plants is not None:
                        sowing = replace(sowing, kept=_standing(crops[pin.crop], bed, pin.strips, pin.plants))
                    known[sowing.name] = sowing
            by_bed[bed.name] = tuple(known.values())
        return by_bed
