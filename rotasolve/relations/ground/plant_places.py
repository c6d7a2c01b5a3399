"""Where every plant of a planting stands in its bed, in cm.

The rows lie as the lots say (``relations/lots``): they share the depth of the planting's strips evenly, so that a strip
that holds two rows has one at a quarter and one at three quarters of its depth, and a row that takes two strips lies
on the line between them. In the row the plants stand at the crop's spacing, the row in the middle of the part's
breadth; the last row may be shorter and then begins at the west like the others. Hence no two plants stand nearer to
each other than the crop's spacings, and none nearer to the edge of its ground than half of them, but for the two per
cent that ``SPACING_TOLERANCE`` allows. A planting with more plants than fit, which the referee refuses, is drawn
crowded: always exactly as many plants as the plan says.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from rotasolve.domain.strips import part_breadth_cm, strip_depth_cm, strips_in_bed
from rotasolve.relations.ground.lie_of_beds import part_and_row

if TYPE_CHECKING:
    from rotasolve.domain.plan import Planting
    from rotasolve.relations.ground.garden import Garden


@dataclass(frozen=True)
class PlantPlace:
    """One plant: cm from the west edge and from the pole-side edge of its bed, and its row (1 = nearest the pole)."""

    from_west_cm: float
    from_pole_cm: float
    row: int


@dataclass(frozen=True)
class PlantRow:
    """One row from west to east: where its first plant stands, how many follow ``gap_cm`` apart."""

    from_west_cm: float
    from_pole_cm: float
    plants: int
    gap_cm: float


def plant_rows(garden: Garden, planting: Planting) -> tuple[PlantRow, ...]:
    """Return a planting's rows from the pole side; their plants add up to the planting's."""
    bed, spacing = garden.beds[planting.bed], garden.crops[planting.crop].spacing_in_row.usual
    depth, breadth = strip_depth_cm(bed), part_breadth_cm(bed)
    # A plan changed by hand may name strips that the bed has not got: its plants crowd into those that are there.
    strips = sorted(set(planting.strips) & set(range(1, strips_in_bed(bed) + 1))) or [1]
    in_a_row = math.ceil(planting.plants / planting.rows)
    rows = math.ceil(planting.plants / in_a_row)
    gap = min(spacing, breadth / in_a_row)
    margin = (breadth - (in_a_row - 1) * gap) / 2
    found = []
    for number in range(rows):
        # Strips that do not lie side by side (the referee refuses them) are filled one after the other all the same.
        along = (number + 0.5) * len(strips) * depth / rows
        nth = min(int(along / depth), len(strips) - 1)
        part, place = part_and_row(bed, strips[nth])
        found.append(
            PlantRow(
                from_west_cm=(part - 1) * breadth + margin,
                from_pole_cm=(place - 1) * depth + along - nth * depth,
                plants=min(in_a_row, planting.plants - number * in_a_row),
                gap_cm=gap,
            )
        )
    return tuple(found)


def plant_places(garden: Garden, planting: Planting) -> tuple[PlantPlace, ...]:
    """Return where each plant of a planting stands: exactly ``planting.plants`` places, row by row from the pole."""
    return tuple(
        PlantPlace(row.from_west_cm + number * row.gap_cm, row.from_pole_cm, nth)
        for nth, row in enumerate(plant_rows(garden, planting), start=1)
        for number in range(row.plants)
    )


def row_distance_cm(planting: Planting, depth_cm: float) -> float:
    """Return the cm between the rows of a planting whose strips are ``depth_cm`` deep."""
    in_a_row = math.ceil(planting.plants / planting.rows)
    return len(set(planting.strips)) * depth_cm / math.ceil(planting.plants / in_a_row)
