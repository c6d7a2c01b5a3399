"""Lots at the borders of inches and centimetres, for any crop and bed, and harvests with their ends."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rotasolve.domain.bed import Bed
from rotasolve.domain.crop import Crop
from rotasolve.relations.ground.lots import SPACING_TOLERANCE, Lot, lot_of, rows_in
from rotasolve.relations.season.yields import expected_harvest
from tests.helpers.tiny import SOURCE, bed, crop, figure

# The inch is 2.54 cm and the foot 30.48 cm: international yard and pound agreement, 1959.
INCH, FOOT = 2.54, 30.48
SLACK = 1e-9


def spaced(in_row: float, between: float, least: int | None = None, **more: Any) -> Crop:
    if least is not None:
        more["least_rows"] = figure(least, "rows")
    return crop("beet", "f", spacing_in_row=figure(in_row, "cm"), spacing_between_rows=figure(between, "cm"), **more)


def ground(depth: float, strip: float, breadth: float = 120) -> Bed:
    return bed(length=depth, strip=strip, width=breadth)


@given(st.integers(1, 40), st.integers(1, 120))
def test_rows_counted_in_inches_fit_exactly(rows: int, inches: int) -> None:
    assert rows_in(rows * inches * INCH, inches * INCH) == rows
    # A fiftieth of one distance may be missing (common practice), a twentieth may not.
    assert rows_in((rows - 0.019) * inches * INCH, inches * INCH) == rows
    assert rows_in((rows - 0.05) * inches * INCH, inches * INCH) == rows - 1


@pytest.mark.parametrize(
    ("depth", "distance", "rows"),
    [
        (4 * FOOT, 12 * INCH, 4),
        (4 * FOOT, 18 * INCH, 2),
        (120, 12 * INCH, 3),  # 120 / 30.48 = 3.94
        (122, 12 * INCH, 4),  # 4.003
        (60, 24 * INCH, 1),  # 60 cm hold the row of 60.96 cm: 0.984
        (59, 24 * INCH, 0),  # 0.968
        (60, 23 * INCH, 1),
        (44, 22 * INCH, 0),
    ],
)
def test_feet_and_centimetres_meet(depth: float, distance: float, rows: int) -> None:
    assert rows_in(depth, distance) == rows


def test_a_row_a_little_wider_than_its_strip_takes_one_strip_or_two() -> None:
    two_feet = spaced(30, 24 * INCH)
    assert lot_of(two_feet, ground(120, 60)) == Lot(1, 1, 4)
    # Strips of 59 cm: one is too narrow, two hold it.
    assert lot_of(two_feet, ground(118, 59)) == Lot(2, 1, 4)
    # A single one does not.
    assert lot_of(two_feet, ground(59, 59)) is None


@pytest.mark.parametrize(("in_row", "plants"), [(40, 3), (41, 2), (120, 1), (122, 1), (123, None)])
def test_a_narrow_bed_holds_few_plants_or_none(in_row: float, plants: int | None) -> None:
    # 120 / 41 = 2.93; 120 / 122 = 0.984; 120 / 123 = 0.976.
    found = lot_of(spaced(in_row, 60), ground(120, 60))
    assert (found and found.plants) == plants


@pytest.mark.parametrize(
    ("between", "least", "strips", "lot"),
    [
        # Four rows for the pollen, as for sweet corn; 120 cm hold 4 plants a row.
        (60, 4, 4, Lot(4, 4, 16)),
        (60, 4, 3, None),
        (30, 4, 2, Lot(2, 4, 16)),
        (20, 4, 2, Lot(2, 6, 24)),  # three rows a strip: two strips hold six
        (90, 2, 4, Lot(4, 2, 8)),  # two strips a row
        (90, 2, 3, None),
        (60, 1, 1, Lot(1, 1, 4)),
    ],
)
def test_crops_that_need_several_rows(between: float, least: int, strips: int, lot: Lot | None) -> None:
    assert lot_of(spaced(30, between, least), ground(strips * 60, 60)) == lot


@given(
    in_row=st.integers(2, 150),
    between=st.integers(5, 250),
    least=st.none() | st.integers(1, 5),
    strip=st.integers(20, 100),
    strips=st.integers(1, 12),
    breadth=st.integers(30, 300),
)
def test_a_lot_holds_its_rows_and_is_the_smallest(
    in_row: int, between: int, least: int | None, strip: int, strips: int, breadth: int
) -> None:
    found = lot_of(spaced(in_row, between, least), ground(strip * strips, strip, breadth))
    in_a_row = int(breadth / in_row + SPACING_TOLERANCE)
    needed = (least or 1) * between
    if found is None:
        # Without slack the rows, each in whole strips, are deeper than the bed; or no plant fits.
        assert in_a_row == 0 or -(-between // strip) * (least or 1) > strips
        return
    room = found.strips * strip
    assert found.strips <= strips
    assert found.rows >= (least or 1)
    assert found.plants == found.rows * in_a_row
    # Each strip may be short by a fiftieth of a row distance, and by no more.
    assert found.rows * between <= room + found.strips * SPACING_TOLERANCE * between + SLACK
    if least is None:
        # One strip fewer is too little for a single row.
        assert (found.strips - 1) * strip < needed


def test_every_basis_keeps_low_and_high() -> None:
    def ends(unit: str) -> dict[str, Any]:
        return {"low": 1, "typical": 1.5, "high": 3, "unit": unit, "source": SOURCE}

    bases: list[tuple[dict[str, Any], tuple[float, float, float]]] = [
        # 25 x 40 cm = 0.1 m2 a plant, 8 plants: 0.8 m2; at rows 50 cm apart 1.6 m of row.
        ({"yield_per_plant": ends("kg per plant")}, (8, 12, 24)),
        ({"yield_per_area": ends("kg per m2")}, (0.8, 1.2, 2.4)),
        (
            {"yield_per_row": ends("kg per m of row"), "row_distance_for_yield": figure(50, "cm")},
            (1.6, 2.4, 4.8),
        ),
    ]
    for basis, kg in bases:
        record = spaced(25, 40, **basis)
        found = expected_harvest(record, 8)
        assert (found.low_kg, found.typical_kg, found.high_kg) == kg
        quarter = expected_harvest(record, 8, 25)
        assert (quarter.low_kg, quarter.typical_kg, quarter.high_kg) == pytest.approx([end / 4 for end in kg])
        assert expected_harvest(record, 0).high_kg == 0


def test_only_a_yield_per_plant_is_blind_to_the_room_of_a_plant() -> None:
    row = {"yield_per_row": figure(1, "kg per m of row"), "row_distance_for_yield": figure(50, "cm")}
    bases: list[tuple[dict[str, Any], int]] = [
        ({"yield_per_plant": figure(1, "kg per plant")}, 1),
        ({"yield_per_area": figure(1, "kg per m2")}, 2),
        (row, 2),
    ]
    for basis, factor in bases:
        near, far = (expected_harvest(spaced(25, between, **basis), 100).typical_kg for between in (40, 80))
        assert far == pytest.approx(factor * near)
        assert near > 0
