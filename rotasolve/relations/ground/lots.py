"""How many plants fit: the lot, the smallest block of strips that holds whole rows of a crop.

A row keeps half its distance to the edge of its lot, so a strip of depth d holds floor(d / row distance) rows and a
row of length l holds floor(l / spacing) plants. A crop whose rows are wider apart than a strip is deep takes several
strips for one row; a crop that needs several rows (sweet corn, for its pollen) takes the strips of all of them.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from rotasolve.domain.strips import part_breadth_cm, strip_depth_cm, strips_per_part

if TYPE_CHECKING:
    from rotasolve.domain.bed import Bed
    from rotasolve.domain.crop import Crop

SPACING_TOLERANCE = 0.02
"""A row may be this part of its distance short of room: 60 cm hold a row 24 in (60.96 cm) wide. Common practice, no
source: nobody measures a spacing closer. Without it an exact fit of converted inches would be lost to rounding too."""

_ROUNDING = 1e-9


@dataclass(frozen=True)
class Lot:
    """The smallest block of a crop in a bed: strips it takes, rows and plants it holds."""

    strips: int
    rows: int
    plants: int

    def filling(self, strips: int) -> Lot:
        """Return what so many neighbouring strips hold: as many of these lots as fit, none in too few."""
        lots = strips // self.strips
        return Lot(lots * self.strips, lots * self.rows, lots * self.plants)


def rows_in(depth_cm: float, distance_cm: float) -> int:
    """Return how many rows, or plants in a row, ``distance_cm`` apart fit into ``depth_cm``."""
    return math.floor(depth_cm / distance_cm + SPACING_TOLERANCE)


def least_rows(crop: Crop) -> int:
    """Return the rows below which a crop is not planted: more than one where it needs a block for its pollen."""
    return 1 if crop.least_rows is None else round(crop.least_rows.usual)


def rows_filled(crop: Crop, bed: Bed, plants: int, strips: int) -> int:
    """Return in how many rows so many plants stand in so many strips: the last may stay part empty."""
    lot, in_row = lot_of(crop, bed), rows_in(part_breadth_cm(bed), crop.spacing_in_row.usual)
    rows = math.ceil(plants / in_row) if in_row else 1
    return rows if lot is None else min(max(rows, least_rows(crop)), max(1, lot.filling(strips).rows))


def lot_of(crop: Crop, bed: Bed) -> Lot | None:
    """Return the crop's lot in the bed, or None if not even one lot fits."""
    depth, distance = strip_depth_cm(bed), crop.spacing_between_rows.usual
    rows_per_strip = rows_in(depth, distance)
    strips = 1 if rows_per_strip else math.ceil(distance * (1 - SPACING_TOLERANCE) / depth - _ROUNDING)
    rows = max(rows_per_strip, 1)
    if rows < least_rows(crop):
        blocks = math.ceil(least_rows(crop) / rows)
        strips, rows = strips * blocks, rows * blocks
    plants_in_row = rows_in(part_breadth_cm(bed), crop.spacing_in_row.usual)
    if strips > strips_per_part(bed) or plants_in_row == 0:
        return None
    return Lot(strips, rows, rows * plants_in_row)
