"""What a crop's and a cover's temperatures and water figures must satisfy."""

from __future__ import annotations

from typing import Any

import pytest
from pydantic import ValidationError

from rotasolve.domain.catalogue import Cover
from rotasolve.domain.climate import Climate
from rotasolve.domain.growth import DegreeDays
from tests.helpers.climates import CAMBRIDGE
from tests.helpers.tiny import SOURCE, crop, figure


@pytest.mark.parametrize(
    ("more", "told"),
    [
        ({"germination_least": figure(10, "weeks")}, "germination_least is counted in degC, not in weeks"),
        (
            {"germination_least": figure(20, "degC"), "germination_most": figure(10, "degC")},
            "germination_least must lie below germination_most",
        ),
        (
            {
                "degree_days": {"base": figure(20, "degC"), "method": "mean of the day"},
                "growth_best": figure(18, "degC"),
            },
            "must lie below growth_best, or no day would count",
        ),
    ],
)
def test_a_crop_refuses_temperatures_that_make_no_sense(more: dict[str, Any], told: str) -> None:
    with pytest.raises(ValidationError, match=told):
        crop("beet", "goosefoots", **more)


def test_soils_below_freezing_are_allowed() -> None:
    assert crop("rye", "grasses", germination_least=figure(-1, "degC")).germination_least is not None


@pytest.mark.parametrize(
    ("fields", "told"),
    [
        ({"ceiling": figure(5, "degC"), "method": "limits on both ends"}, "the ceiling must lie above the base"),
        ({"ceiling": figure(30, "degC"), "method": "mean of the day"}, "goes with the method 'limits on both ends'"),
        ({"ceiling": figure(30, "days"), "method": "limits on both ends"}, "from temperatures in degC, not in days"),
    ],
)
def test_degree_days_refuse_a_ceiling_that_does_not_fit(fields: dict[str, Any], told: str) -> None:
    with pytest.raises(ValidationError, match=told):
        DegreeDays.model_validate({"base": figure(10, "degC"), **fields})


def test_a_cover_s_gains_are_degrees_and_none_is_nothing() -> None:
    fields = {"name": "tunnel", "days_earlier": 7, "days_later": 7, "source": SOURCE}
    plain = Cover.model_validate(fields)
    assert (plain.night_gain_c, plain.day_gain_c, plain.mean_gain_c) == (0, 0, 0)
    warm = Cover.model_validate({**fields, "night_gain": figure(1, "degC"), "day_gain": figure(4.2, "degC")})
    # (1 + 4.2) / 2
    assert warm.mean_gain_c == pytest.approx(2.6)
    with pytest.raises(ValidationError, match="cannot be negative"):
        Cover.model_validate({**fields, "night_gain": figure(-1, "degC")})
    with pytest.raises(ValidationError, match="counted in degC, not in days"):
        Cover.model_validate({**fields, "day_gain": figure(1, "days")})


@pytest.mark.parametrize(("value", "unit"), [(0, "%"), (101, "%"), (80, "degC")])
def test_light_through_a_cover_is_a_share(value: float, unit: str) -> None:
    fields = {"name": "tunnel", "days_earlier": 7, "days_later": 7, "source": SOURCE}
    assert Cover.model_validate(fields).light_share == 1
    assert Cover.model_validate({**fields, "light_through": figure(80, "%")}).light_share == 0.8
    with pytest.raises(ValidationError, match="light_through is a share in %"):
        Cover.model_validate({**fields, "light_through": figure(value, unit)})


def test_a_climate_wants_nights_below_days_and_twelve_of_each() -> None:
    minima = list(CAMBRIDGE["mean_minima_c"])
    minima[6] = 30
    with pytest.raises(ValidationError, match=r"the mean minimum of July, 30 degC, is not below its mean maximum"):
        Climate.model_validate({**CAMBRIDGE, "mean_minima_c": minima})
    with pytest.raises(ValidationError, match="at least 12 items"):
        Climate.model_validate({**CAMBRIDGE, "rain_mm": [10] * 11})


def test_covers_count_for_no_more_than_a_degree_at_night() -> None:
    from rotasolve.files.crops import load_catalogue

    # Conservative for frost: published gains of 1 to 5 degrees C, none on some clear nights (S74, CSU_722, FAO_FROST1).
    gains = {cover.name: cover.night_gain_c for cover in load_catalogue().covers}
    assert gains == {"open ground": 0, "cold frame": 1, "fleece": 1, "low tunnel": 1, "tunnel": 1}


def test_hours_of_sunshine_are_left_out_of_what_is_written_while_unknown() -> None:
    assert "sunshine_hours" not in Climate.model_validate(CAMBRIDGE).model_dump()
    assert Climate.model_validate({**CAMBRIDGE, "sunshine_hours": [4] * 12}).model_dump()["sunshine_hours"] == (4,) * 12
    with pytest.raises(ValidationError, match="less than or equal to 24"):
        Climate.model_validate({**CAMBRIDGE, "sunshine_hours": [25] * 12})


def test_every_cover_warms_days_takes_light_and_warns_of_heat() -> None:
    from rotasolve.files.crops import load_catalogue

    covers = {cover.name: cover for cover in load_catalogue().covers if cover.name != "open ground"}
    # Days: S76 measured 4.2 in a plastic tunnel; fleece 1 to 3 (S82). Light: WSU FS089E, Purdue, a pane of glass.
    assert {name: cover.day_gain_c for name, cover in covers.items()} == {
        "cold frame": 4.2,
        "fleece": 2,
        "low tunnel": 4.2,
        "tunnel": 4.2,
    }
    assert {name: cover.light_share for name, cover in covers.items()} == {
        "cold frame": 0.80,
        "fleece": 0.85,
        "low tunnel": 0.77,
        "tunnel": 0.77,
    }
    assert [
        name for name, cover in covers.items() if "heat" not in cover.caution and "degrees" not in cover.caution
    ] == []
