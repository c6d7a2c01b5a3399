"""Where every plant of a planting stands in its bed, in cm.

The rows share the depth of the planting's block evenly, whatever strips it is cut into. In the row the plants stand at
the crop's spacing, the row in the middle of the block's breadth; the last row may be shorter and then begins at the
west like the others. A row through several parts of a bed is told part by part. Hence no two plants stand nearer to
each other than the crop's spacings, and none nearer to the edge of its ground than half of them, but for the two per
cent that ``SPACING_TOLERANCE`` allows. A planting with more plants than fit, which the referee refuses, is drawn
crowded: always exactly as many plants as the plan says.
"""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING

from rotasolve.domain.strips import part_breadth_cm, strip_depth_cm, strips_in_bed
from rotasolve.relations.ground.lie_of_beds import part_and_row, rectangle_of

if TYPE_CHECKING:
    from rotasolve.domain.bed import Bed
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
    """One row, or what of it lies in one part of the bed: its first plant, and how many stand ``gap_cm`` apart."""

    from_west_cm: float
    from_pole_cm: float
    plants: int
    gap_cm: float
    row: int


def plant_rows(garden: Garden, planting: Planting) -> tuple[PlantRow, ...]:
    """Return a planting's rows from the pole side; their plants add up to the planting's."""
    bed, spacing = garden.beds[planting.bed], garden.crops[planting.crop].spacing_in_row.usual
    depth, breadth = strip_depth_cm(bed), part_breadth_cm(bed)
    # A plan changed by hand may name strips that the bed has not got: its plants crowd into those that are there.
    strips = sorted(set(planting.strips) & set(range(1, strips_in_bed(bed) + 1))) or [1]
    deep, parts = rectangle_of(bed, strips) or (len(strips), 1)
    in_a_row = math.ceil(planting.plants / planting.rows)
    rows = math.ceil(planting.plants / in_a_row)
    gap = min(spacing, parts * breadth / in_a_row)
    margin = (parts * breadth - (in_a_row - 1) * gap) / 2
    found = []
    for number in range(rows):
        # Strips that do not lie side by side (the referee refuses them) are filled one after the other all the same.
        along = (number + 0.5) * deep * depth / rows
        nth = min(int(along / depth), deep - 1)
        part, place = part_and_row(bed, strips[nth])
        west, pole = (part - 1) * breadth + margin, (place - 1) * depth + along - nth * depth
        plants = min(in_a_row, planting.plants - number * in_a_row)
        by_part = Counter(min(int((margin + plant * gap) / breadth), parts - 1) for plant in range(plants))
        for here in sorted(by_part):
            found.append(PlantRow(west, pole, by_part[here], gap, number + 1))
            west += by_part[here] * gap
    return tuple(found)


def plant_places(garden: Garden, planting: Planting) -> tuple[PlantPlace, ...]:
    """Return where each plant of a planting stands: exactly ``planting.plants`` places, row by row from the pole."""
    return tuple(
        PlantPlace(row.from_west_cm + number * row.gap_cm, row.from_pole_cm, row.row)
        for row in plant_rows(garden, planting)
        for number in range(row.plants)
    )


def row_distance_cm(planting: Planting, bed: Bed) -> float:
    """Return the cm between the rows of a planting in its bed."""
    deep, _ = rectangle_of(bed, planting.strips) or (len(set(planting.strips)), 1)
    in_a_row = math.ceil(planting.plants / planting.rows)
    return deep * strip_depth_cm(bed) / math.ceil(planting.plants / in_a_row)
