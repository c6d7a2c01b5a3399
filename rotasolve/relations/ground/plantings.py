"""From a sowing at a place to a planting, and back: what a plan says, as the garden and the solver know it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.domain.plan import Planting
from rotasolve.domain.strips import strips_in_bed
from rotasolve.relations.ground.blocks import Block
from rotasolve.relations.ground.garden import Cell, Choice
from rotasolve.relations.ground.lie_of_beds import rectangle_of
from rotasolve.relations.ground.sowings import Sowing, sowing_from
from rotasolve.relations.season.yields import expected_harvest

if TYPE_CHECKING:
    from rotasolve.domain.bed import Bed
    from rotasolve.relations.ground.garden import Garden


def planting_of(garden: Garden, bed: str, sowing: Sowing, strips: tuple[int, ...]) -> Planting:
    """Return the planting of a sowing on a block of strips.

    Strips that are no block of the crop bear one plant, so that it can be said why they cannot.
    """
    whole = garden.block_on(sowing.crop, bed, strips) or Block(len(strips), 1, 1)
    if sowing.kept is not None:
        whole = Block(len(strips), sowing.kept.rows, sowing.kept.plants)
    course = sowing.course
    return Planting(
        bed=bed,
        strips=strips,
        crop=sowing.crop,
        way=sowing.way,
        raise_from=course.raise_from,
        start=sowing.start,
        first_harvest=course.first_harvest,
        last_harvest=course.last_harvest,
        clear=course.clear,
        rows=whole.rows,
        plants=whole.plants,
        harvest=expected_harvest(garden.crops[sowing.crop], whole.plants, course.share_percent),
        kept=sowing.kept is not None and sowing.kept.held,
    )


def sowing_of(garden: Garden, planting: Planting) -> Sowing:
    """Return the sowing that a planting of a plan stands for, with the dates the plan gives it.

    It counts as pinned: its season is judged from its dates, for nobody has chosen it from what is on offer.
    """
    return sowing_from(planting, garden.growing(planting))


def choice_of(garden: Garden, planting: Planting) -> Choice:
    """Return a planting as one choice of a garden modelled strip by strip: all its strips, or none.

    It does not fit if its strips are no block, or do not hold its plants at their spacing.
    """
    deep, parts = rectangle_of(garden.beds[planting.bed], planting.strips) or (len(planting.strips), 1)
    block = Block(deep, planting.rows, planting.plants, parts)
    cells = tuple(Cell(planting.bed, strip) for strip in planting.strips)
    return Choice(sowing_of(garden, planting), planting.bed, cells, block, fits(garden, planting))


def fits(garden: Garden, planting: Planting) -> bool:
    """Return whether a planting's strips are a block that holds its plants."""
    return planting.plants <= garden.room_for(planting.crop, planting.bed, planting.strips)


def strips_of(bed: Bed) -> tuple[int, ...]:
    """Return all strip numbers of a bed."""
    return tuple(range(1, strips_in_bed(bed) + 1))
