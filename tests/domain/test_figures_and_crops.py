"""Figures and crops: what loads, and what does not."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import ValidationError

from rotasolve.domain.crop import Crop, Start
from rotasolve.domain.figure import MOST, Figure
from rotasolve.domain.scenario import Rules
from tests.helpers.tiny import LETTUCE, SOURCE, figure, start

RANGE = {"low": 1, "typical": 2, "high": 4, "unit": "cm", "source": "common-practice"}
ENDS = st.floats(-MOST["weeks"], MOST["weeks"])


def ends(low: float, typical: float, high: float, **more: Any) -> dict[str, Any]:
    return {"low": low, "typical": typical, "high": high, "unit": "weeks", "source": SOURCE, **more}


def test_a_single_value_is_all_three_ends() -> None:
    found = Figure.model_validate(figure(3, "cm"))
    assert (found.least, found.usual, found.most) == (3, 3, 3)


@given(st.tuples(ENDS, ENDS, ENDS))
def test_low_typical_and_high_must_stand_in_order(numbers: tuple[float, float, float]) -> None:
    low, typical, high = sorted(numbers)
    found = Figure.model_validate(ends(low, typical, high))
    assert (found.least, found.usual, found.most) == (low, typical, high)
    if list(numbers) != sorted(numbers):
        with pytest.raises(ValidationError, match="does not hold"):
            Figure.model_validate(ends(*numbers))


@pytest.mark.parametrize("number", [104.1, -105, 1e300])
def test_what_no_crop_can_have_is_refused(number: float) -> None:
    with pytest.raises(ValidationError, match="weeks is beyond what a crop can have, 104; check figure and unit"):
        Figure.model_validate(ends(*sorted([0, 104, number])))


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


@pytest.mark.parametrize(
    ("change", "why"),
    [
        ({"value": 2}, "not both"),
        ({"high": None}, "all of low, typical and high"),
        ({"source": []}, "at least 1 item"),
        ({"source": None}, "source"),
        ({"unit": "furlongs"}, "unit"),
        ({"colour": "red"}, "Extra inputs"),
    ],
)
def test_a_figure_that_is_not_whole_is_refused(change: dict[str, Any], why: str) -> None:
    with pytest.raises(ValidationError, match=why):
        Figure.model_validate({**RANGE, **change})


@pytest.mark.parametrize(
    ("change", "why"),
    [
        ({"height": figure(30, "days")}, "height is counted in cm"),
        ({"height": figure(0, "cm")}, "more than 0 cm"),
        ({"harvest_weeks": figure(-1, "weeks")}, "cannot be negative"),
        ({"yield_per_area": figure(1, "kg per m2")}, "exactly one"),
        ({"yield_per_plant": None}, "exactly one"),
        ({"green_manure": True}, "no yield"),
        ({"yield_per_plant": None, "yield_per_row": figure(1, "kg per m of row")}, "row_distance_for_yield"),
        ({"starts": []}, "at least 1 item"),
        ({"picking": "repeated", "standing_weeks": figure(3, "weeks")}, "picking: once"),
        ({"standing_weeks": figure(3, "days")}, "standing_weeks is counted in weeks"),
        ({"winter_loss": figure(101, "%")}, "winter_loss cannot be more than 100 %"),
        ({"spring_share": figure(-1, "%")}, "spring_share cannot be negative"),
        ({"growth_least": figure(20, "degC"), "growth_best": figure(20, "degC")}, "growth_least must lie below"),
        ({"growth_best": figure(20, "degC"), "growth_most": figure(18, "degC")}, "growth_best below growth_most"),
    ],
)
def test_a_crop_that_is_not_whole_is_refused(change: dict[str, Any], why: str) -> None:
    whole = LETTUCE.model_dump()
    assert Crop.model_validate(whole) == LETTUCE
    with pytest.raises(ValidationError, match=why):
        Crop.model_validate({**whole, **change})


@pytest.mark.parametrize(
    ("change", "why"),
    [
        ({"earliest": figure(1, "weeks")}, "a start window is counted in"),
        ({"days_to_harvest": figure(8, "weeks")}, "counted in days"),
        ({"days_to_harvest": figure(0, "days")}, "at least 1 day"),
    ],
)
def test_a_start_that_is_not_whole_is_refused(change: dict[str, Any], why: str) -> None:
    with pytest.raises(ValidationError, match=why):
        Start.model_validate({**start(1, 60), **change})


def test_records_cannot_be_changed() -> None:
    with pytest.raises(ValidationError, match="frozen"):
        LETTUCE.name = "cos"  # type: ignore[misc]


def test_height_steps_stand_in_order() -> None:
    assert Rules.model_validate({"height_steps_cm": (20, 21)}).height_steps_cm == (20, 21)
    with pytest.raises(ValidationError, match="lower step first"):
        Rules.model_validate({"height_steps_cm": (20, 20)})
