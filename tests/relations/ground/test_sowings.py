"""Sowings: what the windows allow, what is offered of it, and in which garden year it counts."""

from __future__ import annotations

from collections import Counter
from datetime import date
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rotasolve.domain.catalogue import Cover
from rotasolve.domain.crop import Crop
from rotasolve.domain.scenario import PinnedPlanting, Scenario
from rotasolve.domain.seasons import MONTHS, first_day, garden_year, last_day
from rotasolve.files.crops import load_catalogue
from rotasolve.relations.ground import offer
from rotasolve.relations.ground.garden import make_garden
from rotasolve.relations.ground.sowings import (
    FULL_SHARE,
    STARTS_OFFERED,
    Sowing,
    offered,
    pinned_sowing,
    sowings_of,
)
from rotasolve.relations.season.growing import GOOD, POSSIBLE, growing
from rotasolve.relations.season.ripe_crop import LEAST_PICKING_DAYS
from rotasolve.relations.season.windows import windows_of_year
from tests.helpers.tiny import (
    CATALOGUE,
    GARLIC,
    LETTUCE,
    POTATO,
    TOMATO,
    catalogue,
    crop,
    figure,
    scenario,
    start,
)

OPEN = CATALOGUE.cover("open ground")
BEET = crop("beet", "goosefoots", starts=[start(-2, 60, 16)])


def fresh(sowing: Sowing, months: frozenset[int]) -> set[int]:
    return {period for period in sowing.picked if first_day(period).month in months}


def test_one_sowing_in_each_half_month_of_the_window() -> None:
    # 17 April to 21 August: the 17th, then the 1st and 16th of each month to 16 August: 1 + 8 = 9.
    found = sowings_of(BEET, OPEN, scenario(["beet"]))
    assert [f"{sowing.start:%m-%d}" for sowing in found] == [
        *("04-17", "05-01", "05-16", "06-01", "06-16", "07-01", "07-16", "08-01", "08-16"),
    ]


def test_a_winter_crop_counts_in_the_year_of_its_harvest() -> None:
    (garlic,) = sowings_of(GARLIC, OPEN, scenario(years=2))
    assert (garlic.start, garlic.crop_year, garlic.begins, garlic.hosts) == (
        date(2027, 10, 15),
        2028,
        2027,
        (2028, 2028),
    )


@pytest.mark.parametrize("latitude", [50, -50])
def test_every_sowing_lies_in_the_plan(latitude: float) -> None:
    wish = scenario(years=2, latitude=latitude)
    for record in CATALOGUE.crops:
        for sowing in sowings_of(record, OPEN, wish):
            assert sowing.crop_year in wish.planned_years
            assert sowing.begins == garden_year(sowing.start, wish.site.south)
            assert (
                sowing.begins <= sowing.hosts[0] <= sowing.hosts[1] <= garden_year(sowing.course.clear, wish.site.south)
            )
            assert sowing.periods[0] <= min([*sowing.picked, sowing.periods[-1]])
            assert sowing.periods[-1] >= max([*sowing.picked, sowing.periods[0]])


def picked_days(record: Crop) -> tuple[int, ...]:
    grown, day = growing(record, record.starts[0], OPEN, scenario().site), date(2027, 5, 15)
    return grown.picked_days(day, grown.ready_on(day))


@pytest.mark.parametrize(
    ("record", "days"),
    [
        (LETTUCE, (14,)),  # two weeks of picking
        (TOMATO, (56, 28)),  # eight weeks: half of it may do
        (TOMATO.model_copy(update={"fruit": True}), (56,)),  # fruit is not pulled in full bearing
        # Lifted within two weeks, or standing on: eight weeks of which six more are one step.
        (POTATO.model_copy(update={"harvest_weeks": TOMATO.harvest_weeks}), (56, 14)),
        (POTATO, (14,)),
    ],
)
def test_for_how_long_a_crop_may_be_picked(record: Crop, days: tuple[int, ...]) -> None:
    assert picked_days(record) == days


def test_what_stands_may_be_cleared_every_six_weeks() -> None:
    # Twenty weeks of standing: all of them, or 2, 8 or 14 weeks.
    leek = crop("leek", "onions", picking="once", starts=[start(2, 100)], standing_weeks=figure(20, "weeks"))
    assert picked_days(leek) == (140, 14, 56, 98)


