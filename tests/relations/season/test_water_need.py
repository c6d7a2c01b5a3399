"""Litres by bed and week, by hand."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rotasolve.domain.climate import Climate
from rotasolve.domain.growth import WaterUse
from rotasolve.domain.plan import Planting
from rotasolve.relations.season.daily_curves import day_number
from rotasolve.relations.season.water_need import (
    WeekOfBed,
    coefficient,
    rain_mm,
    reference_year,
    strip_m2,
    weeks_of_water,
)
from tests.helpers.climates import CAMBRIDGE
from tests.helpers.tiny import SOURCE, bed, crop, planting

# 20 + 30 + 40 + 10 = 100 days.
USE = WaterUse(
    initial=0.6,
    middle=1.1,
    end=0.8,
    initial_days=20,
    development_days=30,
    middle_days=40,
    late_days=10,
    source=(SOURCE,),
)
DRY = Climate.model_validate({key: value for key, value in CAMBRIDGE.items() if key != "rain_mm"})
WET = Climate.model_validate(CAMBRIDGE)
BEET = crop("beet", "goosefoots", water=USE.model_dump())
WILD = crop("wild", "goosefoots")
LATITUDE = 52.2


@pytest.mark.parametrize(
    # Half-way through development: 0.6 + 0.5 / 2; half-way through the late stage: 1.1 - 0.3 / 2.
    ("share", "expected"),
    [(0.0, 0.6), (0.2, 0.6), (0.35, 0.85), (0.5, 1.1), (0.9, 1.1), (0.95, 0.95), (1.0, 0.8)],
)
def test_the_coefficient_runs_through_its_stages(share: float, expected: float) -> None:
    assert coefficient(USE, share) == pytest.approx(expected)


def weeks(plantings: list[Planting], climate: Climate = DRY, **more: Any) -> tuple[WeekOfBed, ...]:
    beds = {"bed": bed(**more)}
    crops = {record.name: record for record in (BEET, WILD)}
    return weeks_of_water(plantings, beds, crops, climate, LATITUDE, date(2027, 1, 1), date(2027, 12, 31))


def test_a_full_week_by_hand() -> None:
    # 100 days from Tuesday 1 June; the week from 14 June holds days 13 to 19, all initial: 0.6 of the reference on
    # one strip of 60 x 120 cm = 0.72 m2. 1 mm on 1 m2 is 1 litre.
    one = planting("beet", (1,), "2027-06-01", "2027-09-15", first="2027-08-20", last_harvest="2027-09-09")
    found = {week.monday: week for week in weeks([one])}
    reference = reference_year(DRY, LATITUDE)
    first = day_number(date(2027, 6, 14)) - 1
    expected = 0.6 * sum(reference[first : first + 7]) * 0.72
    assert found[date(2027, 6, 14)].litres == pytest.approx(expected)
    assert dict(found[date(2027, 6, 14)].by_crop) == pytest.approx({"beet": expected})


def test_the_first_and_last_week_count_only_days_in_the_ground() -> None:
    one = planting("beet", (1,), "2027-06-06", "2027-09-15", first="2027-08-20", last_harvest="2027-09-13")
    found = weeks([one])
    # Sunday 6 June alone, and Monday 13 September; the ground is bare from then to 15 September.
    assert found[0].monday == date(2027, 5, 31)
    assert found[-1].monday == date(2027, 9, 13)
    reference = reference_year(DRY, LATITUDE)
    assert found[0].litres == pytest.approx(0.6 * reference[day_number(date(2027, 6, 6)) - 1] * 0.72)
    assert found[-1].litres == pytest.approx(0.8 * reference[day_number(date(2027, 9, 13)) - 1] * 0.72)


def test_the_worked_example_of_90_litres() -> None:
    # FAO-56 equation 58: 3.88 mm a day, coefficient 1.15, 1.2 x 2.4 m: 7 * 3.88 * 1.15 * 2.88 = 90.0 litres a week.
    assert 7 * 3.88 * 1.15 * strip_m2(bed(strips=4)) * 4 == pytest.approx(90.0, abs=0.1)
    # Our own sum with that coefficient all through differs by its reference only.
    flat = crop("beet", "goosefoots", water={**USE.model_dump(), "initial": 1.15, "middle": 1.15, "end": 1.15})
    one = planting("beet", (1, 2, 3, 4), "2027-06-28", "2027-07-31")
    (week, *_) = weeks_of_water(
        [one], {"bed": bed(strips=4)}, {"beet": flat}, DRY, LATITUDE, date(2027, 6, 28), date(2027, 7, 4)
    )
    reference = reference_year(DRY, LATITUDE)
    first = day_number(date(2027, 6, 28)) - 1
    assert week.litres == pytest.approx(90.0 * sum(reference[first : first + 7]) / (7 * 3.88), abs=0.1)


def test_rain_is_taken_off_in_the_open_and_not_under_film() -> None:
    one = planting("beet", (1,), "2027-06-01", "2027-09-15")
    bare, fleece, tunnel = (weeks([one], WET, cover=cover) for cover in ("open ground", "fleece", "tunnel"))
    dry = weeks([one], DRY)
    assert [week.litres for week in tunnel] == [week.litres for week in dry]
    assert bare == fleece
    # June: 52 mm in 30 days, 7 days on 0.72 m2.
    place = next(number for number, week in enumerate(bare) if week.monday == date(2027, 6, 14))
    assert dry[place].litres - bare[place].litres == pytest.approx(52 / 30 * 7 * 0.72)
    assert rain_mm(WET, date(2027, 6, 14)) == pytest.approx(52 / 30)
    assert rain_mm(DRY, date(2027, 6, 14)) == 0


def test_rain_beyond_the_need_is_lost_and_never_negative() -> None:
    deluge = Climate.model_validate({**CAMBRIDGE, "rain_mm": (900,) * 12})
    assert {week.litres for week in weeks([planting("beet", (1,), "2027-06-01", "2027-09-15")], deluge)} == {0.0}


def test_a_crop_without_coefficients_is_named_not_guessed() -> None:
    found = weeks(
        [planting("wild", (1,), "2027-06-01", "2027-06-15"), planting("beet", (2,), "2027-06-01", "2027-06-15")]
    )
    assert all(week.unknown == ("wild",) for week in found)
    assert all([name for name, _ in week.by_crop] == ["beet"] for week in found)


@given(st.integers(1, 4), st.integers(0, 300), st.integers(1, 200))
def test_water_grows_with_the_strips_and_ends_with_the_planting(strips: int, start: int, days: int) -> None:
    begin = date(2027, 1, 1) + timedelta(days=start)
    end = begin + timedelta(days=days)
    one = planting("beet", (1,), begin.isoformat(), end.isoformat())
    more = planting("beet", tuple(range(1, strips + 1)), begin.isoformat(), end.isoformat())
    lone, all_ = weeks([one], strips=4), weeks([more], strips=4)
    assert [week.litres * strips for week in lone] == pytest.approx([week.litres for week in all_])
    assert all(week.monday <= end and week.monday + timedelta(days=6) >= begin for week in lone)
