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
from typing import TYPE_CHECKING

from rotasolve.domain.claim import Breach, Claim
from rotasolve.domain.hindrance import Hindrance
from rotasolve.domain.measures import say_length
from rotasolve.domain.strips import part_breadth_cm, parts_of, strip_depth_cm, strips_per_part
from rotasolve.relations.ground.lie_of_beds import part_and_row
from rotasolve.relations.ground.lots import SPACING_TOLERANCE

if TYPE_CHECKING:
    from rotasolve.board import Board
    from rotasolve.domain.bed import Bed
    from rotasolve.domain.crop import Crop
    from rotasolve.domain.plan import Plan, Planting
    from rotasolve.relations.ground.garden import Garden


def spacing_claim(crop: str, bed: str) -> Claim:
    """Return the claim that a crop keeps its spacing in a bed."""
    return Claim(rule="spacing-capacity", about=(crop, bed))


class SpacingCapacity:
    """No more plants than fit."""

    key = "spacing-capacity"

    def post(self, garden: Garden, board: Board) -> None:
        """Bound the lots of a crop in a bed by what its parts hold: a lot never straddles two parts.

        A pinned crop that does not fit at all has room for no lot.
        """
        over: dict[tuple[str, str], list[int]] = {}
        for number, choice in enumerate(garden.choices):
            if board.upper[number] > choice.most_lots:
                over.setdefault((choice.sowing.crop, choice.bed), []).append(number)
        for (crop, bed), numbers in over.items():
            with board.because(spacing_claim(crop, bed)):
                for number in numbers:
                    board.at_most([(number, 1)], garden.choices[number].most_lots)

    def breaches(self, garden: Garden, plan: Plan) -> Iterator[Breach]:
        """Recount rows and plants from the strips' size in cm."""
        for planting in plan.plantings:
            crop, bed = garden.crops[planting.crop], garden.beds[planting.bed]
            row_distance, spacing = crop.spacing_between_rows.usual, crop.spacing_in_row.usual
            depth = strip_depth_cm(bed)
            in_a_row = int(part_breadth_cm(bed) / spacing + SPACING_TOLERANCE)
            if depth >= row_distance * (1 - SPACING_TOLERANCE):
                rows = len(set(planting.strips)) * int(depth / row_distance + SPACING_TOLERANCE)
            else:
                strips_a_row = next(n for n in range(1, 1000) if n * depth >= row_distance * (1 - SPACING_TOLERANCE))
                rows = len(set(planting.strips)) // strips_a_row
            least = 1 if crop.least_rows is None else round(crop.least_rows.usual)
            claim = spacing_claim(planting.crop, planting.bed)
            places = [part_and_row(bed, strip) for strip in sorted(set(planting.strips))]
            if places != [(places[0][0], places[0][1] + step) for step in range(len(places))]:
                apart = "its strips do not lie side by side in one part of the bed"
                yield Breach(claim=claim, found=apart, plantings=(planting,))
                continue
            if planting.rows > rows or planting.plants > rows * in_a_row:
                yield Breach(
                    claim=claim,
                    found=f"{planting.plants} plants in {planting.rows} rows, room for {rows * in_a_row} in {rows}",
                    plantings=(planting,),
                )
            elif planting.plants > planting.rows * in_a_row:
                yield Breach(
                    claim=claim,
                    found=f"{planting.plants} plants in {planting.rows} rows of at most {in_a_row}",
                    plantings=(planting,),
                )
            elif planting.rows < least:
                few = f"{planting.rows} rows, needs a block of at least {least}"
                yield Breach(claim=claim, found=few, plantings=(planting,))

    def say(self, claim: Claim) -> str:
        """Say the claim in plain words."""
        crop, bed = claim.about
        return f"{crop} in {bed} keeps its spacing"

    def hinders(self, garden: Garden, plan: Plan, planting: Planting) -> Iterator[Hindrance]:
        """Bar a bed too small for the crop's spacing, or for so many plants in one part of it."""
        crop, bed = garden.crops[planting.crop], garden.beds[planting.bed]
        lot = garden.lot(crop.name, bed.name)
        if lot is None:
            sentence = _too_small(crop, bed)
        else:
            deep = strips_per_part(bed)
            needed = lot.strips * math.ceil(planting.plants / lot.plants)
            if needed <= deep:
                return
            part = "the bed" if parts_of(bed) == 1 else "a part of the bed"
            side_by_side = "1 strip" if needed == 1 else f"{needed} strips side by side"
            sentence = f"{planting.plants} plants need {side_by_side}, {part} has {deep}"
        yield Hindrance(claim=spacing_claim(crop.name, bed.name), sentence=sentence, strips=planting.strips)


def _too_small(crop: Crop, bed: Bed) -> str:
    spacing, distance = crop.spacing_in_row.usual, crop.spacing_between_rows.usual
    breadth, depth = part_breadth_cm(bed), bed.depth_cm
    if spacing * (1 - SPACING_TOLERANCE) > breadth:
        return f"needs {say_length(spacing)} in the row, {say_length(breadth)} free"
    least = 1 if crop.least_rows is None else round(crop.least_rows.usual)
    if least > 1:
        return f"needs a block of {least} rows {say_length(distance)} apart, {say_length(depth)} free"
    return f"needs {say_length(distance)} between rows, {say_length(depth)} free"
