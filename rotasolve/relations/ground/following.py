"""What follows from a planting's bed, strips, crop, way, days and number of plants: all its other figures."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.domain.scenario import PinnedPlanting
from rotasolve.relations.ground.blocks import rows_filled
from rotasolve.relations.ground.lie_of_beds import rectangle_of
from rotasolve.relations.ground.sowings import pinned_sowing, sowings_by_clearing
from rotasolve.relations.season.growing import growing
from rotasolve.relations.season.yields import expected_harvest

if TYPE_CHECKING:
    from rotasolve.domain.plan import Planting
    from rotasolve.relations.ground.garden import Garden
    from rotasolve.relations.ground.sowings import Sowing

_NOTHING: frozenset[str] = frozenset()


def followed(garden: Garden, planting: Planting, left_out: frozenset[str] = _NOTHING) -> Planting:
    """Return a planting with its rows, its days of raising and picking, and its harvest worked out anew.

    Parameters
    ----------
    planting
        What was decided: bed, strips, crop, way, the days of starting and clearing, the number of plants.
    left_out
        What of ``way``, ``clear`` and ``plants`` was not: the way whose window lies nearest, the day on which picking
        ends, and as many plants as the strips hold. ``rows`` and ``harvest`` always follow.
    """
    crop, bed = garden.crops[planting.crop], garden.beds[planting.bed]
    sowing = _sowing(garden, planting, left_out)
    size = rectangle_of(bed, planting.strips) or (len(planting.strips), 1)
    plants = planting.plants
    if "plants" in left_out:
        plants = max(1, garden.room_for(crop.name, bed.name, planting.strips))
    course = sowing.course
    return planting.model_copy(
        update={
            "strips": tuple(sorted(planting.strips)),
            "way": sowing.way,
            "raise_from": course.raise_from,
            "first_harvest": course.first_harvest,
            "last_harvest": course.last_harvest,
            "clear": course.clear,
            "rows": rows_filled(crop, bed, plants, *size),
            "plants": plants,
            "harvest": expected_harvest(crop, plants, course.share_percent),
        }
    )


def _sowing(garden: Garden, planting: Planting, left_out: frozenset[str]) -> Sowing:
    """Return the sowing on the planting's day that is cleared on its day: as offered if it can be, else cut short."""
    crop, scenario = garden.crops[planting.crop], garden.scenario
    cover = garden.catalogue.cover(garden.beds[planting.bed].cover)
    way = None if "way" in left_out else planting.way
    pin = PinnedPlanting(bed=planting.bed, crop=planting.crop, start=planting.start, way=way)
    whole = pinned_sowing(pin, crop, cover, scenario)
    if "clear" in left_out or whole.course.clear == planting.clear:
        return whole
    for start in (start for start in crop.starts if start.way == whole.way):
        for sowing in sowings_by_clearing(growing(crop, start, cover, scenario.site), planting.start, pinned=True):
            if sowing.course.clear == planting.clear:
                return sowing
    return pinned_sowing(pin.model_copy(update={"way": whole.way, "until": planting.clear}), crop, cover, scenario)
