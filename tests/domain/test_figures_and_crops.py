"""Figures and crops: what does not load."""

from __future__ import annotations

from typing import Any

import pytest
from pydantic import ValidationError

from rotasolve.domain.crop import Crop, Start
from rotasolve.domain.figure import Figure
from rotasolve.domain.scenario import Rules
from tests.helpers.tiny import LETTUCE, figure, start

RANGE = {"low": 1, "typical": 2, "high": 4, "unit": "cm", "source": "common-practice"}


def test_a_single_value_is_all_three_ends() -> None:
    found = Figure.model_validate(figure(3, "cm"))
    assert (found.least, found.usual, found.most) == (3, 3, 3)


def test_a_range_keeps_its_ends() -> None:
    found = Figure.model_validate(RANGE)
    assert (found.least, found.usual, found.most) == (1, 2, 4)


@pytest.mark.parametrize(
    ("change", "why"),
    [
        ({"value": 2}, "not both"),
        ({"high": None}, "all of low, typical and high"),
        ({"low": 3}, "does not hold"),
        ({"typical": 5}, "does not hold"),
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
