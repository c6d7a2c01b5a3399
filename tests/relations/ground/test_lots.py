"""Lots at the borders of inches and centimetres, for any crop and bed."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rotasolve.domain.bed import Bed
from rotasolve.domain.crop import Crop
from rotasolve.relations.ground.lots import SPACING_TOLERANCE, Lot, lot_of, rows_in
from tests.helpers.tiny import bed, crop, figure

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
        (60, 60, 1),
        (60, 20, 3),
        (59, 20, 2),
        # Common practice: a fiftieth of the distance may be missing. 22 in = 55.88 cm.
        (55, 22 * INCH, 1),  # 55 / 55.88 = 0.984
        (54.7, 22 * INCH, 0),  # 54.7 / 55.88 = 0.979
        (2.4 * FOOT, 0.6 * FOOT, 4),
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
def test_rows_that_fit(depth: float, distance: float, rows: int) -> None:
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
        # Strips of 60 x 120 cm hold 4 plants a row.
        (60, None, 3, Lot(1, 1, 4)),
        (25, None, 3, Lot(1, 2, 8)),
        (100, None, 3, Lot(2, 1, 4)),
        (180, None, 3, Lot(3, 1, 4)),
        (200, None, 3, None),  # deeper than the bed
        # A block of 3 rows of 60 cm takes 3 strips; of 3 rows of 25 cm, two a strip, 2 strips of 2 rows.
        (60, 3, 3, Lot(3, 3, 12)),
        (25, 3, 3, Lot(2, 4, 16)),
        # Four rows for the pollen, as for sweet corn.
        (60, 4, 4, Lot(4, 4, 16)),
        (60, 4, 3, None),
        (30, 4, 2, Lot(2, 4, 16)),
        (20, 4, 2, Lot(2, 6, 24)),  # three rows a strip: two strips hold six
        (90, 2, 4, Lot(4, 2, 8)),  # two strips a row
        (90, 2, 3, None),
        (60, 1, 1, Lot(1, 1, 4)),
    ],
)
def test_the_smallest_block(between: float, least: int | None, strips: int, lot: Lot | None) -> None:
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


def test_parts_share_the_breadth() -> None:
    # 240 cm in 2 parts: 120 / 30 = 4 plants a row.
    halves = Bed.model_validate({"name": "bed", "length": 60, "width": 240, "strip": 60, "parts": 2})
    assert lot_of(crop("beet", "f"), halves) == Lot(1, 1, 4)
