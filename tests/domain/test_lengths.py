"""Lengths as growers write them, in metric units and in inches and feet."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import ValidationError

from rotasolve.domain.bed import Bed
from rotasolve.domain.measures import CM_PER_UNIT, WRITTEN, parse_length, say_metric

NUMBERS = st.integers(0, 10_000).map(lambda number: number / 10)


@pytest.mark.parametrize(
    ("text", "cm"),
    [
        ("30 cm", 30),
        ("1.2 m", 120),
        ("250mm", 25),
        ("  4 M ", 400),
        # The inch is 2.54 cm (international yard and pound agreement, 1959); 12 inches make a foot.
        ("1 in", 2.54),
        ("6 inches", 15.24),
        ('9"', 22.86),
        ("4 ft", 121.92),
        ("4 ft 6 in", 137.16),
        ("4' 6\"", 137.16),
        ("-1 m", -100),
    ],
)
def test_a_length_is_read_in_centimetres(text: str, cm: float) -> None:
    assert parse_length(text) == pytest.approx(cm)


def test_the_yard_and_the_inch() -> None:
    # International yard and pound agreement, 1959: the yard is 0.9144 m, of 3 feet or 36 inches.
    assert 3 * CM_PER_UNIT["ft"] == pytest.approx(91.44)
    assert 36 * CM_PER_UNIT["in"] == pytest.approx(91.44)
    assert parse_length("4 ft 6 in") == 137.16


@given(NUMBERS, st.sampled_from(sorted(CM_PER_UNIT)), st.sampled_from(["", " ", "  "]))
def test_the_number_counts_the_unit(number: float, unit: str, space: str) -> None:
    assert parse_length(f"{number}{space}{unit}") == pytest.approx(number * CM_PER_UNIT[unit], abs=1e-4)
    assert parse_length(f" {number}{space}{unit.upper()} ") == parse_length(f"{number} {unit}")


@given(st.integers(0, 300), st.integers(0, 11))
def test_feet_and_inches_add_up(feet: int, inches: int) -> None:
    for text in (f"{feet} ft {inches} in", f"{feet} feet {inches} inches", f"{feet}' {inches}\""):
        assert parse_length(text) == parse_length(f"{12 * feet + inches} in")


@pytest.mark.parametrize(
    ("value", "why"),
    [
        ("30", "not a length"),
        ("", "not a length"),
        ("1,2 m", "not a length"),
        ("three metres", "not a length"),
        ("3 ells", "'ells' is not a unit"),
        (30, "needs a unit"),
        (True, "not a length"),
        (None, "not a length"),
    ],
)
def test_what_is_no_length_is_refused(value: object, why: str) -> None:
    with pytest.raises(ValueError, match=why):
        parse_length(value)


@pytest.mark.parametrize(
    "text", ["1.2", "1.2 m long", "m", "6 in 4", "1e2 cm", ".5 m", "1 000 cm", "4 ft 6", "½ m", "3 m2"]
)
def test_half_a_length_is_none(text: str) -> None:
    with pytest.raises(ValueError, match="write a number with its unit"):
        parse_length(text)


@pytest.mark.parametrize(("length", "fine"), [("20 cm", True), ("19.9 cm", False), ("100 m", True), ("100.1 m", False)])
def test_a_bed_has_a_size_within_reason(length: str, fine: bool) -> None:
    fields = {"name": "bed", "length": length, "width": "1 m"}
    if fine:
        assert Bed.model_validate(fields).width == 100
    else:
        with pytest.raises(ValidationError, match="must lie between 20 cm and 100 m"):
            Bed.model_validate(fields)


def test_a_number_without_unit_is_taken_from_a_record_but_not_from_a_grower() -> None:
    fields = {"name": "bed", "length": 120, "width": 60}
    assert Bed.model_validate(fields).length == 120
    with pytest.raises(ValidationError, match="needs a unit"):
        Bed.model_validate(fields, context={WRITTEN: True})


@pytest.mark.parametrize(("cm", "said"), [(30, "30 cm"), (99.5, "99.5 cm"), (100, "1 m"), (-250, "-2.5 m")])
def test_a_length_is_said_in_a_growers_unit(cm: float, said: str) -> None:
    assert say_metric(cm) == said


@given(st.integers(-9_999, 9_999))
def test_what_is_said_is_read_back(cm: int) -> None:
    assert parse_length(say_metric(cm)) == pytest.approx(cm)


@pytest.mark.parametrize(
    ("strip", "east", "fine"),
    [
        ("10 cm", "-1000 m", True),
        ("9.9 cm", "0 m", False),
        ("3 m", "1000 m", True),
        ("3.01 m", "0 m", False),
        ("60 cm", "1000.1 m", False),
        ("4 in", "0 m", True),
        ("3 in", "0 m", False),
    ],
)
def test_strips_and_places_within_reason(strip: str, east: str, fine: bool) -> None:
    fields = {"name": "bed", "length": "4 m", "width": "4 ft", "strip": strip, "east": east, "north": "0 m"}
    if fine:
        found = Bed.model_validate(fields)
        assert (found.strip, found.east) == (parse_length(strip), parse_length(east))
    else:
        with pytest.raises(ValidationError, match="must lie between"):
            Bed.model_validate(fields)
