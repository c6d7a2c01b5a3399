"""Spacing capacity: a crop gets no more plants than its spacing allows in the strips it takes.

What it asks
    A strip holds floor(depth / row distance) rows, a row floor(length / spacing) plants; a crop wider than a strip
    takes several strips a row. The planting's strips lie side by side and hold all its rows and plants.
Why
    Crowded plants shade and starve each other; the spacings are those of the sources in crops/. The half-spacing
    edge is the circle-packing rule; published checks are the block count of CSU_713 and the row counts of
    UFIFAS_GUIDE.
Breaks it
    Five kale plants at 45 cm in one strip 1.2 m long and 60 cm deep: the strip holds one row of two.
Loosen it
    Give the crop a smaller spacing in a crop file of your own, or the bed shallower or deeper strips.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from rotasolve.domain.claim import Claim, Facts
from rotasolve.domain.hindrance import Hindrance
from rotasolve.domain.plan import Breach
from rotasolve.domain.strips import part_breadth_cm, parts_of, strips_per_part
from rotasolve.recount.ground import cut_of, least_rows, plants_in_a_row, rows_that_fit
from rotasolve.relations.ground.lots import SPACING_TOLERANCE

if TYPE_CHECKING:
    from rotasolve.board import Board
    from rotasolve.domain.bed import Bed
    from rotasolve.domain.crop import Crop
    from rotasolve.domain.plan import Plan, Planting
    from rotasolve.relations.ground.garden import Garden


@dataclass(frozen=True)
class SpacingClaim(Claim):
    """A crop keeps its spacing in a bed."""

    rule = "spacing-capacity"
    crop: str
    bed: str


@dataclass(frozen=True)
class StripsApart(Facts):
    """A planting's strips do not lie side by side in one part of the bed."""


@dataclass(frozen=True)
class TooMany(Facts):
    """A planting has more plants or rows than its strips hold."""

    plants: int
    rows: int
    room_plants: int
    room_rows: int


@dataclass(frozen=True)
class TooManyInARow(Facts):
    """A planting has more plants than its rows hold."""

    plants: int
    rows: int
    most_in_a_row: int


@dataclass(frozen=True)
class BlockTooSmall(Facts):
    """A planting has fewer rows than its crop wants side by side."""

    rows: int
    least_rows: int


@dataclass(frozen=True)
class PartTooSmall(Facts):
    """So many plants need more strips side by side than a part of the bed has; ``whole_bed``: it has one part only."""

    plants: int
    strips: int
    has_strips: int
    whole_bed: bool


@dataclass(frozen=True)
class RowTooShort(Facts):
    """The spacing in the row is more than the bed is broad."""

    spacing_cm: float
    free_cm: float


@dataclass(frozen=True)
class RowsTooDeep(Facts):
    """So many rows at the crop's distance are deeper than the bed."""

    rows: int
    distance_cm: float
    free_cm: float


class SpacingCapacity:
    """No more plants than fit."""

    key = SpacingClaim.rule
    holds_inside_a_bed = False

    def post(self, garden: Garden, board: Board) -> None:
        """Bound the lots of a crop in a bed by what its parts hold: a lot never straddles two parts.

        A pinned crop that does not fit at all has room for no lot.
        """
        over: dict[tuple[str, str], list[int]] = {}
        for number, choice in enumerate(garden.choices):
            if board.upper[number] > choice.most_lots:
                over.setdefault((choice.sowing.crop, choice.bed), []).append(number)
        for (crop, bed), numbers in over.items():
            with board.because(SpacingClaim(crop, bed)):
                for number in numbers:
                    board.at_most([(number, 1)], garden.choices[number].most_lots)

    def breaches(self, garden: Garden, plan: Plan) -> Iterator[Breach]:
        """Lay rows and plants down anew in the strips as the bed's measures give them."""
        for planting in plan.plantings:
            crop, bed = garden.crops[planting.crop], garden.beds[planting.bed]
            cut, strips = cut_of(bed), len(set(planting.strips))
            in_a_row, rows, least = plants_in_a_row(crop, cut), rows_that_fit(crop, cut, strips), least_rows(crop)
            claim = SpacingClaim(planting.crop, planting.bed)
            if not cut.are_side_by_side(planting.strips):
                yield Breach(claim, StripsApart(), (planting,))
                continue
            if planting.rows > rows or planting.plants > rows * in_a_row:
                room = rows * in_a_row
                yield Breach(claim, TooMany(planting.plants, planting.rows, room, rows), (planting,))
            elif planting.plants > planting.rows * in_a_row:
                yield Breach(claim, TooManyInARow(planting.plants, planting.rows, in_a_row), (planting,))
            elif planting.rows < least:
                yield Breach(claim, BlockTooSmall(planting.rows, least), (planting,))

    def hinders(self, garden: Garden, plan: Plan, planting: Planting) -> Iterator[Hindrance]:
        """Bar a bed too small for the crop's spacing, or for so many plants in one part of it."""
        crop, bed = garden.crops[planting.crop], garden.beds[planting.bed]
        lot = garden.lot(crop.name, bed.name)
        if lot is None:
            why = _too_small(crop, bed)
        else:
            deep = strips_per_part(bed)
            needed = lot.strips * math.ceil(planting.plants / lot.plants)
            if needed <= deep:
                return
            why = PartTooSmall(planting.plants, needed, deep, whole_bed=parts_of(bed) == 1)
        yield Hindrance(SpacingClaim(crop.name, bed.name), why, planting.strips)


def _too_small(crop: Crop, bed: Bed) -> Facts:
    spacing, breadth = crop.spacing_in_row.usual, part_breadth_cm(bed)
    if spacing * (1 - SPACING_TOLERANCE) > breadth:
        return RowTooShort(spacing, breadth)
    least = 1 if crop.least_rows is None else round(crop.least_rows.usual)
    return RowsTooDeep(least, crop.spacing_between_rows.usual, bed.depth_cm)
