"""From the solver's numbers to a plan."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.relations.ground.plantings import planting_of

if TYPE_CHECKING:
    from collections.abc import Mapping

    from rotasolve.domain.plan import Planting
    from rotasolve.relations.ground.garden import Garden
    from rotasolve.solver.arrange import StripRuns


def plantings_of(garden: Garden, places: Mapping[str, StripRuns]) -> tuple[Planting, ...]:
    """Return the plantings, a block of neighbouring strips each, by bed, start and strip."""
    order = {bed: number for number, bed in enumerate(garden.beds)}
    found = [
        planting_of(garden, bed, sowing, strips)
        for bed, here in places.items()
        for sowing, runs in here.items()
        for strips in runs
    ]
    return tuple(sorted(found, key=lambda p: (order[p.bed], p.start, p.strips, p.crop, p.clear, p.way)))
