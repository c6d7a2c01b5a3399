"""How a bed is cut into strips and parts: the borders at which a strip or a part is added."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rotasolve.domain.strips import WIDEST_PART_CM, part_breadth_cm, parts_of, strip_depth_cm, strips_per_part
from tests.helpers.tiny import bed

# The foot is 30.48 cm: international yard and pound agreement, 1959.
FOOT = 30.48


@pytest.mark.parametrize(
    ("depth", "cover", "strips"),
    [
        (89, "open ground", 1),  # 89 / 60 = 1.48
        (91, "open ground", 2),  # 91 / 60 = 1.52
        (150, "open ground", 2),  # 2.5 rounds to the even 2
        (44, "cold frame", 1),  # strips of 30 cm: 44 / 30 = 1.47
        (46, "cold frame", 2),
    ],
)
def test_without_a_strip_the_depth_is_shared_out(depth: float, cover: str, strips: int) -> None:
    ground = bed(length=depth, strip=None, cover=cover)
    assert strips_per_part(ground) == strips
    assert strip_depth_cm(ground) * strips == pytest.approx(depth)


@pytest.mark.parametrize(("depth", "strips"), [(119.9, 1), (120, 2), (179.9, 2)])
def test_a_given_strip_is_kept_and_the_rest_left_over(depth: float, strips: int) -> None:
    ground = bed(length=depth, strip=60.0)
    assert strips_per_part(ground) == strips
    assert strip_depth_cm(ground) == 60


@pytest.mark.parametrize(("breadth", "parts"), [(300, 1), (301, 2), (600, 2), (601, 3)])
def test_a_part_is_at_most_three_metres_broad(breadth: float, parts: int) -> None:
    ground = bed(width=breadth)
    assert parts_of(ground) == parts
    assert part_breadth_cm(ground) == pytest.approx(breadth / parts)


def test_the_side_from_north_to_south_is_the_depth() -> None:
    for runs, depth, breadth in (("north-south", 240, 120), ("east-west", 120, 240)):
        ground = bed(length=240.0, width=120.0, runs=runs)
        assert (ground.depth_cm, ground.breadth_cm) == (depth, breadth)


@given(st.integers(20, 4000), st.none() | st.integers(10, 300), st.sampled_from(["open ground", "cold frame"]))
def test_strips_never_outgrow_the_bed(depth: int, strip: int | None, cover: str) -> None:
    ground = bed(length=depth, strip=strip, cover=cover)
    count, deep = strips_per_part(ground), strip_depth_cm(ground)
    assert count * deep <= depth + 1e-6
    if strip is None:
        # An equal share each, within half as much again of the usual depth, unless the bed is shallower still.
        usual = 30 if cover == "cold frame" else 60
        assert count * deep == pytest.approx(depth)
        assert deep < 1.5 * usual + 1e-6
        assert count == 1 or deep >= 0.75 * usual
    else:
        assert deep == strip
        assert count == depth // strip


@given(st.integers(1, 30), st.integers(1, 60))
def test_strips_counted_in_feet_or_tenths_of_a_metre_come_out_even(strips: int, tenths: int) -> None:
    for depth in (tenths * 10 / 3, tenths * FOOT / 10):
        if 10 <= depth <= 300 and 20 <= strips * depth <= 10_000:
            assert strips_per_part(bed(length=strips * depth, strip=depth)) == strips


def test_a_strip_deeper_than_the_bed_leaves_none() -> None:
    assert strips_per_part(bed(length=59.0, strip=60.0)) == 0


@given(st.integers(20, 10_000), st.none() | st.integers(1, 20))
def test_parts_share_the_breadth_evenly(breadth: int, parts: int | None) -> None:
    ground = bed(width=breadth, parts=parts)
    assert parts_of(ground) * part_breadth_cm(ground) == pytest.approx(breadth)
    if parts is None:
        # As few as may be, none broader than three metres.
        assert part_breadth_cm(ground) <= WIDEST_PART_CM + 1e-6
        assert parts_of(ground) == 1 or breadth / (parts_of(ground) - 1) > WIDEST_PART_CM
    else:
        assert parts_of(ground) == parts


def test_thirty_feet_are_four_parts() -> None:
    # 914.4 / 300 = 3.05.
    assert parts_of(bed(width=30 * FOOT)) == 4
