"""The time grid: half months, garden years, and dates as growers write them."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from rotasolve.domain.household import Target
from rotasolve.domain.seasons import (
    first_day,
    garden_year,
    last_day,
    parse_date,
    parse_day_of_year,
    parse_month,
    period_of,
    say_day,
    say_year,
    year_end,
    year_start,
)

DAYS = [date(2027, 1, 1) + timedelta(days=number) for number in range(3 * 365)]


def test_half_months_tile_the_years() -> None:
    for day in DAYS:
        assert first_day(period_of(day)) <= day <= last_day(period_of(day))
        assert period_of(day + timedelta(days=1)) - period_of(day) == (day == last_day(period_of(day)))


@pytest.mark.parametrize(
    ("day", "last"),
    [
        ("2027-02-15", "2027-02-15"),
        ("2027-02-16", "2027-02-28"),
        ("2028-02-16", "2028-02-29"),
        ("2027-12-31", "2027-12-31"),
    ],
)
def test_a_half_month_ends_on_the_15th_or_with_the_month(day: str, last: str) -> None:
    assert last_day(period_of(date.fromisoformat(day))) == date.fromisoformat(last)


@pytest.mark.parametrize(
    ("day", "north", "south"),
    [("2027-01-01", 2027, 2026), ("2027-06-30", 2027, 2026), ("2027-07-01", 2027, 2027), ("2027-12-31", 2027, 2027)],
)
def test_garden_years(day: str, north: int, south: int) -> None:
    assert garden_year(date.fromisoformat(day), south=False) == north
    assert garden_year(date.fromisoformat(day), south=True) == south


@pytest.mark.parametrize("south", [False, True])
def test_a_garden_year_holds_its_ends(south: bool) -> None:
    for day in DAYS:
        year = garden_year(day, south)
        assert year_start(year, south) <= day <= year_end(year, south)
    assert year_end(2027, south) + timedelta(days=1) == year_start(2028, south)


def test_years_and_days_are_said_plainly() -> None:
    assert [say_year(2027, south) for south in (False, True)] == ["2027", "2027/28"]
    assert say_year(2099, south=True) == "2099/00"
    assert say_day(date(2027, 5, 2)) == "2 May 2027"


@pytest.mark.parametrize("text", ["12 May", "12. may", "May 12", "05-12", "12 MAY", (5, 12)])
def test_a_day_of_the_year(text: object) -> None:
    assert parse_day_of_year(text) == (5, 12)


@pytest.mark.parametrize("text", ["29 February", "31 June", "0 May", "13-01", "12 Ma", "May", "Mayday 1", ""])
def test_what_is_no_day_of_every_year_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match="day"):
        parse_day_of_year(text)


@pytest.mark.parametrize("text", ["2027-05-12", "12 May 2027", "May 12 2027", date(2027, 5, 12)])
def test_a_date(text: object) -> None:
    assert parse_date(text) == date(2027, 5, 12)


def test_a_leap_day_is_a_date_in_its_year_only() -> None:
    assert parse_date("2028-02-29") == date(2028, 2, 29)
    with pytest.raises(ValueError, match="not a date"):
        parse_date("2027-02-29")


@pytest.mark.parametrize(
    ("text", "fine"), [("1949-12-31", False), ("1950-01-01", True), ("2200-12-31", True), ("2201-01-01", False)]
)
def test_dates_lie_within_reason(text: str, fine: bool) -> None:
    if fine:
        assert parse_date(text).isoformat() == text
    else:
        with pytest.raises(ValueError, match="1950 to 2200"):
            parse_date(text)


@pytest.mark.parametrize(("text", "month"), [("June", 6), ("jun", 6), ("Sept", 9), (12, 12)])
def test_a_month(text: object, month: int) -> None:
    assert parse_month(text) == month


@pytest.mark.parametrize("text", ["Ju", "Juno", "13", 13, 0, True, ""])
def test_what_is_no_month_is_refused(text: object) -> None:
    with pytest.raises(ValueError, match="not a month"):
        parse_month(text)


@pytest.mark.parametrize(
    ("first", "last", "months"),
    [("July", "September", (7, 8, 9)), ("June", "June", (6,)), ("November", "February", (11, 12, 1, 2))],
)
def test_fresh_months_may_pass_new_year(first: str, last: str, months: tuple[int, ...]) -> None:
    target = Target.model_validate({"crop": "kale", "kg": 1, "fresh_from": first, "fresh_to": last})
    assert target.fresh_months == months