def test_without_fresh_months_the_starts_are_spread() -> None:
    every = sowings_of(BEET, OPEN, scenario(["beet"]))
    kept = offered(every, frozenset())
    assert len(kept) == STARTS_OFFERED < len(every)
    assert (kept[0], kept[-1]) == (every[0], every[-1])


def pinned(record: Crop, day: str, wish: Scenario | None = None) -> Sowing:
    pin = PinnedPlanting.model_validate({"bed": "bed", "crop": record.name, "start": day})
    return pinned_sowing(pin, record, OPEN, wish or scenario())


def test_a_pin_takes_the_way_whose_window_is_nearest() -> None:
    both = crop("beet", "goosefoots", starts=[start(-4, 60, 0), start(4, 40, 8, way="set out")])
    # Sown 3 April to 1 May, set out 29 May to 26 June: 14 May lies 13 days after the one, 15 before the other.
    assert pinned(both, "2027-05-14").way == "sown in place"
    assert pinned(both, "2027-05-16").way == "set out"
    assert pinned(both, "2027-06-10").course.first_harvest == date(2027, 7, 20)


@pytest.mark.parametrize(
    ("record", "until", "share", "picked"),
    [
        # Potatoes from 17 April are ripe on 26 July: lifted that day all are there, a day sooner none.
        (POTATO, "2027-07-25", 0, None),
        (POTATO, "2027-07-26", 100, date(2027, 7, 26)),
        (POTATO, "2027-07-29", 100, date(2027, 7, 29)),
        # Tomatoes from 15 May are picked for 56 days from 14 July: 1 of 56, and 7 of 56.
        (TOMATO, "2027-07-14", 1, date(2027, 7, 14)),
        (TOMATO, "2027-07-20", 12, date(2027, 7, 20)),
    ],
)
def test_what_is_lifted_as_soon_as_it_is_ripe_counts(record: Crop, until: str, share: int, picked: date | None) -> None:
    start = {"potato": "2027-04-17", "tomato": "2027-05-15"}[record.name]
    pin = PinnedPlanting.model_validate({"bed": "bed", "crop": record.name, "start": start, "until": until})
    course = pinned_sowing(pin, record, CATALOGUE.cover("open ground"), scenario()).course
    assert (course.share_percent, course.last_harvest) == (share, picked)


def test_a_pinned_sowing_is_offered_beside_the_others() -> None:
    pin = {"bed": "bed", "crop": "lettuce", "start": "2027-06-20"}
    garden = make_garden(scenario(pinned=[pin]), CATALOGUE)
    starts = {(choice.sowing.start, choice.sowing.pinned) for choice in garden.choices}
    assert starts == {(date(2027, 5, 8), False), (date(2027, 6, 20), True)}


SHIPPED = load_catalogue()
POOLS = {
    (record.name, latitude): sowings_of(record, SHIPPED.cover("open ground"), scenario(years=2, latitude=latitude))
    for record in SHIPPED.crops
    for latitude in (50, -50)
}
FOOD = {key: pool for key, pool in POOLS.items() if not SHIPPED.crop(key[0]).green_manure}
TWO_WAYS = crop("beet", "goosefoots", starts=[start(-4, 60, 0), start(4, 40, 8, way="set out")])
"""Sown 3 April to 1 May, set out 29 May to 26 June."""
MONTH_SETS = st.frozensets(st.integers(1, 12), max_size=4)
"""No month, or some that need not be neighbours."""


def poor(sowing: Sowing, some: list[Sowing], months: frozenset[int]) -> bool:
    """Return whether a sowing is not worth offering: not good (possible, where wished fresh) while others are."""
    for least in (POSSIBLE if months else GOOD, POSSIBLE):
        if any(other.worth_percent >= least for other in some):
            return sowing.worth_percent < least
    return False


def cut_short(sowing: Sowing, some: list[Sowing], months: frozenset[int]) -> bool:
    """Return whether the same start could be picked in more of the wished months."""
    same = [other for other in some if (other.way, other.start) == (sowing.way, sowing.start)]
    return any(len(fresh(other, months)) > len(fresh(sowing, months)) for other in same)


