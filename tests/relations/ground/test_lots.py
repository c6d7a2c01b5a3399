"""Lots and harvests, by hand."""

from __future__ import annotations

from typing import Any

import pytest

from rotasolve.domain.bed import Bed
from rotasolve.relations.ground.lots import Lot, lot_of, rows_in
from rotasolve.relations.season.yields import expected_harvest
from tests.helpers.tiny import SOURCE, bed, crop, figure

INCH = 2.54


@pytest.mark.parametrize(
    ("depth", "distance", "rows"),
    [
        (60, 60, 1),
        (60, 20, 3),
        (59, 20, 2),
        # Common practice: a fiftieth of the distance may be missing. 22 in = 55.88 cm.
        (22 * INCH, 22 * INCH, 1),
        (55, 22 * INCH, 1),  # 55 / 55.88 = 0.984
        (54.7, 22 * INCH, 0),  # 54.7 / 55.88 = 0.979
        (2.4 * 30.48, 0.6 * 30.48, 4),
    ],
)
def test_rows_that_fit(depth: float, distance: float, rows: int) -> None:
    assert rows_in(depth, distance) == rows


@pytest.mark.parametrize(
    ("in_row", "between", "least", "lot"),
    [
        # A strip of 60 x 120 cm.
        (30, 60, None, Lot(1, 1, 4)),
        (30, 25, None, Lot(1, 2, 8)),
        (40, 100, None, Lot(2, 1, 3)),
        (40, 180, None, Lot(3, 1, 3)),
        # A block of 3 rows of 60 cm takes 3 strips; of 3 rows of 25 cm, two a strip, 2 strips of 2 rows.
        (30, 60, 3, Lot(3, 3, 12)),
        (30, 25, 3, Lot(2, 4, 16)),
        # Deeper than the bed of 3 strips, or wider than its breadth.
        (40, 200, None, None),
        (130, 60, None, None),
    ],
)
def test_the_smallest_block(in_row: float, between: float, least: int | None, lot: Lot | None) -> None:
    more: dict[str, Any] = {} if least is None else {"least_rows": figure(least, "rows")}
    record = crop("beet", "f", spacing_in_row=figure(in_row, "cm"), spacing_between_rows=figure(between, "cm"), **more)
    assert lot_of(record, bed(strips=3)) == lot


def test_parts_share_the_breadth() -> None:
    # 240 cm in 2 parts: 120 / 30 = 4 plants a row.
    halves = Bed.model_validate({"name": "bed", "length": 60, "width": 240, "strip": 60, "parts": 2})
    assert lot_of(crop("beet", "f"), halves) == Lot(1, 1, 4)


def test_a_yield_per_plant() -> None:
    per_plant = {"low": 0.2, "typical": 0.5, "high": 1.0, "unit": "kg per plant", "source": SOURCE}
    harvest = expected_harvest(crop("beet", "f", yield_per_plant=per_plant), 10)
    assert (harvest.low_kg, harvest.typical_kg, harvest.high_kg) == (2, 5, 10)
    # Half the season.
    assert expected_harvest(crop("beet", "f", yield_per_plant=per_plant), 10, 50).typical_kg == 2.5


def test_a_yield_per_area_counts_the_ground_of_the_plants() -> None:
    # 30 x 60 cm = 0.18 m2 a plant: 10 plants x 0.18 x 2 kg = 3.6 kg.
    record = crop("beet", "f", yield_per_area=figure(2, "kg per m2"))
    assert expected_harvest(record, 10).typical_kg == 3.6


def test_a_yield_per_row_is_spread_over_its_row_distance() -> None:
    # 1.5 kg per metre of row at 75 cm is 2 kg per m2; 0.18 m2 a plant: 3.6 kg for 10.
    record = crop("beet", "f", yield_per_row=figure(1.5, "kg per m of row"), row_distance_for_yield=figure(75, "cm"))
    assert expected_harvest(record, 10).typical_kg == 3.6


def test_a_green_manure_yields_nothing() -> None:
    assert expected_harvest(crop("clover", "f", green_manure=True), 10).high_kg == 0
