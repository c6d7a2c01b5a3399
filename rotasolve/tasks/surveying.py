"""A survey of the beds of a garden: what each rule has against a crop on each strip, and the places left."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from rotasolve.domain.plan import Plan, Planting
from rotasolve.domain.seasons import garden_year
from rotasolve.referee import blank_plan
from rotasolve.relations.ground.blocks import blocks_of, rows_filled, smallest_block
from rotasolve.relations.ground.lie_of_beds import places_of, rectangle_of
from rotasolve.relations.ground.plantings import planting_of, strips_of
from rotasolve.relations.ground.sowings import sowing_on, sowings_by_clearing, sowings_of
from rotasolve.relations.season.frosts import frost_dates
from rotasolve.relations.season.growing import growing
from rotasolve.relations.sun.place_sun import SunBeside
from rotasolve.relations.sun.sun_need import neighbours_count
from rotasolve.rules import RULES

if TYPE_CHECKING:
    from rotasolve.domain.bed import Bed
    from rotasolve.domain.hindrance import Hindrance
    from rotasolve.domain.place import Question
    from rotasolve.relations.ground.garden import Garden
    from rotasolve.relations.ground.sowings import Sowing


@dataclass(frozen=True)
class Survey:
    """A survey beside one plan with one question: which strips a crop may take, when, and what stands against it."""

    garden: Garden
    plan: Plan
    question: Question

    def hindrances(self, bed: Bed, sowing: Sowing) -> list[Hindrance]:
        """Return what every rule has against a sowing on any strip of a bed."""
        whole = self.whole(bed, sowing)
        return [found for rule in RULES for found in rule.hinders(self.garden, self.near(bed), whole)]

    def whole(self, bed: Bed, sowing: Sowing) -> Planting:
        """Return the sowing on all strips of the bed, with the plants asked for or those of the smallest block."""
        planting = planting_of(self.garden, bed.name, sowing, strips_of(bed))
        least = smallest_block(self.garden.crops[sowing.crop], bed)
        plants = self.question.plants or (least.plants if least is not None else 1)
        return planting.model_copy(update={"plants": plants})

    def near(self, bed: Bed) -> Plan:
        """Return the plantings that could have to do with the bed: its own, and those of its shading neighbours."""
        if bed.name not in self._near:
            beds = {bed.name}
            for shading in self.garden.shadings:
                if bed.name in (shading.caster, shading.receiver):
                    beds |= {shading.caster, shading.receiver}
            if neighbours_count(self.garden) and bed.is_placed:
                # The sun of a bed is a sum over all beds that have a place: each of them counts.
                beds |= {other.name for other in self.garden.scenario.beds if other.is_placed}
            near = tuple(planting for planting in self.plan.plantings if planting.bed in beds)
            self._near[bed.name] = blank_plan(self.garden.scenario, near)
        return self._near[bed.name]

    @cached_property
    def sun(self) -> SunBeside:
        """The sun of places beside the plan."""
        return SunBeside(self.garden, self.plan.plantings)

    @cached_property
    def _near(self) -> dict[str, Plan]:
        return {}

    def sowings(self, bed: Bed) -> dict[int, list[Sowing]]:
        """Return the sowings asked for by the garden year of their start; a year out of season gets some to refuse."""
        scenario, question, south = self.garden.scenario, self.question, self.garden.scenario.site.south
        crop, cover = self.garden.crops[question.crop], self.garden.catalogue.cover(bed.cover)
        starts = [start for start in crop.starts if question.way in (None, start.way)]
        found: dict[int, list[Sowing]] = {}
        if question.on is not None:
            found[garden_year(question.on, south)] = [
                sowing
                for start in starts
                for sowing in sowings_by_clearing(growing(crop, start, cover, scenario.site), question.on, pinned=True)
            ]
        else:
            years = scenario.planned_years if question.year is None else (question.year,)
            for sowing in sowings_of(crop, cover, scenario):
                if sowing.begins in years and question.way in (None, sowing.way):
                    found.setdefault(sowing.begins, []).append(sowing)
            for year in years:
                if year not in found:
                    day = frost_dates(scenario.site, year)[0]
                    found[year] = [sowing_on(crop, start, day, cover, scenario, pinned=True) for start in starts]
        for sowings in found.values():
            sowings.sort(key=lambda s: (s.start, s.way, -s.course.clear.toordinal()))
        return dict(sorted(found.items()))

    def runs(self, bed: Bed, sowing: Sowing) -> list[tuple[int, ...]]:
        """Return the smallest blocks of strips that hold the plants asked for, or a row, whatever stands there."""
        block = smallest_block(self.garden.crops[sowing.crop], bed, self.question.plants or 1)
        return [] if block is None else places_of(bed, block.deep, block.parts)

    def free_runs(self, bed: Bed, sowing: Sowing, told: list[Hindrance]) -> Iterator[tuple[int, ...]]:
        """Yield the blocks of unbarred strips that hold the plants asked for, or the largest ones."""
        barred = {strip for hindrance in told for strip in hindrance.strips}
        if self.question.plants is not None:
            yield from (run for run in self.runs(bed, sowing) if not barred & set(run))
            return
        for block in reversed(blocks_of(self.garden.crops[sowing.crop], bed)):
            for run in places_of(bed, block.deep, block.parts):
                if not barred & set(run):
                    barred |= set(run)
                    yield run

    def planting(self, bed: str, sowing: Sowing, strips: tuple[int, ...]) -> Planting:
        """Return the planting at a place, with no more plants than asked for: its last row may stay part empty."""
        planting, plants = planting_of(self.garden, bed, sowing, strips), self.question.plants
        room = self.garden.room_for(sowing.crop, bed, strips)
        size = rectangle_of(self.garden.beds[bed], strips)
        if plants is None or size is None or not room:
            return planting
        share = plants / room
        kg = {f"{end}_kg": round(getattr(planting.harvest, f"{end}_kg") * share, 3) for end in _ENDS}
        return planting.model_copy(
            update={
                "plants": plants,
                "rows": rows_filled(self.garden.crops[sowing.crop], self.garden.beds[bed], plants, *size),
                "harvest": planting.harvest.model_copy(update=kg),
            }
        )


_ENDS = ("low", "typical", "high")
