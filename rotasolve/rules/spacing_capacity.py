"""Spacing capacity: a crop gets no more plants than its spacing allows in the strips it takes.

What it asks
    A planting's strips lie side by side as one block, in one part of the bed or alike in neighbouring parts. A block
    holds floor(depth / row distance) rows, a row floor(length / spacing) plants, counted over the whole block. A crop
    that wants rows side by side (``least_rows``) stands in no fewer.
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

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from rotasolve.domain.claim import Claim, Facts
from rotasolve.domain.hindrance import Hindrance
from rotasolve.domain.plan import Breach
from rotasolve.recount.ground import cut_of, least_rows, plants_in_a_row, rows_that_fit
from rotasolve.relations.ground.blocks import SPACING_TOLERANCE, blocks_of

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
    """A planting's strips are no block: side by side in one part of the bed, or alike in neighbouring parts."""


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
class BedTooSmall(Facts):
    """The whole bed holds fewer plants than asked for."""

    plants: int
    room_plants: int


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
        """Take away what does not fit: blocks are made of what does, so that is only what was pinned or kept."""
        over: dict[tuple[str, str], list[int]] = {}
        for number, choice in enumerate(garden.choices):
            if not choice.fits:
                over.setdefault((choice.sowing.crop, choice.bed), []).append(number)
        for (crop, bed), numbers in over.items():
            with board.because(SpacingClaim(crop, bed)):
                for number in numbers:
                    board.at_most([(number, 1)], 0)

    def breaches(self, garden: Garden, plan: Plan) -> Iterator[Breach]:
        """Lay rows and plants down anew in the strips as the bed's measures give them."""
        for planting in plan.plantings:
            crop, bed = garden.crops[planting.crop], garden.beds[planting.bed]
            cut, least = cut_of(bed), least_rows(crop)
            claim, size = SpacingClaim(planting.crop, planting.bed), cut.block(planting.strips)
            if size is None:
                yield Breach(claim, StripsApart(), (planting,))
                continue
            in_a_row, rows = plants_in_a_row(crop, cut, size[1]), rows_that_fit(crop, cut, size[0])
            if planting.rows > rows or planting.plants > rows * in_a_row:
                room = rows * in_a_row
                yield Breach(claim, TooMany(planting.plants, planting.rows, room, rows), (planting,))
            elif planting.plants > planting.rows * in_a_row:
                yield Breach(claim, TooManyInARow(planting.plants, planting.rows, in_a_row), (planting,))
            elif planting.rows < least:
                yield Breach(claim, BlockTooSmall(planting.rows, least), (planting,))

    def hinders(self, garden: Garden, plan: Plan, planting: Planting) -> Iterator[Hindrance]:
        """Bar a bed too small for the crop's spacing, or for so many plants."""
        crop, bed = garden.crops[planting.crop], garden.beds[planting.bed]
        blocks = blocks_of(crop, bed)
        if not blocks:
            why = _too_small(crop, bed)
        else:
            if planting.plants <= blocks[-1].plants:
                return
            why = BedTooSmall(planting.plants, blocks[-1].plants)
        yield Hindrance(SpacingClaim(crop.name, bed.name), why, planting.strips)


def _too_small(crop: Crop, bed: Bed) -> Facts:
    spacing, breadth = crop.spacing_in_row.usual, bed.breadth_cm
    if spacing * (1 - SPACING_TOLERANCE) > breadth:
        return RowTooShort(spacing, breadth)
    least = 1 if crop.least_rows is None else round(crop.least_rows.usual)
    return RowsTooDeep(least, crop.spacing_between_rows.usual, bed.depth_cm)
