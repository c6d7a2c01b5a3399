"""Days as people say and type them, against calendars worked out by hand: 12 May 2027 is a Wednesday."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rotasolve.domain.said_days import SAID, is_ambiguous, parse_said_day
from rotasolve.domain.seasons import say_day

WEDNESDAY = date(2027, 5, 12)
DAYS = st.dates(date(1951, 1, 1), date(2199, 12, 31))


@pytest.mark.parametrize(
    "text",
    [
        *("12 May", "12 May 2027", "12. May", "May 12", "May 12, 2027", "12th of May", "12th May 2027", "2027-05-12"),
        *("12/5/2027", "12/05/2027", "12.5.2027", "12.5.", "12/5", "today", " TODAY ", "Wednesday", "this wed"),
    ],
)
def test_one_day_in_all_its_ways(text: str) -> None:
    assert parse_said_day(text, WEDNESDAY) == WEDNESDAY
    assert parse_said_day(text, WEDNESDAY, since=date(2027, 3, 1)) == WEDNESDAY
    assert SAID.fullmatch(text.strip())


@pytest.mark.parametrize(
    ("text", "day"),
    [
        ("yesterday", "2027-05-11"),
        ("tomorrow", "2027-05-13"),
        ("next Monday", "2027-05-17"),
        ("next Wednesday", "2027-05-19"),
        ("last Wednesday", "2027-05-05"),
        ("last Sunday", "2027-05-09"),
        ("next sun", "2027-05-16"),
    ],
)
def test_days_about_today(text: str, day: str) -> None:
    for since in (None, date(2027, 1, 1)):
        assert parse_said_day(text, WEDNESDAY, since).isoformat() == day


def test_a_day_alone_is_past_in_a_diary_and_to_come_in_a_plan() -> None:
    assert parse_said_day("Monday", WEDNESDAY) == date(2027, 5, 10)
    assert parse_said_day("Monday", WEDNESDAY, since=date(2027, 3, 1)) == date(2027, 5, 17)
    assert parse_said_day("1 August", WEDNESDAY) == date(2026, 8, 1)
    assert parse_said_day("1 August", WEDNESDAY, since=date(2027, 3, 1)) == date(2027, 8, 1)
    assert parse_said_day("1 April", WEDNESDAY, since=date(2028, 1, 1)) == date(2028, 4, 1)
    assert parse_said_day("13 May", WEDNESDAY) == date(2026, 5, 13)
    assert parse_said_day("29/2", WEDNESDAY, since=WEDNESDAY) == date(2028, 2, 29)


@given(DAYS, DAYS)
def test_a_whole_date_never_hangs_on_today(day: date, today: date) -> None:
    for text in (day.isoformat(), say_day(day), f"{day.day}/{day.month}/{day.year}"):
        assert parse_said_day(text, today) == day
        assert parse_said_day(text, today, since=today) == day


@given(DAYS.filter(lambda day: (day.month, day.day) != (2, 29)), DAYS)
def test_a_day_without_its_year_is_the_first_since_then(today: date, since: date) -> None:
    if since.year > 2190:
        return
    found = parse_said_day(f"{today.day}/{today.month}", today, since)
    assert (found.day, found.month) == (today.day, today.month)
    assert 0 <= (found - since).days <= 366


@pytest.mark.parametrize("text", ["", "5/13/2027", "31/4/2027", "30 Feb", "12 Mai", "someday", "12", "2027", "1/2/27"])
def test_what_is_no_day_is_refused_with_all_ways_to_write_one(text: str) -> None:
    with pytest.raises(ValueError, match="12/5/2027, 2027-05-12, today or next Monday"):
        parse_said_day(text, WEDNESDAY)


def test_figures_with_the_month_first_are_explained() -> None:
    with pytest.raises(ValueError, match="the day stands before the month"):
        parse_said_day("5/13/2027", WEDNESDAY)
    assert is_ambiguous("12/5/2027")
    assert not is_ambiguous("13/5/2027")
    assert not is_ambiguous("5/5/2027")
    assert not is_ambiguous("12 May 2027")
