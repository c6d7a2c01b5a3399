"""Windows seen from the site: its risk, its covers, its hemisphere, and frost probabilities told through it."""

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
from rotasolve.relations.season.frosts import frost_dates, frost_day
from rotasolve.relations.season.windows import Window, course_of, standing_end, start_window
from tests.helpers.tiny import AUTUMN, CATALOGUE, SOURCE, crop, day, figure, site, start

OPEN, TUNNEL = CATALOGUE.cover("open ground"), CATALOGUE.cover("tunnel")
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
    end = standing_end(tender, OPEN, where, 2027)
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
    course = course_of(record, record.starts[0], date(2028, 1, 10), OPEN, place(-50), 2027)
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
def test_no_shipped_cover_shortens_a_shipped_window(latitude: float) -> None:
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
                assert covered.latest >= found.latest
                longer += covered != found
    assert longer > len(catalogue.crops)


@given(st.integers(0, 72), st.integers(0, 72), st.booleans())
def test_the_later_the_start_the_less_frost_leaves(one: int, other: int, covered: bool) -> None:
    # The open window runs from 15 May to 26 July, 72 days.
    record, cover = hardy_as("tender"), TUNNEL if covered else OPEN
    early, late = (
        course_of(record, record.starts[0], date(2027, 5, 15) + timedelta(days=step), cover, place(), 2027)
        for step in sorted((one, other))
    )
    assert 100 >= early.share_percent >= late.share_percent >= 7 * 100 // 56
    end = standing_end(record, cover, place(), 2027)
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
    assert course_of(record, record.starts[0], day(begin), under, place(), 2027).share_percent == share


def test_half_the_season_kept_by_choice_is_half_the_share() -> None:
    record = hardy_as("tender")
    # Of 56 days 28: from 14 July, so to 10 August, and the ground is free after the 15th.
    course = course_of(record, record.starts[0], date(2027, 5, 15), OPEN, place(), 2027, part_percent=50)
    assert (course.share_percent, course.last_harvest, course.clear) == (50, date(2027, 8, 10), date(2027, 8, 15))


def test_an_indoor_sowing_may_lie_in_the_year_before() -> None:
    raised = hardy_as("hardy", {**start(-12, 60, way="set out"), "weeks_indoors": figure(10, "weeks")})
    # 1 May - 84 days = 6 February; 70 days earlier is 28 November.
    found = window_of(raised, place())
    assert found == Window(date(2027, 2, 6), date(2027, 2, 6))
    assert course_of(raised, raised.starts[0], date(2027, 2, 6), OPEN, place(), 2027).raise_from == date(2026, 11, 28)
