"""Ground that nothing from before the plan holds: all that a plan can cover."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable

    from rotasolve.relations.ground.garden import Garden


def strips_free(garden: Garden, periods: Iterable[int]) -> int:
    """Return in how many half months strips are free, summed over all strips of the garden."""
    return sum(
        strips - garden.taken_at_start(cell, period) for period in periods for cell, strips in garden.cells.items()
    )
