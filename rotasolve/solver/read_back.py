"""From the solver's numbers to a plan."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.relations.ground.lie_of_beds import part_and_row
from rotasolve.relations.ground.plantings import planting_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from rotasolve.domain.plan import Planting
    from rotasolve.relations.ground.garden import Garden
    from rotasolve.solver.arrange import StripRuns


def plantings_of(garden: Garden, places: Mapping[str, StripRuns]) -> tuple[Planting, ...]:
    """Return the plantings, a run of neighbouring strips each, by bed, start and strip."""
    order = {bed: number for number, bed in enumerate(garden.beds)}
    found = [
        planting_of(garden, bed, sowing, strips)
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