def beats(one: Sowing, other: Sowing, months: frozenset[int]) -> bool:
    """Return whether a grower who wants ``other`` could take ``one`` and lose nothing."""
    return (
        one.crop_year == other.crop_year
        and set(one.periods) <= set(other.periods)
        and one.course.share_percent >= other.course.share_percent
        and fresh(one, months) >= fresh(other, months)
    )


@pytest.mark.parametrize("latitude", [50, -50])
@pytest.mark.parametrize("over", [SHIPPED.cover("open ground"), SHIPPED.cover("tunnel")], ids=lambda c: str(c.name))
def test_every_sowing_starts_inside_a_window_of_its_way(latitude: float, over: Cover) -> None:
    wish, seen = scenario(years=2, latitude=latitude), 0
    for record in SHIPPED.crops:
        windows = [
            (way.way, window)
            for way in record.starts
            for year in range(2026, 2030)
            for window in windows_of_year(record, way, over, wish.site, year)
        ]
        for sowing in sowings_of(record, over, wish):
            seen += 1
            assert any(
                way == sowing.way and window.earliest <= sowing.start <= window.latest for way, window in windows
            ), sowing.name
    assert seen > 10 * len(SHIPPED.crops)


def test_every_sowing_gives_its_ground_back_with_the_half_month_and_is_worth_picking() -> None:
    green = {record.name for record in SHIPPED.crops if record.green_manure}
    picked = 0
    for sowing in (sowing for pool in POOLS.values() for sowing in pool):
        assert sowing.course.clear == last_day(sowing.periods[-1])
        ready, last = sowing.course.first_harvest, sowing.course.last_harvest
        if sowing.crop in green:
            assert (ready, last, sowing.course.share_percent) == (None, None, 0)
            continue
        assert ready is not None
        assert last is not None
        assert (last - ready).days + 1 >= LEAST_PICKING_DAYS
        assert sowing.start < ready < last <= sowing.course.clear
        picked += 1
    assert picked > 500


def test_names_tell_sowings_apart() -> None:
    for pool in POOLS.values():
        assert len({sowing.name for sowing in pool}) == len(pool)


@given(st.data())
def test_of_any_pool_only_what_is_beaten_or_never_fresh_is_dropped(data: st.DataObject) -> None:
    pool = FOOD[data.draw(st.sampled_from(sorted(FOOD)))]
    some = data.draw(st.lists(st.sampled_from(pool), unique=True, max_size=25)) if pool else []
    months = data.draw(MONTH_SETS.filter(bool))
    kept = offered(some, months)
    assert set(kept) <= set(some)
    if any(fresh(sowing, months) for sowing in some if not poor(sowing, some, months)):
        assert all(fresh(sowing, months) for sowing in kept)
        for lost in set(some) - set(kept):
            excused = not fresh(lost, months) or poor(lost, some, months) or cut_short(lost, some, months)
            assert excused or any(beats(other, lost, months) for other in kept), lost.name
    # None that is kept could be spared for another.
    for one in kept:
        assert not any(beats(other, one, months) for other in kept if other != one)


@given(st.data())
def test_the_choice_does_not_hang_on_the_order(data: st.DataObject) -> None:
    pool = POOLS[data.draw(st.sampled_from(sorted(POOLS)))]
    months = data.draw(MONTH_SETS)
    kept = offered(pool, months)
    assert offered(data.draw(st.permutations(pool)), months) == kept
    assert offered(kept, months) == kept


@pytest.mark.parametrize("months", [frozenset(), frozenset({1})], ids=["no wish", "a wish nothing meets"])
def test_starts_are_thinned_out_to_a_few_a_year(months: frozenset[int]) -> None:
    # Sowings picked to their end, and those cleared early, are counted apart; so a year offers twice as many at most.
    full = 0
    for (name, latitude), pool in FOOD.items():
        if any(fresh(sowing, months) for sowing in pool):
            continue
        kept = offered(pool, months)
        pool = [sowing for sowing in pool if not poor(sowing, pool, months)]
        groups = Counter((sowing.crop_year, sowing.course.share_percent >= FULL_SHARE) for sowing in kept)
        assert all(count <= STARTS_OFFERED for count in groups.values()), (name, latitude)
        full += sum(count == STARTS_OFFERED for count in groups.values())
        for lost in set(pool) - set(kept):
            group = (lost.crop_year, lost.course.share_percent >= FULL_SHARE)
            # Left out for a better one, which may itself have been thinned out, or in a group that is full.
            beaten = any(beats(other, lost, months) for other in pool if other != lost)
            assert beaten or groups[group] == STARTS_OFFERED, lost.name
    assert full > 0


