"""Blocks at the borders of inches and centimetres, for any crop and bed."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rotasolve.domain.bed import Bed
from rotasolve.domain.crop import Crop
from rotasolve.relations.ground.blocks import Block, block_of, blocks_of, rows_filled, rows_in, smallest_block
from tests.helpers.tiny import bed, crop, figure

# The inch is 2.54 cm and the foot 30.48 cm: international yard and pound agreement, 1959.
INCH, FOOT = 2.54, 30.48


def spaced(in_row: float, between: float, least: int | None = None, **more: Any) -> Crop:
    if least is not None:
        more["least_rows"] = figure(least, "rows")
    return crop("beet", "f", spacing_in_row=figure(in_row, "cm"), spacing_between_rows=figure(between, "cm"), **more)


def ground(depth: float, strip: float | None, breadth: float = 120, **more: Any) -> Bed:
    return bed(length=depth, strip=strip, width=breadth, **more)


@given(st.integers(1, 40), st.integers(1, 120))
def test_rows_counted_in_inches_fit_exactly(rows: int, inches: int) -> None:
    assert rows_in(rows * inches * INCH, inches * INCH) == rows
    # A fiftieth of one distance may be missing (common practice), a twentieth may not.
    assert rows_in((rows - 0.019) * inches * INCH, inches * INCH) == rows
    assert rows_in((rows - 0.05) * inches * INCH, inches * INCH) == rows - 1


def test_a_row_short_of_room_by_just_a_fiftieth_fits() -> None:
    # 49 cm hold one row of 50, 149 three; so for every half centimetre to 2 m, to 60 rows.
    for halves in range(10, 401):
        distance = halves / 2
        assert all(rows_in(rows * distance - distance / 50, distance) == rows for rows in range(1, 61))


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
    assert smallest_block(two_feet, ground(120, 60)) == Block(1, 1, 4)
    # Strips of 59 cm: one is too narrow, two hold it.
    assert smallest_block(two_feet, ground(118, 59)) == Block(2, 1, 4)
    # A single one does not.
    assert smallest_block(two_feet, ground(59, 59)) is None


@pytest.mark.parametrize(("in_row", "plants"), [(40, 3), (41, 2), (120, 1), (122, 1), (123, None)])
def test_a_narrow_bed_holds_few_plants_or_none(in_row: float, plants: int | None) -> None:
    # 120 / 41 = 2.93; 120 / 122 = 0.984; 120 / 123 = 0.976.
    found = smallest_block(spaced(in_row, 60), ground(120, 60))
    assert (found and found.plants) == plants


@pytest.mark.parametrize(
    ("between", "least", "strips", "block"),
    [
        # Strips of 60 x 120 cm hold 4 plants a row.
        (60, None, 3, Block(1, 1, 4)),
        (25, None, 3, Block(1, 2, 8)),
        (100, None, 3, Block(2, 1, 4)),
        (180, None, 3, Block(3, 1, 4)),
        (200, None, 3, None),  # deeper than the bed
        # 3 rows of 60 cm take 3 strips; 3 rows of 25 cm two, which hold 120 / 25 = 4.8.
        (60, 3, 3, Block(3, 3, 12)),
        (25, 3, 3, Block(2, 4, 16)),
        # Four rows for the pollen, as for sweet corn.
        (60, 4, 4, Block(4, 4, 16)),
        (60, 4, 3, None),
        (30, 4, 2, Block(2, 4, 16)),
        (20, 4, 2, Block(2, 6, 24)),  # 120 / 20
        # Two rows of 90 cm: 120 / 90 = 1.3, 180 / 90 = 2.
        (90, 2, 4, Block(3, 2, 8)),
        (90, 2, 3, Block(3, 2, 8)),
        (90, 2, 2, None),
        (60, 1, 1, Block(1, 1, 4)),
    ],
)
def test_the_smallest_block(between: float, least: int | None, strips: int, block: Block | None) -> None:
    assert smallest_block(spaced(30, between, least), ground(strips * 60, 60)) == block


def test_rows_are_counted_over_the_whole_block() -> None:
    # A bed of 4 m in 7 strips of 57.14 cm, rows of 24 in: 57.14 / 60.96 = 0.94, 114.3: 1.87, 171.4: 2.81, 228.6: 3.75,
    # 285.7: 4.69, 342.9: 5.62, 400: 6.56. In a row of 120 cm stand 120 / 30.48 = 3.9.
    potato = spaced(12 * INCH, 24 * INCH)
    found = blocks_of(potato, ground(400, None))
    assert found == tuple(Block(rows + 1, rows, 3 * rows) for rows in range(1, 7))
    # 3 m hold 4 rows (4.92), 4.2 m no more than 4 m (6.89): the tolerance counts once, not once a strip.
    assert [blocks_of(potato, ground(depth, None))[-1].plants for depth in (300, 400, 420)] == [12, 18, 18]


def test_a_strip_that_holds_no_row_more_is_not_taken() -> None:
    # Rows of 90 cm in strips of 60: 1 row on 2 strips (120), 2 on 3 (180), still 2 on 4 (240), 3 on 5 (300).
    assert blocks_of(spaced(30, 90), ground(300, 60)) == (Block(2, 1, 4), Block(3, 2, 8), Block(5, 3, 12))


def test_parts_share_the_breadth_and_rows_run_through_them() -> None:
    # 240 cm in 2 parts: 120 / 50 = 2 plants a row in one part, 240 / 50 = 4 in both.
    halves = ground(60, 60, 240, parts=2)
    assert blocks_of(spaced(50, 60), halves) == (Block(1, 1, 2, 1), Block(1, 1, 4, 2))
    # A plant 130 cm apart needs both parts; one 100 cm apart gains none in the second third of 3 x 60 cm.
    assert blocks_of(spaced(130, 60), halves) == (Block(1, 1, 1, 2),)
    assert blocks_of(spaced(100, 60), ground(60, 60, 180, parts=3)) == (Block(1, 1, 1, 2),)


@pytest.mark.parametrize(("deep", "parts"), [(4, 1), (1, 3), (4, 3)])
def test_no_block_is_larger_than_its_bed(deep: int, parts: int) -> None:
    assert block_of(spaced(30, 60), ground(180, 60, 240, parts=2), deep, parts) is None
    assert block_of(spaced(30, 60), ground(180, 60, 240, parts=2), 3, 2) == Block(3, 3, 24, 2)


@pytest.mark.parametrize(
    ("plants", "block"),
    [
        # 2 parts of 3 strips, 4 plants on a strip, 8 across both parts.
        (1, Block(1, 1, 4, 1)),
        (4, Block(1, 1, 4, 1)),
        # 8 plants on 2 strips, of one part rather than of two; 9 on 3 of one part; 13 on 4, 2 in either part.
        (5, Block(2, 2, 8, 1)),
        (9, Block(3, 3, 12, 1)),
        (13, Block(2, 2, 16, 2)),
        (24, Block(3, 3, 24, 2)),
        (25, None),
    ],
)
def test_the_smallest_block_that_holds_so_many_plants(plants: int, block: Block | None) -> None:
    assert smallest_block(spaced(30, 60), ground(180, 60, 240, parts=2), plants) == block


@pytest.mark.parametrize(("plants", "rows"), [(1, 1), (4, 1), (5, 2), (12, 3), (13, 3)])
def test_the_last_row_may_stay_part_empty(plants: int, rows: int) -> None:
    # Three strips of 60 cm: 3 rows of 4; a thirteenth plant is left to the referee.
    assert rows_filled(spaced(30, 60), ground(180, 60), plants, 3) == rows


def test_a_crop_that_needs_a_block_fills_its_least_rows() -> None:
    assert rows_filled(spaced(30, 60, 2), ground(180, 60), 1, 3) == 2
