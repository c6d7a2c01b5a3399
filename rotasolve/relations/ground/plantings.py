"""From a sowing at a place to a planting, and back: what a plan says, as the garden and the solver know it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.domain.plan import Planting
from rotasolve.domain.strips import strips_in_bed
from rotasolve.relations.ground.garden import Cell, Choice
from rotasolve.relations.ground.lie_of_beds import side_by_side
from rotasolve.relations.ground.lots import Lot
from rotasolve.relations.ground.sowings import Sowing, sowing_from
from rotasolve.relations.season.yields import expected_harvest

if TYPE_CHECKING:
    from rotasolve.domain.bed import Bed
    from rotasolve.relations.ground.garden import Garden


def planting_of(garden: Garden, bed: str, sowing: Sowing, strips: tuple[int, ...], lot: Lot | None = None) -> Planting:
    """Return the planting of as many lots of a sowing as the strips hold.

    ``lot`` stands in where not even one lot of the crop fits into the bed, so that it can be said why.
    """
    lot = garden.lot(sowing.crop, bed) or lot or Lot(len(strips), 1, 1)
    if sowing.kept is not None:
        lot = Lot(len(strips), sowing.kept.rows, sowing.kept.plants)
    whole = lot.filling(max(len(strips), lot.strips))
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
        kept=sowing.kept is not None,
    )


def sowing_of(garden: Garden, planting: Planting) -> Sowing:
    """Return the sowing that a planting of a plan stands for, with the dates the plan gives it.

    It counts as pinned: its season is judged from its dates, for nobody has chosen it from what is on offer.
    """
    return sowing_from(planting, garden.growing(planting))


def choice_of(garden: Garden, planting: Planting) -> Choice:
    """Return a planting as one choice of a garden modelled strip by strip: all its strips, or none.

    ``most_lots`` is 0 if its strips do not hold its plants at their spacing.
    """
    lot = Lot(len(planting.strips), planting.rows, planting.plants)
    cells = tuple(Cell(planting.bed, strip) for strip in planting.strips)
    return Choice(sowing_of(garden, planting), planting.bed, cells, lot, int(fits(garden, planting)))


def fits(garden: Garden, planting: Planting) -> bool:
    """Return whether a planting's strips lie side by side in one part of its bed and hold its plants."""
    together = side_by_side(garden.beds[planting.bed], planting.strips)
    return together and planting.plants <= room_for(garden, planting.crop, planting.bed, len(planting.strips))


def room_for(garden: Garden, crop: str, bed: str, strips: int) -> int:
    """Return how many plants of a crop so many neighbouring strips of a bed hold."""
    lot = garden.lot(crop, bed)
    return 0 if lot is None else lot.filling(strips).plants


def strips_of(bed: Bed) -> tuple[int, ...]:
    """Return all strip numbers of a bed."""
    return tuple(range(1, strips_in_bed(bed) + 1))
