"""What may be planted in each bed: the sowings offered to the solver, of the crops that a scenario wants."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from functools import cached_property
from itertools import chain
from typing import TYPE_CHECKING

from rotasolve.domain.strips import strips_in_bed
from rotasolve.relations.ground.blocks import rows_filled
from rotasolve.relations.ground.lie_of_beds import rectangle_of
from rotasolve.relations.ground.sowings import Kept, Sowing, offered, pinned_sowing, sowings_of

if TYPE_CHECKING:
    from rotasolve.domain.bed import Bed
    from rotasolve.domain.catalogue import Catalogue, CoverName
    from rotasolve.domain.crop import Crop
    from rotasolve.domain.scenario import Scenario


EVERY_START_AT_MOST = 1_000
"""Up to so many sowings times strips every start is offered; beyond, few of each crop. Small gardens are soon solved
with all, and what is proven of them holds for every half month in which a window is open."""


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


def every_sowing(
    cover: CoverName, scenario: Scenario, catalogue: Catalogue, years: Sequence[int]
) -> dict[str, list[Sowing]]:
    """Return by crop every sowing of a wanted crop under a cover for some of the planned years, without pins."""
    wanted, over = wanted_crops(scenario), catalogue.cover(cover)
    chosen = [crop for crop in catalogue.crops if crop.name in wanted and crop.stays is None]
    return {crop.name: sowings_of(crop, over, scenario, years) for crop in chosen}


def few_sowings(every: Mapping[str, list[Sowing]], scenario: Scenario, catalogue: Catalogue) -> list[Sowing]:
    """Return the sowings worth offering of all there are by crop; of what must be had all.

    Only what must be had can make a plan impossible: so no start that is left out ever does.
    """
    targets = scenario.household.targets
    fresh = {kind: frozenset(target.fresh_months) for target in targets for kind in target.kinds}
    fresh |= {target.crop: frozenset(target.fresh_months) for target in targets}
    musts = {must.crop for must in scenario.household.must_have}
    must = {crop.name for crop in catalogue.crops if {crop.name, crop.kind_of} & musts}
    return [
        sowing
        for crop, sowings in every.items()
        for sowing in (sowings if crop in must else offered(sowings, fresh.get(crop, frozenset())))
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
    def every_start(self) -> bool:
        """Whether every start that a window allows is offered, as in a small garden."""
        count = {cover: sum(map(len, by_crop.values())) for cover, by_crop in self._every.items()}
        return sum(count[bed.cover] * strips_in_bed(bed) for bed in self._scenario.beds) <= EVERY_START_AT_MOST

    @cached_property
    def _every(self) -> dict[CoverName, dict[str, list[Sowing]]]:
        scenario = self._scenario
        covers = dict.fromkeys(bed.cover for bed in scenario.beds)
        return {cover: every_sowing(cover, scenario, self._catalogue, scenario.planned_years) for cover in covers}

    @cached_property
    def _by_bed(self) -> dict[str, tuple[Sowing, ...]]:
        scenario, catalogue = self._scenario, self._catalogue
        crops = {crop.name: crop for crop in catalogue.crops}
        by_cover = {
            cover: list(chain(*by_crop.values())) if self.every_start else few_sowings(by_crop, scenario, catalogue)
            for cover, by_crop in self._every.items()
        }
        by_bed: dict[str, tuple[Sowing, ...]] = {}
        for bed in scenario.beds:
            known = {sowing.name: sowing for sowing in by_cover[bed.cover]}
            for pin in scenario.pinned:
                if pin.bed == bed.name:
                    sowing = pinned_sowing(pin, crops[pin.crop], catalogue.cover(bed.cover), scenario)
                    stands = pin.start < scenario.begins or crops[pin.crop].stays is not None
                    if stands and pin.strips and pin.plants is not None:
                        sowing = replace(sowing, kept=_standing(crops[pin.crop], bed, pin.strips, pin.plants))
                    known[sowing.name] = sowing
            by_bed[bed.name] = tuple(known.values())
        return by_bed