def test_a_wish_for_two_seasons_keeps_a_sowing_for_each() -> None:
    # Ripe after 60 days, picked for two weeks, one start in each half month from 17 April to 16 August.
    beet = crop("beet", "goosefoots", starts=[start(-2, 60, 16)])
    kept = offered(sowings_of(beet, OPEN, scenario(["beet"])), frozenset({6, 10}))
    months = {first_day(period).month for sowing in kept for period in sowing.picked}
    assert {6, 10} <= months
    assert 8 not in months


@pytest.mark.parametrize("record", [*CATALOGUE.crops, TWO_WAYS], ids=lambda r: str(r.name))
def test_a_pin_on_an_open_day_is_that_days_sowing(record: Crop) -> None:
    wish = scenario(years=2)
    for sowing in sowings_of(record, OPEN, wish):
        pin = PinnedPlanting.model_validate({"bed": "bed", "crop": record.name, "start": sowing.start})
        found = pinned_sowing(pin, record, OPEN, wish)
        assert found.pinned
        assert not sowing.pinned
        assert (found.start, found.way, found.crop_year) == (sowing.start, sowing.way, sowing.crop_year)
        assert found.course.clear >= sowing.course.clear


def test_a_pin_out_of_season_keeps_its_day() -> None:
    # The referee says what is wrong with it; the plan must not move it.
    lettuce = CATALOGUE.crop("lettuce")
    pin = PinnedPlanting.model_validate({"bed": "bed", "crop": "lettuce", "start": "2027-08-25"})
    found = pinned_sowing(pin, lettuce, OPEN, scenario())
    assert (found.start, found.course.first_harvest, found.pinned) == (date(2027, 8, 25), date(2027, 10, 24), True)


@pytest.mark.parametrize("first", ["July", "September"])
def test_a_large_garden_offers_what_its_household_wishes_fresh(first: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(offer, "EVERY_START_AT_MOST", 0)
    beet: dict[str, Any] = {"starts": [start(-2, 60, 16)]}
    known = catalogue([crop("beet", "goosefoots", **beet)])
    wish = scenario(targets=[{"crop": "beet", "kg": 1, "fresh_from": first, "fresh_to": first}])
    month = frozenset({MONTHS.index(first) + 1})
    found = {choice.sowing for choice in make_garden(wish, known).choices}
    assert found
    assert all(fresh(sowing, month) for sowing in found)


def test_a_small_garden_offers_every_half_month_of_a_window() -> None:
    known = catalogue([crop("beet", "goosefoots", starts=[start(-2, 60, 16)])])
    wish = scenario(targets=[{"crop": "beet", "kg": 1, "fresh_from": "July", "fresh_to": "July"}])
    garden = make_garden(wish, known)
    assert garden.every_start
    starts = {choice.sowing.start for choice in garden.choices}
    # From 17 April (two weeks before the last frost) to 21 August: a start in each half month of it.
    assert {(day.month, day.day > 15) for day in starts} == {
        (4, True),
        *((month, late) for month in range(5, 8) for late in (False, True)),
        (8, False),
        (8, True),
    }


def test_all_of_what_must_be_had_is_offered_in_a_large_garden(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(offer, "EVERY_START_AT_MOST", 0)
    known = catalogue([crop("beet", "goosefoots", starts=[start(-2, 60, 16)])])
    few = make_garden(scenario(["beet"]), known)
    all_of_it = make_garden(scenario(must=[{"crop": "beet", "plants": 4}]), known)
    assert not few.every_start
    every = {sowing.start for sowing in sowings_of(known.crop("beet"), OPEN, scenario(["beet"]))}
    assert {choice.sowing.start for choice in few.choices} < every
    assert {choice.sowing.start for choice in all_of_it.choices} == every
