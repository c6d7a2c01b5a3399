"""The garden as the solver and the rules see it: beds cut into strips, sowings, places, and groups that need rest."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from functools import cached_property
from typing import TYPE_CHECKING

from rotasolve.domain.seasons import first_day, garden_year, period_of, year_end, year_start
from rotasolve.domain.strips import parts_of, strips_in_bed, strips_per_part
from rotasolve.relations.ground.families import FamilyGraph, RestGroup
from rotasolve.relations.ground.hosts import HostYears, past_host_years
from rotasolve.relations.ground.lie_of_beds import Shading, runs_of, shadings, side_by_side
from rotasolve.relations.ground.lots import Lot, lot_of
from rotasolve.relations.ground.offer import Offer, wanted_crops
from rotasolve.relations.ground.sowings import Sowing, start_meant
from rotasolve.relations.household.wanted import with_targets
from rotasolve.relations.season.courses import percent_of
from rotasolve.relations.season.frosts import frost_dates
from rotasolve.relations.season.growing import Growing, growing
from rotasolve.relations.season.windows import Window, windows_near
from rotasolve.relations.season.yields import expected_harvest

if TYPE_CHECKING:
    from rotasolve.domain.bed import Bed
    from rotasolve.domain.catalogue import Catalogue
    from rotasolve.domain.crop import Crop
    from rotasolve.domain.plan import Harvest, Planting
    from rotasolve.domain.scenario import Scenario
    from rotasolve.relations.ground.sowings import Kept

EXACT_AT_MOST = 9_000
"""Up to so many strip-by-strip choices the whole garden is modelled strip by strip, with the height order inside."""


@dataclass(frozen=True, order=True)
class Cell:
    """Ground that is counted together: a whole bed (strip 0) or one strip of it."""

    bed: str
    strip: int

    def __str__(self) -> str:
        """Name the ground for programs and in the names of variables."""
        return f"{self.bed}, strip {self.strip}" if self.strip else self.bed


@dataclass(frozen=True)
class Choice:
    """A sowing at a place: the cells it takes from, strips taken per lot, and the most lots that fit there."""

    sowing: Sowing
    bed: str
    cells: tuple[Cell, ...]
    lot: Lot
    most_lots: int

    @cached_property
    def strips_per_cell(self) -> int:
        """Strips one lot takes from each of its cells."""
        return self.lot.strips // len(self.cells)

    @property
    def name(self) -> str:
        """A name unique in the garden."""
        where = "+".join(str(cell.strip) for cell in self.cells)
        return f"{self.sowing.name} @ {self.bed}" + (f" strip {where}" if where != "0" else "")


@dataclass(frozen=True)
class Garden:
    """A scenario joined with its catalogue. ``exact_beds`` are modelled strip by strip, the others by counts.

    ``only`` replaces the choices that follow from the sowings: a plan's own plantings, say, and a few places beside
    them. ``kept`` are the plantings of an earlier plan that stand as they are.
    """

    scenario: Scenario
    catalogue: Catalogue
    exact_beds: frozenset[str]
    sowings_by_bed: Mapping[str, tuple[Sowing, ...]]
    graph: FamilyGraph = field(repr=False)
    only: tuple[Choice, ...] | None = field(default=None, repr=False)
    kept: tuple[Planting, ...] = field(default=(), repr=False)

    @cached_property
    def beds(self) -> dict[str, Bed]:
        """The beds by name."""
        return {bed.name: bed for bed in self.scenario.beds}

    @cached_property
    def crops(self) -> dict[str, Crop]:
        """All crops of the catalogue by name."""
        return {crop.name: crop for crop in self.catalogue.crops}

    @cached_property
    def wanted(self) -> frozenset[str]:
        """Crops that may be planted: with a target, a must-have or a pin, kept, or allowed besides."""
        return wanted_crops(self.scenario) | {planting.crop for planting in self.kept}

    @cached_property
    def shadings(self) -> tuple[Shading, ...]:
        """Pairs of beds that may shade each other, empty when the height order is off."""
        return shadings(self.scenario.beds, self.scenario.site.south) if self.scenario.rules.height_order else ()

    @cached_property
    def all_exact(self) -> bool:
        """Whether every bed is modelled strip by strip."""
        return self.exact_beds >= self.beds.keys()

    @cached_property
    def first_period(self) -> int:
        """The first half month of the plan."""
        return period_of(year_start(self.scenario.first_year, self.scenario.site.south))

    @cached_property
    def last_period(self) -> int:
        """The last half month of the plan's last garden year."""
        return period_of(year_end(self.scenario.planned_years[-1], self.scenario.site.south))

    @cached_property
    def cells(self) -> dict[Cell, int]:
        """Every cell with the strips it holds."""
        found = {}
        for bed in self.scenario.beds:
            total = strips_in_bed(bed)
            if bed.name in self.exact_beds:
                found.update({Cell(bed.name, strip): 1 for strip in range(1, total + 1)})
            else:
                found[Cell(bed.name, 0)] = total
        return found

    @cached_property
    def choices(self) -> tuple[Choice, ...]:
        """Every sowing at every place where at least one lot fits, in a fixed order.

        A pinned sowing that fits nowhere in its bed is kept with room for no lot, so that spacing can be blamed.
        """
        if self.only is not None:
            return self.only
        found: list[Choice] = []
        for bed in self.scenario.beds:
            for sowing in self.sowings_by_bed[bed.name]:
                if sowing.kept is not None:
                    found.append(self._kept_choice(sowing, bed, sowing.kept))
                    continue
                lot, fits = self.lot(sowing.crop, bed.name), True
                if lot is None:
                    if not sowing.pinned:
                        continue
                    lot, fits = Lot(1, 1, 1), False
                if bed.name in self.exact_beds:
                    for run in runs_of(bed, parts_of(bed), lot.strips):
                        cells = tuple(Cell(bed.name, strip) for strip in run)
                        found.append(Choice(sowing, bed.name, cells, lot, int(fits)))
                else:
                    most = strips_per_part(bed) // lot.strips * parts_of(bed) if fits else 0
                    found.append(Choice(sowing, bed.name, (Cell(bed.name, 0),), lot, most))
        return tuple(found)

    def _kept_choice(self, sowing: Sowing, bed: Bed, kept: Kept) -> Choice:
        """Return the one choice of a kept planting: all of it where it stands, with room for none if it does not fit.

        A bed of counts takes its strips as a number; that they are these is seen to when the bed is laid out.
        """
        lot, whole = self.lot(sowing.crop, bed.name), Lot(len(kept.strips), kept.rows, kept.plants)
        together = side_by_side(bed, kept.strips)
        fits = together and lot is not None and kept.plants <= lot.filling(len(kept.strips)).plants
        exact = bed.name in self.exact_beds
        cells = tuple(Cell(bed.name, strip) for strip in kept.strips) if exact else (Cell(bed.name, 0),)
        return Choice(sowing, bed.name, cells, whole, int(fits))

    def lots_in(self, choice: Choice) -> float:
        """Return how many lots of its crop one unit of a choice holds: 1, or what a kept planting comes to."""
        lot = self.lot(choice.sowing.crop, choice.bed)
        return 1 if choice.sowing.kept is None or lot is None else choice.sowing.kept.plants / lot.plants

    def harvest_of_lot(self, choice: Choice) -> Harvest:
        """Return the expected harvest in kg of one lot of a choice's crop, which may be a part of a kept planting."""
        lot = self.lot(choice.sowing.crop, choice.bed)
        plants = choice.lot.plants if choice.sowing.kept is None or lot is None else lot.plants
        return expected_harvest(self.crops[choice.sowing.crop], plants, choice.sowing.course.share_percent)

    def lot(self, crop: str, bed: str) -> Lot | None:
        """Return the lot of a crop in a bed, or None if it does not fit."""
        return lot_of(self.crops[crop], self.beds[bed])

    def harvest_per_lot(self, choice: Choice) -> Harvest:
        """Return the expected harvest of one lot in kg."""
        return expected_harvest(self.crops[choice.sowing.crop], choice.lot.plants, choice.sowing.course.share_percent)

    @cached_property
    def zones(self) -> dict[Cell, tuple[Cell, ...]]:
        """The grounds that remember families: each bed, or each strip with ``rotation: strip``."""
        zones: dict[Cell, tuple[Cell, ...]] = {}
        for cell in self.cells:
            zone = cell if self.by_strip else Cell(cell.bed, 0)
            zones[zone] = (*zones.get(zone, ()), cell)
        return zones

    def past_visits(self, zone: Cell, group: RestGroup) -> frozenset[HostYears]:
        """Return the garden years in which a group's earlier plantings were hosts in a zone.

        For a known disease the last year that is not on record counts as one: a host may have stood there.
        """
        south, first = self.scenario.site.south, self.scenario.first_year
        here = [past for past in self.scenario.past_in(zone.bed) if not self.by_strip or past.takes(zone.strip)]
        found = {past_host_years(past, south) for past in here if past.crop in group.crops}
        if group.disease:
            recorded = {year for past in here for year in range(past.year, past.last_year(south) + 1)}
            since = self.beds[zone.bed].history_since or first
            asked = range(max(first - group.gap, 0), min(since, first))
            unknown = [year for year in asked if year not in recorded]
            found |= {(year, year) for year in unknown[-1:]}
        return frozenset(found)

    @property
    def by_strip(self) -> bool:
        """Whether rotation is remembered strip by strip."""
        return self.scenario.rules.rotation == "strip"

    def rest_groups(self, bed: str) -> tuple[RestGroup, ...]:
        """Return the families and the known diseases that bind a bed."""
        rules = self.scenario.rules
        families = self.graph.family_groups(rules.family_gap, rules.family_gap_wished)
        return families + tuple(self.graph.disease_group(disease) for disease in self.beds[bed].diseases)

    @cached_property
    def _windows(self) -> dict[tuple[str, str, str, int], list[Window]]:
        return {}

    def windows_near(self, crop: str, way: str, bed: str, day: date) -> list[Window]:
        """Return the windows in which a crop may be started that way in a bed, of the garden years about a day.

        That garden year's come first. Each is worked out once: they are asked for again and again.
        """
        cover, year = self.beds[bed].cover, garden_year(day, self.scenario.site.south)
        if (crop, way, cover, year) not in self._windows:
            self._windows[crop, way, cover, year] = [
                window
                for start in self.crops[crop].starts
                if start.way == way
                for window in windows_near(
                    self.crops[crop], start, self.catalogue.cover(cover), self.scenario.site, day
                )
            ]
        return self._windows[crop, way, cover, year]

    @cached_property
    def _growing(self) -> dict[tuple[str, str, str, date], Growing]:
        return {}

    def growing(self, planting: Planting) -> Growing:
        """Return how a planting's start goes on in its bed."""
        key = (planting.crop, planting.way, self.beds[planting.bed].cover, planting.start)
        if key not in self._growing:
            crop, cover, site = self.crops[planting.crop], self.catalogue.cover(key[2]), self.scenario.site
            start = start_meant(crop, planting.way, planting.start, cover, site)
            self._growing[key] = growing(crop, start, cover, site)
        return self._growing[key]

    def percent_of(self, planting: Planting) -> int:
        """Return the part of a full crop, 0 to 100 %, that a planting gives by its days of starting and picking."""
        ready, last = planting.first_harvest, planting.last_harvest
        if ready is None or last is None:
            return 0
        return percent_of(self.growing(planting), planting.start, ready, last)

    def taken_at_start(self, cell: Cell, period: int) -> int:
        """Return how many of a cell's strips an earlier planting still holds in a half month."""
        here, day = self.scenario.past_in(cell.bed), first_day(period)
        standing = [past for past in here if past.until is not None and past.until >= day]
        strips = range(1, strips_in_bed(self.beds[cell.bed]) + 1) if cell.strip == 0 else (cell.strip,)
        return sum(any(past.takes(strip) for past in standing) for strip in strips)

    def restricted(self, bed: str, sowings: Iterable[Sowing]) -> Garden:
        """Return one bed of the garden, strip by strip, with only some sowings: for arranging it."""
        return replace(
            self,
            scenario=self.scenario.model_copy(update={"beds": (self.beds[bed],)}),
            exact_beds=frozenset({bed}),
            sowings_by_bed={bed: tuple(sowings)},
        )


