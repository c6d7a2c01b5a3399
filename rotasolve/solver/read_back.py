"""From the solver's numbers to a plan."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.domain.plan import Planting
from rotasolve.relations.ground import part_and_row
from rotasolve.relations.lots import expected_harvest

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from rotasolve.relations.garden import Garden
    from rotasolve.relations.sowings import Sowing
    from rotasolve.solver.arrange import Places


def plantings_of(garden: Garden, places: Mapping[str, Places]) -> tuple[Planting, ...]:
    """Return the plantings, a run of neighbouring strips each, by bed, start and strip."""
    order = {bed: number for number, bed in enumerate(garden.beds)}
    found = [
        _planting(garden, bed, sowing, strips)
        for bed, here in places.items()
        for sowing, runs in here.items()
        for strips in _joined(garden, bed, runs)
    ]
    return tuple(sorted(found, key=lambda p: (order[p.bed], p.start, p.strips, p.crop, p.clear, p.way)))


def _joined(garden: Garden, bed: str, runs: Iterable[tuple[int, ...]]) -> list[tuple[int, ...]]:
    joined: list[tuple[int, ...]] = []
    record = garden.beds[bed]
    for run in sorted(runs):
        last = joined[-1] if joined else None
        if last and last[-1] + 1 == run[0] and part_and_row(record, last[-1])[0] == part_and_row(record, run[0])[0]:
            joined[-1] = last + run
        else:
            joined.append(run)
    return joined


def _planting(garden: Garden, bed: str, sowing: Sowing, strips: tuple[int, ...]) -> Planting:
    lot = garden.lot(sowing.crop, bed)
    assert lot is not None  # a choice exists only where a lot fits
    lots = len(strips) // lot.strips
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
        rows=lots * lot.rows,
        plants=lots * lot.plants,
        harvest=expected_harvest(garden.crops[sowing.crop], lots * lot.plants, course.share_percent),
    )
