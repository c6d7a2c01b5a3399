"""Lengths as growers write them."""

from __future__ import annotations

import pytest
from pydantic import ValidationError

from rotasolve.domain.bed import Bed
from rotasolve.domain.measures import WRITTEN, parse_length, say_length


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
    assert say_length(cm) == said
