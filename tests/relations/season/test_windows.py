"""Windows and courses: frost dates and their chances, risk, covers and hemispheres, by hand and against a table."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rotasolve.domain.catalogue import Cover
from rotasolve.domain.crop import Crop
from rotasolve.domain.site import Frost, Site
from rotasolve.files.crops import load_catalogue
from rotasolve.relations.season.courses import Course
from rotasolve.relations.season.courses import course_of as course_of_growing
from rotasolve.relations.season.frosts import frost_dates, frost_day
from rotasolve.relations.season.growing import Growing, growing
from rotasolve.relations.season.reasons import PoorBeyond
from rotasolve.relations.season.windows import Window, pays, start_days, start_window, windows_of_year
from tests.helpers.climates import INLAND, site_with, warmed
from tests.helpers.tiny import AUTUMN, CATALOGUE, SOURCE, TOMATO, crop, day, figure, site, start

OPEN, TUNNEL = CATALOGUE.cover("open ground"), CATALOGUE.cover("tunnel")
NORTH = Site.model_validate(site())
BEFORE = "weeks before first frost"

# Source S68: Georgetown, Delaware (Research and Education Center, University of Delaware), 24 F.
SPRING_24F = {10: (4, 9), 33: (4, 1), 50: (3, 27), 67: (3, 22), 90: (3, 14)}
AUTUMN_24F = {10: (11, 1), 33: (11, 9), 50: (11, 14), 67: (11, 19), 90: (11, 27)}
# The same source, 32 F.
SPRING_32F = {10: (5, 10), 50: (4, 25), 90: (4, 10)}
AUTUMN_32F = {10: (10, 2), 50: (10, 16), 90: (10, 30)}

SAFE: dict[str, Any] = {
    "last_frost": {"half": "1 May", "safe": "15 May"},
    "first_frost": {"half": "1 October", "safe": "17 September"},
}
SAFE_SOUTH: dict[str, Any] = {
    "last_frost": {"half": "1 November", "safe": "15 November"},
    "first_frost": {"half": "1 April", "safe": "18 March"},
}
"""Safe dates 14 days to the careful side of the half-way ones."""


# Source S68: Georgetown, Delaware (Research and Education Center, University of Delaware), 32 F. The chance in per
# cent that frost comes after the day in spring, or before it in autumn.
DELAWARE_SPRING = {10: (5, 10), 33: (4, 30), 50: (4, 25), 67: (4, 20), 90: (4, 10)}
DELAWARE_AUTUMN = {10: (10, 2), 33: (10, 11), 50: (10, 16), 67: (10, 21), 90: (10, 30)}


def grown(record: Crop, cover: Cover = OPEN, where: Site = NORTH) -> Growing:
    return growing(record, record.starts[0], cover, where)


def course_of(record: Crop, day: date, cover: Cover = OPEN, where: Site = NORTH, picked: int | None = None) -> Course:
    return course_of_growing(grown(record, cover, where), day, picked)


def cold_end(record: Crop, cover: Cover, where: Site) -> date | None:
    """Return the day on which frost ends what is started in June (south: December) of garden year 2027."""
    return grown(record, cover, where).cold_end(date(2027, 12 if where.south else 6, 1))


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
    assert cold_end(tender(level), OPEN, NORTH) == (end and day(end))


def test_a_cover_lets_it_stand_longer() -> None:
    # 1 October + 28 days.
    assert cold_end(tender("tender"), TUNNEL, NORTH) == date(2027, 10, 29)


def test_a_window_that_never_opens_is_none() -> None:
    slow = crop("melon", "cucurbits", starts=[start(2, 133, 8)], hardiness={"level": "tender", "source": SOURCE})
    # 15 May + 133 days + 7 of picking = 2 October, one day after the frost; 132 days still fit.
    assert start_window(slow, slow.starts[0], OPEN, NORTH, 2027) is None
    fast = slow.model_copy(update={"starts": (crop("melon", "cucurbits", starts=[start(2, 132, 8)]).starts[0],)})
    assert start_window(fast, fast.starts[0], OPEN, NORTH, 2027) == Window(date(2027, 5, 15), date(2027, 5, 15))


def test_the_course_of_a_tender_crop_ends_at_the_frost() -> None:
    # Set out on 15 July: ripe after 60 days on 13 September, picked to 1 October instead of 7 November:
    # 19 of 56 days = 33 %. The ground is taken to the end of that half month.
    course = course_of(TOMATO, date(2027, 7, 15), OPEN, NORTH)
    assert (course.first_harvest, course.last_harvest) == (date(2027, 9, 13), date(2027, 10, 1))
    assert (course.share_percent, course.clear) == (33, date(2027, 10, 15))


def test_seed_is_sown_indoors_so_many_weeks_before() -> None:
    raised = crop("beet", "goosefoots", starts=[{**start(2, 60, way="set out"), "weeks_indoors": figure(6, "weeks")}])
    course = course_of(raised, date(2027, 5, 15), OPEN, NORTH)
    assert course.raise_from == date(2027, 4, 3)


@pytest.mark.parametrize(("days", "repeated"), [(6, 10), (7, 12), (28, 50), (56, 100), (70, 100)])
def test_the_share_picked(days: int, repeated: int) -> None:
    # Of a season of 56 days; what is lifted once is all there from its first ripe day on.
    first = date(2027, 7, 14)
    last = first + timedelta(days=days - 1)
    assert int(100 * grown(TOMATO).share(date(2027, 5, 15), first, last)) == repeated
    once = TOMATO.model_copy(update={"picking": "once"})
    assert grown(once).share(date(2027, 5, 15), first, last) == 1


def test_the_frost_after_an_autumn_start_is_next_years() -> None:
    assert grown(TOMATO).cold_end(date(2027, 10, 1)) == date(2027, 10, 1)
    assert grown(TOMATO).cold_end(date(2027, 10, 2)) == date(2028, 10, 1)


def test_one_start_in_each_half_month() -> None:
    window = Window(date(2027, 4, 10), date(2027, 5, 16))
    year = (date(2027, 1, 1), date(2027, 12, 31))
    assert start_days(window, *year) == [date(2027, 4, 10), date(2027, 4, 16), date(2027, 5, 1), date(2027, 5, 16)]
    # Cut to the plan: nothing before its first day.
    assert start_days(window, date(2027, 5, 3), year[1]) == [date(2027, 5, 3), date(2027, 5, 16)]
    assert start_days(window, date(2027, 6, 1), year[1]) == []


def place(latitude: float = 50, **more: Any) -> Site:
    return Site.model_validate(site(latitude, **more))


def hardy_as(level: str, *starts: dict[str, Any], weeks: float = 8) -> Crop:
    """Return a crop of that hardiness, started from two to sixteen weeks after the last frost, ripe in 60 days."""
    ways = list(starts) or [start(2, 60, 16)]
    return crop("beet", "goosefoots", weeks=weeks, hardiness={"level": level, "source": SOURCE}, starts=ways)


def window_of(record: Crop, where: Site, cover: Cover = OPEN) -> Window | None:
    return start_window(record, record.starts[0], cover, where, 2027)


@pytest.mark.parametrize(("table", "spring"), [(SPRING_24F, True), (AUTUMN_24F, False)])
@pytest.mark.parametrize("share", [10, 33, 50, 67, 90])
def test_the_normal_curve_gives_the_colder_delaware_table(
    table: dict[int, tuple[int, int]], spring: bool, share: int
) -> None:
    frost = Frost(half=table[50], safe=table[10])
    found = date(2027, *table[50]) + frost_day(frost, share / 100, spring)
    assert abs((found - date(2027, *table[share])).days) <= 1


@pytest.mark.parametrize(("risk", "share"), [("cautious", 10), ("usual", 50), ("early", 90)])
def test_tender_crops_are_held_to_the_delaware_date_of_the_risk(risk: str, share: int) -> None:
    where = place(
        38.7,
        risk=risk,
        last_frost={"half": SPRING_32F[50], "safe": SPRING_32F[10]},
        first_frost={"half": AUTUMN_32F[50], "safe": AUTUMN_32F[10]},
    )
    tender = hardy_as("tender", start(0, 30, 8))
    found = start_window(tender, tender.starts[0], OPEN, where, 2027)
    end = cold_end(tender, OPEN, where)
    assert found is not None
    assert end is not None
    assert abs((found.earliest - date(2027, *SPRING_32F[share])).days) <= 1
    assert abs((end - date(2027, *AUTUMN_32F[share])).days) <= 1


@pytest.mark.parametrize(
    ("level", "risk", "earliest", "latest"),
    [
        # Two weeks after the last frost; at the other end 60 days to ripen and 7 to pick before the first frost
        # (half-hardy: 21 days more), or sixteen weeks after the last frost.
        ("tender", "cautious", "2027-05-29", "2027-07-12"),
        ("tender", "usual", "2027-05-15", "2027-07-26"),
        ("tender", "early", "2027-05-01", "2027-08-07"),  # 17 April + 112 days
        ("very tender", "cautious", "2027-05-29", "2027-07-12"),
        ("half-hardy", "cautious", "2027-05-29", "2027-08-02"),
        ("half-hardy", "usual", "2027-05-15", "2027-08-16"),
        ("hardy", "cautious", "2027-05-15", "2027-08-21"),
        ("hardy", "usual", "2027-05-15", "2027-08-21"),
        ("hardy", "early", "2027-05-15", "2027-08-21"),
    ],
)
def test_the_risk_moves_every_window_but_that_of_hardy_crops(level: str, risk: str, earliest: str, latest: str) -> None:
    assert window_of(hardy_as(level), place(risk=risk, **SAFE)) == Window(day(earliest), day(latest))


@pytest.mark.parametrize(
    ("risk", "earliest", "latest"),
    [
        ("cautious", "2027-11-29", "2028-01-11"),  # 18 March - 67 days
        ("usual", "2027-11-15", "2028-01-25"),  # 1 April - 67 days, with a leap day between
        ("early", "2027-11-01", "2028-02-07"),  # 18 October + 112 days
    ],
)
def test_in_the_south_a_window_passes_new_year(risk: str, earliest: str, latest: str) -> None:
    found = window_of(hardy_as("tender"), place(-50, risk=risk, **SAFE_SOUTH))
    assert found == Window(day(earliest), day(latest))


def test_in_the_south_the_autumn_frost_ends_the_summer_begun_before_new_year() -> None:
    record = hardy_as("tender")
    # Started 10 January: ripe 10 March, picked to 1 April: 23 of 56 days = 41 %; the ground is free after the 15th.
    course = course_of(record, date(2028, 1, 10), OPEN, place(-50))
    assert (course.first_harvest, course.last_harvest) == (date(2028, 3, 10), date(2028, 4, 1))
    assert (course.share_percent, course.clear) == (41, date(2028, 4, 15))


@pytest.mark.parametrize("share", [0.1, 0.3, 0.5, 0.8, 0.9])
def test_the_south_is_as_careful_as_the_north(share: float) -> None:
    def steps(where: Site) -> list[timedelta]:
        pairs = zip(frost_dates(where, 2026, share), frost_dates(where, 2026, 0.5), strict=True)
        return [found - half for found, half in pairs]

    assert steps(place(-50, **SAFE_SOUTH)) == steps(place(**SAFE))
    assert steps(place(**SAFE))[0] == -steps(place(**SAFE))[1]


@pytest.mark.parametrize(
    ("record", "open_air", "under_tunnel"),
    [
        # The tunnel gives 21 days in spring and 28 in autumn. Tender: 29 October - 67 days.
        (hardy_as("tender", start(2, 60, 20)), ("05-15", "07-26"), ("04-24", "08-23")),
        # The end of a spring window is no autumn end.
        (hardy_as("hardy", start(2, 60, 4)), ("05-15", "05-29"), ("04-24", "05-29")),
        # Counted from the first frost: 10 and 4 weeks before it. The beginning is no spring end.
        (
            hardy_as("hardy", start(10, 60, 4, unit=BEFORE)),
            ("07-23", "09-03"),
            ("07-23", "10-01"),
        ),
        (hardy_as("hardy", start(0, 60, 2, unit=AUTUMN)), ("10-01", "10-15"), ("10-01", "11-12")),
    ],
)
def test_a_cover_lengthens_the_season_at_both_ends(
    record: Crop, open_air: tuple[str, str], under_tunnel: tuple[str, str]
) -> None:
    for cover, (earliest, latest) in ((OPEN, open_air), (TUNNEL, under_tunnel)):
        assert window_of(record, place(), cover) == Window(day(f"2027-{earliest}"), day(f"2027-{latest}"))


@pytest.mark.parametrize("latitude", [45, -45])
def test_no_shipped_cover_opens_later_or_ends_a_very_tender_crop_sooner(latitude: float) -> None:
    catalogue, where, longer = load_catalogue(), place(latitude), 0
    bare = catalogue.cover("open ground")
    for cover in catalogue.covers:
        for record in catalogue.crops:
            for way in record.starts:
                found = start_window(record, way, bare, where, 2027)
                covered = start_window(record, way, cover, where, 2027)
                if found is None:
                    continue
                assert covered is not None, f"{record.name} under {cover.name}"
                assert covered.earliest <= found.earliest
                # A cover takes light: what grows well in the open may pay under it for a shorter time.
                if record.hardiness.level == "very tender":
                    # Within a week: the last start is measured by the best one under the same cover.
                    assert covered.latest >= found.latest - timedelta(days=7), f"{record.name} under {cover.name}"
                longer += covered != found
    assert longer > len(catalogue.crops)


@given(st.integers(0, 72), st.integers(0, 72), st.booleans())
def test_the_later_the_start_the_less_frost_leaves(one: int, other: int, covered: bool) -> None:
    # The open window runs from 15 May to 26 July, 72 days.
    record, cover = hardy_as("tender"), TUNNEL if covered else OPEN
    early, late = (
        course_of(record, date(2027, 5, 15) + timedelta(days=step), cover, place()) for step in sorted((one, other))
    )
    assert 100 >= early.share_percent >= late.share_percent >= 7 * 100 // 56
    end = cold_end(record, cover, place())
    assert late.last_harvest is not None
    assert end is not None
    assert late.last_harvest <= end


@pytest.mark.parametrize(
    ("begin", "cover", "share"),
    # Ripe after 60 days; of 56 days of picking the frost of 1 October (tunnel: 29 October) leaves so many.
    [
        ("2027-06-08", "open ground", 100),  # 7 August to 1 October: 56 days
        ("2027-06-09", "open ground", 98),  # 55 days
        ("2027-07-26", "open ground", 14),  # 24 September: 8 days
        ("2027-07-26", "tunnel", 64),  # 36 days
    ],
)
def test_frost_takes_its_share_of_the_picking(begin: str, cover: str, share: int) -> None:
    record = hardy_as("tender")
    under = TUNNEL if cover == "tunnel" else OPEN
    assert course_of(record, day(begin), under, place()).share_percent == share


def test_half_the_season_kept_by_choice_is_half_the_share() -> None:
    record = hardy_as("tender")
    # Of 56 days 28: from 14 July, so to 10 August, and the ground is free after the 15th.
    course = course_of(record, date(2027, 5, 15), OPEN, place(), 28)
    assert (course.share_percent, course.last_harvest, course.clear) == (50, date(2027, 8, 10), date(2027, 8, 15))


def test_an_indoor_sowing_may_lie_in_the_year_before() -> None:
    raised = hardy_as("hardy", {**start(-12, 60, way="set out"), "weeks_indoors": figure(10, "weeks")})
    # 1 May - 84 days = 6 February; 70 days earlier is 28 November.
    found = window_of(raised, place())
    assert found == Window(date(2027, 2, 6), date(2027, 2, 6))
    assert course_of(raised, date(2027, 2, 6), OPEN, place()).raise_from == date(2026, 11, 28)


def test_a_hot_summer_parts_a_window_and_both_ends_say_so() -> None:
    # Days of July have a mean of 22.9 degC there; lettuce sown to be ripe in them gives next to nothing.
    lettuce, where = load_catalogue().crop("head lettuce"), site_with(warmed(INLAND, 2), latitude=40)
    found = growing(lettuce, lettuce.starts[0], OPEN, where)
    spring, autumn = windows_of_year(lettuce, lettuce.starts[0], OPEN, where, 2027)
    said = [(one.side, one.day) for one in (spring.closes[0], autumn.opens[0]) if isinstance(one, PoorBeyond)]
    assert said == [("after", spring.latest), ("before", autumn.earliest)]
    days = [spring.latest + timedelta(days=n) for n in range((autumn.earliest - spring.latest).days + 1)]
    assert len(days) > 21
    assert [day for day in days if pays(found, day)] == [spring.latest, autumn.earliest]
