"""The garden as the solver and the rules see it: beds cut into strips, sowings, places, and groups that need rest."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from functools import cached_property
from typing import TYPE_CHECKING

from rotasolve.domain.seasons import first_day, garden_year, period_of, year_end, year_start
from rotasolve.domain.strips import parts_of, strips_in_bed, strips_per_part
from rotasolve.relations.ground.blocks import Block, block_of, blocks_of
from rotasolve.relations.ground.distances import with_said_distances
from rotasolve.relations.ground.families import FamilyGraph, RestGroup
from rotasolve.relations.ground.hosts import HostYears
from rotasolve.relations.ground.lie_of_beds import Shading, places_of, rectangle_of, shadings
from rotasolve.relations.ground.offer import Offer, every_sowing, few_sowings, wanted_crops
from rotasolve.relations.ground.past_hosts import disease_groups, host_years_before
from rotasolve.relations.ground.sizes import sizes_offered
from rotasolve.relations.ground.sowings import Sowing, start_meant
from rotasolve.relations.ground.standing import with_standing
from rotasolve.relations.household.wanted import with_targets
from rotasolve.relations.season.courses import percent_of
from rotasolve.relations.season.growing import Growing, growing
from rotasolve.relations.season.own_yields import with_own_yields
from rotasolve.relations.season.windows import Window, windows_near
from rotasolve.relations.season.yields import expected_harvest

if TYPE_CHECKING:
    from rotasolve.domain.bed import Bed
    from rotasolve.domain.catalogue import Catalogue, CoverName
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
    """A sowing on a block at a place: the cells it takes strips from; ``fits`` is False if there is no room for it."""

    sowing: Sowing
    bed: str
    cells: tuple[Cell, ...]
    block: Block
    fits: bool = True

    @cached_property
    def strips_per_cell(self) -> int:
        """Strips the block takes from each of its cells."""
        return self.block.strips // len(self.cells)

    @property
    def name(self) -> str:
        """A name unique in the garden."""
        where = "+".join(str(cell.strip) for cell in self.cells)
        size = f"{self.block.deep} x {self.block.parts} strips" if where == "0" else f"strip {where}"
        return f"{self.sowing.name} @ {self.bed} {size}"


@dataclass(frozen=True)
class Garden:
    """A scenario joined with its catalogue. ``exact_beds`` are modelled strip by strip, the others by counts.

    ``only`` replaces the choices that follow from the sowings: a plan's own plantings, say, and a few places beside
    them. ``kept`` are the plantings of an earlier plan that stand as they are, ``before`` those of its others that may
    stand as they were. ``thinned`` offers few sizes of blocks, and None decides by how many places there are.
    """

    scenario: Scenario
    catalogue: Catalogue
    exact_beds: frozenset[str]
    sowings_by_bed: Mapping[str, tuple[Sowing, ...]]
    graph: FamilyGraph = field(repr=False)
    only: tuple[Choice, ...] | None = field(default=None, repr=False)
    kept: tuple[Planting, ...] = field(default=(), repr=False)
    before: tuple[Planting, ...] = field(default=(), repr=False)
    thinned: bool | None = None

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

    def meeting(self, wish: str) -> frozenset[str]:
        """Return the crops that count for a wish: the one wished, and its kinds that are not wished by themselves."""
        wished = {target.crop for target in self.scenario.household.targets}
        return frozenset(self.graph.crops_meant(wish)) - wished | {wish}

    @cached_property
    def every_start(self) -> bool:
        """Whether every start that a window allows is among the sowings."""
        return isinstance(self.sowings_by_bed, Offer) and self.sowings_by_bed.every_start

    @cached_property
    def few_sizes(self) -> bool:
        """Whether few sizes of blocks are offered, as in a garden too large to be modelled strip by strip."""
        if self.thinned is not None:
            return self.thinned
        return sum(self._places_offered(bed) for bed in self.beds) > EXACT_AT_MOST

    def offered_under(self, cover: CoverName, years: Sequence[int]) -> list[Sowing]:
        """Return the sowings offered under a cover for some of the planned years, without pins."""
        return few_sowings(every_sowing(cover, self.scenario, self.catalogue, years), self.scenario, self.catalogue)

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
        """Every sowing on every block offered at every place, in a fixed order.

        A pinned sowing that fits nowhere in its bed is kept with room for none, so that spacing can be blamed.
        """
        if self.only is not None:
            return self.only
        found: list[Choice] = []
        for bed in self.scenario.beds:
            for sowing in self.sowings_by_bed[bed.name]:
                if sowing.kept is not None:
                    found.append(self._kept_choice(sowing, bed, sowing.kept, exact=bed.name in self.exact_beds))
                    continue
                blocks, fits = self.blocks(sowing.crop, bed.name, sowing.pinned), True
                if not blocks and sowing.pinned:
                    blocks, fits = (Block(1, 1, 1),), False
                for block in blocks:
                    for strips in places_of(bed, block.deep, block.parts) if bed.name in self.exact_beds else [(0,)]:
                        cells = tuple(Cell(bed.name, strip) for strip in strips)
                        found.append(Choice(sowing, bed.name, cells, block, fits))
        return tuple(found)

    def blocks(self, crop: str, bed: str, pinned: bool = False) -> tuple[Block, ...]:
        """Return the blocks of a crop offered in a bed; of a pinned sowing all there are."""
        return self._sizes(crop, bed, pinned, self.few_sizes)

    def _sizes(self, crop: str, bed: str, pinned: bool, few: bool) -> tuple[Block, ...]:
        key = (crop, bed, pinned, few)
        if key not in self._blocks:
            here, every = self.beds[bed], blocks_of(self.crops[crop], self.beds[bed])
            self._blocks[key] = every if pinned else sizes_offered(self.scenario, self.crops[crop], here, every, few)
        return self._blocks[key]

    def _places_offered(self, bed: str) -> int:
        """Return how many choices a bed has if it is modelled strip by strip, with all sizes."""
        deep, parts = strips_per_part(self.beds[bed]), parts_of(self.beds[bed])
        return sum(
            (deep - block.deep + 1) * (parts - block.parts + 1)
            for sowing in self.sowings_by_bed[bed]
            for block in self._sizes(sowing.crop, bed, sowing.pinned, few=False)
        )

    @cached_property
    def _blocks(self) -> dict[tuple[str, str, bool, bool], tuple[Block, ...]]:
        return {}

    def _kept_choice(self, sowing: Sowing, bed: Bed, kept: Kept, exact: bool) -> Choice:
        """Return the one choice of a kept planting: all of it where it stands, with room for none if it does not fit.

        A bed of counts takes its strips as a number; that they are these is seen to when the bed is laid out.
        """
        fits = kept.plants <= self.room_for(sowing.crop, bed.name, kept.strips)
        cells = tuple(Cell(bed.name, strip) for strip in kept.strips) if exact else (Cell(bed.name, 0),)
        return Choice(sowing, bed.name, cells, Block(len(kept.strips), kept.rows, kept.plants), fits)

    def room_for(self, crop: str, bed: str, strips: Iterable[int]) -> int:
        """Return how many plants of a crop strips of a bed hold; 0 if they are no block."""
        block = self.block_on(crop, bed, strips)
        return 0 if block is None else block.plants

    def block_on(self, crop: str, bed: str, strips: Iterable[int]) -> Block | None:
        """Return the block of a crop that strips of a bed make, or None if they make none."""
        size = rectangle_of(self.beds[bed], strips)
        return None if size is None else block_of(self.crops[crop], self.beds[bed], *size)

    def harvest_of(self, choice: Choice) -> Harvest:
        """Return the expected harvest in kg of a choice."""
        return expected_harvest(self.crops[choice.sowing.crop], choice.block.plants, choice.sowing.course.share_percent)

    @cached_property
    def zones(self) -> dict[Cell, tuple[Cell, ...]]:
        """The grounds that remember families: each bed, or each strip with ``rotation: strip``."""
        zones: dict[Cell, tuple[Cell, ...]] = {}
        for cell in self.cells:
            zone = cell if self.by_strip else Cell(cell.bed, 0)
            zones[zone] = (*zones.get(zone, ()), cell)
        return zones

    def past_visits(self, zone: Cell, group: RestGroup) -> frozenset[HostYears]:
        """Return the garden years in which a group's earlier plantings were hosts, or may have been, in a zone."""
        return host_years_before(self.scenario, self.beds[zone.bed], zone.strip, group)

    @property
    def by_strip(self) -> bool:
        """Whether rotation is remembered strip by strip."""
        return self.scenario.rules.rotation == "strip"

    def rest_groups(self, bed: str) -> tuple[RestGroup, ...]:
        """Return the families and the known diseases that bind a bed."""
        rules = self.scenario.rules
        families = self.graph.family_groups(rules.family_gap, rules.family_gap_wished)
        return families + disease_groups(self.scenario, self.beds[bed], self.graph)

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

    def choice_at(self, bed: str, sowing: Sowing, strips: tuple[int, ...]) -> Choice:
        """Return a sowing on the strips where it stands, as one choice of a bed modelled strip by strip."""
        if sowing.kept is not None:
            return self._kept_choice(sowing, self.beds[bed], sowing.kept, exact=True)
        block = self.block_on(sowing.crop, bed, strips)
        cells = tuple(Cell(bed, strip) for strip in strips)
        return Choice(sowing, bed, cells, block or Block(len(strips), 1, 1), block is not None)

    def restricted(self, bed: str, moving: Iterable[Choice], held: Iterable[tuple[Sowing, tuple[int, ...]]]) -> Garden:
        """Return one bed of the garden, strip by strip: choices that move at every place, and sowings where they stand.

        Those that stand come first, in the order given, then each choice's places in turn.
        """
        only = [self.choice_at(bed, sowing, strips) for sowing, strips in held]
        for choice in moving:
            if choice.sowing.kept is not None:
                only.append(self.choice_at(bed, choice.sowing, choice.sowing.kept.strips))
                continue
            for strips in places_of(self.beds[bed], choice.block.deep, choice.block.parts):
                only.append(replace(choice, cells=tuple(Cell(bed, strip) for strip in strips)))
        return replace(
            self,
            scenario=self.scenario.model_copy(update={"beds": (self.beds[bed],)}),
            exact_beds=frozenset({bed}),
            sowings_by_bed={bed: tuple(dict.fromkeys(choice.sowing for choice in only))},
            only=tuple(only),
            thinned=self.few_sizes,
        )


def make_garden(scenario: Scenario, catalogue: Catalogue, exact: bool | None = None) -> Garden:
    """Join a scenario with its catalogue: wishes in kilograms, distances as growers say them, yields as they weighed.

    ``exact`` True models every bed strip by strip, False counts strips, None decides by size. Beds in which a pin
    asks for strips, and all beds with ``rotation: strip``, are always modelled strip by strip.
    """
    if scenario.units == "metric":
        catalogue = with_said_distances(catalogue)
    catalogue = with_own_yields(catalogue, scenario)
    scenario = with_targets(scenario, catalogue)
    exact_pins, (scenario, catalogue) = scenario.pinned_by_strip, with_standing(scenario, catalogue)
    names = frozenset(bed.name for bed in scenario.beds)
    garden = Garden(scenario, catalogue, names, Offer(scenario, catalogue), FamilyGraph(catalogue))
    strip_by_strip = scenario.rules.rotation == "strip" or exact or (exact is None and not garden.few_sizes)
    return garden if strip_by_strip else replace(garden, exact_beds=exact_pins)
