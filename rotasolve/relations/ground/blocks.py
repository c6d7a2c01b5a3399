"""How many plants fit: the block, the ground that one planting takes, and the sizes worth offering.

A block is a rectangle of strips: so many neighbouring strips deep, and one or more neighbouring parts of the bed
broad. Rows run from west to east through all its parts. A row keeps half its distance to the edge of its block, so a
block of depth d holds floor(d / row distance) rows and a row of length l floor(l / spacing) plants: rows are counted
over the whole block, never strip by strip.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

from rotasolve.domain.strips import part_breadth_cm, parts_of, strip_depth_cm, strips_per_part

if TYPE_CHECKING:
    from rotasolve.domain.bed import Bed
    from rotasolve.domain.crop import Crop

SPACING_TOLERANCE = 0.02
"""A row may be this part of its distance short of room: 60 cm hold a row 24 in (60.96 cm) wide. Common practice, no
source: nobody measures a spacing closer. Without it an exact fit of converted inches would be lost to rounding too."""
_ROUNDING = 1e-9
"""A row short by just the tolerance fits: 149 cm hold three of 50 cm, whatever 2.98 + 0.02 comes to in floats."""


@dataclass(frozen=True)
class Block:
    """The ground of one planting: strips deep in so many parts of a bed, with the rows and plants it holds."""

    deep: int
    rows: int
    plants: int
    parts: int = 1

    @property
    def strips(self) -> int:
        """All strips of the block."""
        return self.deep * self.parts


def rows_in(depth_cm: float, distance_cm: float) -> int:
    """Return how many rows, or plants in a row, ``distance_cm`` apart fit into ``depth_cm``."""
    return math.floor(depth_cm / distance_cm + SPACING_TOLERANCE + _ROUNDING)


def least_rows(crop: Crop) -> int:
    """Return the rows below which a crop is not planted: more than one where it needs a block for its pollen."""
    return 1 if crop.least_rows is None else round(crop.least_rows.usual)


def block_of(crop: Crop, bed: Bed, deep: int, parts: int = 1) -> Block | None:
    """Return what a block of a crop holds, or None if that is less than the crop is planted in."""
    rows = rows_in(deep * strip_depth_cm(bed), crop.spacing_between_rows.usual)
    in_row = rows_in(parts * part_breadth_cm(bed), crop.spacing_in_row.usual)
    if deep > strips_per_part(bed) or parts > parts_of(bed) or rows < least_rows(crop) or not in_row:
        return None
    return Block(deep, rows, rows * in_row, parts)


def blocks_of(crop: Crop, bed: Bed) -> tuple[Block, ...]:
    """Return every block of a crop in a bed, by plants and strips; none that lies in another and holds as many."""
    spacing = (crop.spacing_between_rows.usual, crop.spacing_in_row.usual, least_rows(crop))
    ground = (strip_depth_cm(bed), part_breadth_cm(bed), strips_per_part(bed), parts_of(bed))
    return _blocks(*spacing, *ground)


@lru_cache(maxsize=20_000)
def _blocks(
    between: float, in_row: float, least: int, depth: float, breadth: float, strips: int, parts: int
) -> tuple[Block, ...]:
    found = []
    for broad in range(1, parts + 1):
        last = 0
        for deep in range(1, strips + 1):
            rows, plants = rows_in(deep * depth, between), rows_in(broad * breadth, in_row)
            # A strip more that holds no row more only takes ground.
            if rows >= least and rows > last and plants:
                found.append(Block(deep, rows, rows * plants, broad))
                last = rows
    narrower = {(block.deep, block.parts): block.plants for block in found}
    found = [block for block in found if narrower.get((block.deep, block.parts - 1), 0) < block.plants]
    return tuple(sorted(found, key=lambda block: (block.plants, block.strips, block.parts)))


def smallest_block(crop: Crop, bed: Bed, plants: int = 1) -> Block | None:
    """Return the block of fewest strips that holds so many plants, or None if none in the bed does."""
    holding = [block for block in blocks_of(crop, bed) if block.plants >= plants]
    return min(holding, key=lambda block: (block.strips, block.parts), default=None)


def rows_filled(crop: Crop, bed: Bed, plants: int, deep: int, parts: int = 1) -> int:
    """Return in how many rows so many plants stand in a block: the last may stay part empty."""
    in_row = rows_in(parts * part_breadth_cm(bed), crop.spacing_in_row.usual)
    rows, block = math.ceil(plants / in_row) if in_row else 1, block_of(crop, bed, deep, parts)
    return rows if block is None else min(max(rows, least_rows(crop)), block.rows)
