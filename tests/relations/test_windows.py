"""Windows and frost dates, by hand and against a published table of frost probabilities."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from rotasolve.domain.crop import Crop
from rotasolve.domain.site import Frost, Site
from rotasolve.relations.season.frosts import frost_dates, frost_day
from rotasolve.relations.season.windows import (
    Window,
    course_of,
    first_frost_after,
    share_picked,
    standing_end,
    start_days,
    start_window,
)
from tests.helpers.tiny import CATALOGUE, SOURCE, TOMATO, crop, day, figure, site, start

OPEN, TUNNEL = CATALOGUE.cover("open ground"), CATALOGUE.cover("tunnel")
NORTH = Site.model_validate(site())

# Source S68: Georgetown, Delaware (Research and Education Center, University of Delaware), 32 F. The chance in per
# cent that frost comes after the day in spring, or before it in autumn.
DELAWARE_SPRING = {10: (5, 10), 33: (4, 30), 50: (4, 25), 67: (4, 20), 90: (4, 10)}
DELAWARE_AUTUMN = {10: (10, 2), 33: (10, 11), 50: (10, 16), 67: (10, 21), 90: (10, 30)}


@pytest.mark.parametrize(("table", "spring"), [(DELAWARE_SPRING, True), (DELAWARE_AUTUMN, False)])
@pytest.mark.parametrize("share", [10, 33, 50, 67, 90])
def test_the_normal_curve_gives_the_delaware_table(table: dict[int, tuple[int, int]], spring: bool, share: int) -> None:
    # Only the 50 % and the 10 % date are told; the others follow within a day.
    frost = Frost(half=table[50], safe=table[10])
    found = date(2027, *table[50]) + frost_day(frost, share / 100, spring)
    assert abs((found - date(2027, *table[share])).days) <= 1


def test_the_told_dates_are_kept() -> None:
    frost = Frost(half=(4, 25), safe=(5, 10), daring=(4, 15))
    # 25 April to 10 May is 15 days later, to 15 April 10 days earlier.
    assert [frost_day(frost, share, True).days for share in (0.1, 0.5, 0.9)] == [15, 0, -10]


def test_without_a_safe_date_the_spread_is_used() -> None:
    # 1.2816 standard deviations lie between 50 % and 10 %: 10 days -> 13, the assumed 14 days -> 18.
    assert frost_day(Frost(half=(5, 1), spread_days=10), 0.1, True) == timedelta(days=13)
    assert frost_day(Frost(half=(5, 1)), 0.1, True) == timedelta(days=18)
    # In autumn the safe side is the early one.
    assert frost_day(Frost(half=(10, 1), spread_days=10), 0.1, False) == timedelta(days=-13)


def test_frost_dates_lie_in_their_garden_year() -> None:
    assert frost_dates(NORTH, 2027) == (date(2027, 5, 1), date(2027, 10, 1))
    # South: garden year 2027 runs from July 2027 to June 2028.
    assert frost_dates(Site.model_validate(site(-50)), 2027) == (date(2027, 11, 1), date(2028, 4, 1))


def tender(level: str) -> Crop:
    return crop("beet", "goosefoots", hardiness={"level": level, "source": SOURCE})


@pytest.mark.parametrize(
    ("level", "end"),
    # Common practice: tender crops end at the first frost, half-hardy ones three weeks later.
    [("very tender", "2027-10-01"), ("tender", "2027-10-01"), ("half-hardy", "2027-10-22"), ("hardy", None)],
)
def test_frost_ends_what_is_not_hardy(level: str, end: str | None) -> None:
    assert standing_end(tender(level), OPEN, NORTH, 2027) == (end and day(end))


def test_a_cover_lets_it_stand_longer() -> None:
    # 1 October + 28 days.
    assert standing_end(tender("tender"), TUNNEL, NORTH, 2027) == date(2027, 10, 29)


def test_a_window_that_never_opens_is_none() -> None:
    slow = crop("melon", "cucurbits", starts=[start(2, 133, 8)], hardiness={"level": "tender", "source": SOURCE})
    # 15 May + 133 days + 7 of picking = 2 October, one day after the frost; 132 days still fit.
    assert start_window(slow, slow.starts[0], OPEN, NORTH, 2027) is None
    fast = slow.model_copy(update={"starts": (crop("melon", "cucurbits", starts=[start(2, 132, 8)]).starts[0],)})
    assert start_window(fast, fast.starts[0], OPEN, NORTH, 2027) == Window(date(2027, 5, 15), date(2027, 5, 15))


def test_the_course_of_a_tender_crop_ends_at_the_frost() -> None:
    # Set out on 15 July: ripe after 60 days on 13 September, picked to 1 October instead of 7 November:
    # 19 of 56 days = 33 %. The ground is taken to the end of that half month.
    course = course_of(TOMATO, TOMATO.starts[0], date(2027, 7, 15), OPEN, NORTH, 2027)
    assert (course.first_harvest, course.last_harvest) == (date(2027, 9, 13), date(2027, 10, 1))
    assert (course.share_percent, course.clear) == (33, date(2027, 10, 15))


def test_seed_is_sown_indoors_so_many_weeks_before() -> None:
    raised = crop("beet", "goosefoots", starts=[{**start(2, 60, way="set out"), "weeks_indoors": figure(6, "weeks")}])
    course = course_of(raised, raised.starts[0], date(2027, 5, 15), OPEN, NORTH, 2027)
    assert course.raise_from == date(2027, 4, 3)


@pytest.mark.parametrize(
    ("days", "repeated", "once"), [(6, 10, 0), (7, 12, 100), (28, 50, 100), (56, 100, 100), (70, 100, 100)]
)
def test_the_share_picked(days: int, repeated: int, once: int) -> None:
    # Of a season of 56 days; what is lifted once needs a week.
    first = date(2027, 7, 1)
    last = first + timedelta(days=days - 1)
    assert share_picked(TOMATO, first, last) == repeated
    assert share_picked(TOMATO.model_copy(update={"picking": "once"}), first, last) == once


def test_the_frost_after_an_autumn_start_is_next_years() -> None:
    end = date(2027, 10, 1)
    assert first_frost_after(end, date(2027, 10, 1)) == end
    assert first_frost_after(end, date(2027, 10, 2)) == date(2028, 9, 30)


def test_one_start_in_each_half_month() -> None:
    window = Window(date(2027, 4, 10), date(2027, 5, 16))
    year = (date(2027, 1, 1), date(2027, 12, 31))
    assert start_days(window, *year) == [date(2027, 4, 10), date(2027, 4, 16), date(2027, 5, 1), date(2027, 5, 16)]
    # Cut to the plan: nothing before its first day.
    assert start_days(window, date(2027, 5, 3), year[1]) == [date(2027, 5, 3), date(2027, 5, 16)]
    assert start_days(window, date(2027, 6, 1), year[1]) == []