def growing_periods(garden: Garden) -> frozenset[int]:
    """Return the half months of all growing seasons in the plan."""
    found: set[int] = set()
    for year in garden.scenario.planned_years:
        last_frost, first_frost = frost_dates(garden.scenario.site, year)
        found.update(range(period_of(last_frost - timedelta(weeks=4)), period_of(first_frost) + 1))
    return frozenset(found)


def make_garden(scenario: Scenario, catalogue: Catalogue, exact: bool | None = None) -> Garden:
    """Join a scenario with its catalogue, its wishes counted as targets in kilograms.

    ``exact`` True models every bed strip by strip, False counts strips, None decides by size. Beds in which a pin
    names strips, and all beds with ``rotation: strip``, are always modelled strip by strip.
    """
    scenario = with_targets(scenario, catalogue)
    names = frozenset(bed.name for bed in scenario.beds)
    offer = Offer(scenario, catalogue)
    garden = Garden(scenario, catalogue, names, offer, FamilyGraph(catalogue))
    if exact is None:
        strips = {bed.name: strips_in_bed(bed) for bed in scenario.beds}
        exact = sum(len(offer[name]) * strips[name] for name in offer) <= EXACT_AT_MOST
    if exact or scenario.rules.rotation == "strip":
        return garden
    return replace(garden, exact_beds=frozenset(pin.bed for pin in scenario.pinned if pin.strips))
