"""Figures in any order, and the cut of any bed into strips and parts."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import ValidationError

from rotasolve.domain.figure import Figure
from rotasolve.domain.strips import WIDEST_PART_CM, part_breadth_cm, parts_of, strip_depth_cm, strips_per_part
from tests.helpers.tiny import SOURCE, bed

ENDS = st.floats(-1000, 1000)
# The foot is 30.48 cm: international yard and pound agreement, 1959.
FOOT = 30.48


def ends(low: float, typical: float, high: float, **more: Any) -> dict[str, Any]:
    return {"low": low, "typical": typical, "high": high, "unit": "weeks", "source": SOURCE, **more}


@given(st.tuples(ENDS, ENDS, ENDS))
def test_low_typical_and_high_must_stand_in_order(numbers: tuple[float, float, float]) -> None:
    low, typical, high = sorted(numbers)
    found = Figure.model_validate(ends(low, typical, high))
    assert (found.least, found.usual, found.most) == (low, typical, high)
    if list(numbers) != sorted(numbers):
        with pytest.raises(ValidationError, match="does not hold"):
            Figure.model_validate(ends(*numbers))


def test_equal_ends_are_in_order() -> None:
    found = Figure.model_validate(ends(2, 2, 2))
    assert (found.least, found.usual, found.most) == (2, 2, 2)


@pytest.mark.parametrize("missing", ["low", "typical", "high"])
def test_two_ends_are_no_range(missing: str) -> None:
    fields = ends(1, 2, 3)
    del fields[missing]
    with pytest.raises(ValidationError, match="all of low, typical and high"):
        Figure.model_validate(fields)


def test_zero_is_a_value_not_a_gap() -> None:
    found = Figure.model_validate({"value": 0, "unit": "weeks after last frost", "source": SOURCE})
    assert (found.least, found.usual, found.most) == (0, 0, 0)
    with pytest.raises(ValidationError, match="not both"):
        Figure.model_validate(ends(0, 0, 0, value=0))


@pytest.mark.parametrize(
    ("source", "kept"), [("S1", ("S1",)), (["S1", "S2"], ("S1", "S2")), (("S2", "S1"), ("S2", "S1"))]
)
def test_one_source_or_several(source: object, kept: tuple[str, ...]) -> None:
    assert Figure.model_validate(ends(1, 2, 3, source=source)).source == kept


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
