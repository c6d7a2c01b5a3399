"""How deep the noon shadow of a planting's neighbours falls on it: the simple rule where nothing better is known."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from rotasolve.domain.place import NoonShade
from rotasolve.domain.seasons import first_day, period_of
from rotasolve.domain.strips import strip_depth_cm, strips_per_part
from rotasolve.relations.ground.lie_of_beds import part_and_row, reach_factor, rectangle_of

if TYPE_CHECKING:
    from rotasolve.domain.plan import Planting
    from rotasolve.relations.ground.garden import Garden


def noon_shade(garden: Garden, planting: Planting, neighbours: Iterable[Planting]) -> NoonShade | None:
    """Return the deepest noon shadow on a planting while it stands, or None if none falls on it.

    Full-grown heights are compared, so the shadow is never understated. It is cut off at the planting's own depth.
    """
    worst: NoonShade | None = None
    for other in neighbours:
        step = garden.crops[other.crop].height.usual - garden.crops[planting.crop].height.usual
        gap = _gap_cm(garden, planting, other)
        if gap is None or step <= 0:
            continue
        first = max(period_of(planting.start), period_of(other.start))
        last = min(period_of(planting.clear), period_of(other.clear))
        for period in range(first, last + 1):
            depth = min(step * reach_factor(garden.scenario.site, period) - gap, _depth_cm(garden, planting))
            if depth > (worst.depth_cm if worst is not None else 0):
                month = first_day(period).month
                worst = NoonShade(depth_cm=round(depth, 1) or 0.1, crop=other.crop, bed=other.bed, month=month)
    return worst


def _depth_cm(garden: Garden, planting: Planting) -> float:
    bed = garden.beds[planting.bed]
    deep, _ = rectangle_of(bed, planting.strips) or (len(planting.strips), 1)
    return deep * strip_depth_cm(bed)


def _gap_cm(garden: Garden, planting: Planting, other: Planting) -> float | None:
    """Return the clear distance to a neighbour on the equator side, or None if it is not there."""
    bed = garden.beds[planting.bed]
    if other.bed != planting.bed:
        pair = (other.bed, planting.bed)
        between = next((s.gap_cm for s in garden.shadings if (s.caster, s.receiver) == pair), None)
        if between is None:
            return None
        # The strips between the two: the planting's equator side to its bed's edge, and the same for the other.
        ours = max(part_and_row(bed, strip)[1] for strip in planting.strips)
        theirs = min(part_and_row(garden.beds[other.bed], strip)[1] for strip in other.strips)
        rows = strips_per_part(bed) - ours
        behind = theirs - 1
        return between + rows * strip_depth_cm(bed) + behind * strip_depth_cm(garden.beds[other.bed])
    gaps = []
    for strip in planting.strips:
        part, row = part_and_row(bed, strip)
        beyond = [there for where, there in (part_and_row(bed, s) for s in other.strips) if where == part]
        gaps += [(there - row - 1) * strip_depth_cm(bed) for there in beyond if there > row]
    return min(gaps) if gaps else None
