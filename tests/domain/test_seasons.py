"""The time grid: half months, garden years, and dates as growers write them and as they are easily misread."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from rotasolve.domain.household import Target
from rotasolve.domain.seasons import (
    MONTHS,
    PERIODS_PER_YEAR,
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

DAYS = st.dates(date(1950, 1, 1), date(2200, 12, 31))
PERIODS = st.integers(1950 * PERIODS_PER_YEAR, 2201 * PERIODS_PER_YEAR - 1)
COMMON_DAYS = DAYS.filter(lambda day: (day.month, day.day) != (2, 29))
"""Days that every year has."""


@given(PERIODS)
def test_a_half_month_is_found_from_both_its_ends(period: int) -> None:
    assert period_of(first_day(period)) == period == period_of(last_day(period))
    assert last_day(period) + timedelta(days=1) == first_day(period + 1)
    assert first_day(period).day == (16 if period % 2 else 1)
    assert 13 <= (last_day(period) - first_day(period)).days + 1 <= 16


@given(DAYS)
@example(date(2028, 2, 28))
@example(date(2028, 2, 29))
@example(date(2027, 12, 31))
def test_half_months_tile_the_years(day: date) -> None:
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


@given(DAYS, st.booleans())
def test_a_day_lies_in_its_garden_year(day: date, south: bool) -> None:
    year = garden_year(day, south)
    assert year_start(year, south) <= day <= year_end(year, south)
    assert garden_year(year_start(year, south), south) == year == garden_year(year_end(year, south), south)
    assert year_end(year, south) + timedelta(days=1) == year_start(year + 1, south)
    # A garden year is whole half months.
    periods = range(period_of(year_start(year, south)), period_of(year_end(year, south)) + 1)
    assert len(periods) == PERIODS_PER_YEAR


@given(DAYS)
def test_the_southern_year_begins_half_a_year_later(day: date) -> None:
    north, south = garden_year(day, False), garden_year(day, True)
    assert north - south == (1 if day.month <= 6 else 0)


def test_years_and_days_are_said_plainly() -> None:
    assert [say_year(2027, south) for south in (False, True)] == ["2027", "2027/28"]
    assert say_year(2099, south=True) == "2099/00"
    assert say_day(date(2027, 5, 2)) == "2 May 2027"


@pytest.mark.parametrize("text", ["12 May", "12. may", "May 12", "05-12", "12 MAY", (5, 12)])
def test_a_day_of_the_year(text: object) -> None:
    assert parse_day_of_year(text) == (5, 12)


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


@pytest.mark.parametrize(
    ("first", "last", "months"),
    [("July", "September", (7, 8, 9)), ("June", "June", (6,)), ("November", "February", (11, 12, 1, 2))],
)
def test_fresh_months_may_pass_new_year(first: str, last: str, months: tuple[int, ...]) -> None:
    target = Target.model_validate({"crop": "kale", "kg": 1, "fresh_from": first, "fresh_to": last})
    assert target.fresh_months == months


@given(DAYS)
def test_a_date_in_figures_is_read_back(day: date) -> None:
    assert parse_date(day.isoformat()) == day


@given(COMMON_DAYS, st.integers(3, 9))
def test_a_date_in_words_is_read_back(day: date, letters: int) -> None:
    assert parse_date(say_day(day)) == day
    month = MONTHS[day.month - 1][:letters]
    assert parse_date(f"{month} {day.day}, {day.year}") == day
    assert parse_day_of_year(f"{day.day}. {month.upper()}") == (day.month, day.day)
    assert parse_month(month.lower()) == day.month


@pytest.mark.parametrize(
    "text",
    [
        "12/05/2027",  # 12 May or 5 December
        "05/12/2027",
        "12-05-2027",
        "12.05.2027",
        "2027-5-12",
        "2027",
        "12 May",
        "12 May 27",
        "31 April 2027",
        "2027-04-31",
        "30 February 2028",
        "12 Mai 2027",
        "",
        None,
        True,
    ],
)
def test_a_date_that_could_mean_another_day_or_none_is_refused(text: object) -> None:
    with pytest.raises(ValueError, match="date"):
        parse_date(text)


@pytest.mark.parametrize(
    "text",
    [
        "29 February",
        "31 June",
        "0 May",
        "13-01",
        "12 Ma",
        "May",
        "Mayday 1",
        "",
        "05/12",
        "5.12",
        "32 May",
        "30 Feb",
        "00-10",
        "05-00",
        "12 Mayo",
        "Ma 12",
        512,
        None,
    ],
)
def test_what_is_no_day_of_every_year_is_refused(text: object) -> None:
    with pytest.raises(ValueError, match="day"):
        parse_day_of_year(text)


def test_figures_alone_are_month_and_day_in_that_order() -> None:
    assert parse_day_of_year("03-04") == (3, 4)
    with pytest.raises(ValueError, match="not a day that every year has"):
        parse_day_of_year("25-12")


@pytest.mark.parametrize(
    ("text", "month"),
    [
        ("Mar", 3),
        ("May", 5),
        ("June", 6),
        ("Jun", 6),
        ("jun", 6),
        ("Jul", 7),
        (" august ", 8),
        ("SEP", 9),
        ("Sept", 9),
        (12, 12),
    ],
)
def test_months_with_like_beginnings_are_told_apart(text: object, month: int) -> None:
    assert parse_month(text) == month


@pytest.mark.parametrize(
    "text", ["Ma", "J", "Ju", "Juno", "Marc h", "Mayy", "Juin", "13", 13, "0", 0, -1, 1.0, True, False, "", None]
)
def test_what_is_no_month_is_refused(text: object) -> None:
    with pytest.raises(ValueError, match="not a month"):
        parse_month(text)
