"""The hungry gap: its half months, what little is, what is picked and stored in it, north and south, by hand."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rotasolve.domain.seasons import first_day, period_of
from rotasolve.domain.supply import CropSupply, HalfMonthSupply
from rotasolve.relations.ground.garden import Garden, make_garden
from rotasolve.relations.household.hungry_gap import springs_of
from rotasolve.relations.household.supply import supply_of
from tests.helpers.tiny import CATALOGUE, planting, scenario

JANUARY = period_of(date(2027, 1, 1))


def garden(latitude: float = 50, years: int = 1) -> Garden:
    return make_garden(scenario(["kale", "leek", "potato"], latitude=latitude, years=years), CATALOGUE)


def supply(crop: str, picked: dict[int, int], wanted: int = 0, stored: dict[int, int] | None = None) -> CropSupply:
    """Return a supply of the year from ``JANUARY`` on: grams picked and eaten from the store by half month from it."""
    eaten = stored or {}
    half_months = tuple(
        HalfMonthSupply(period=JANUARY + n, wanted_g=wanted, harvested_g=picked.get(n, 0), eaten_kept_g=eaten.get(n, 0))
        for n in range(max(24, *picked, *eaten) + 1 if picked or eaten else 24)
    )
    return CropSupply(crop=crop, keeps="not", keeps_weeks=0, half_months=half_months, spells=())


FULL = dict.fromkeys(range(24), 1000)


def without(*halves: int, left: int = 0) -> dict[int, int]:
    """Return 1 kg in each half month but some, in which ``left`` grams are picked."""
    return {n: left if n in halves else grams for n, grams in FULL.items()}


def test_a_spring_with_enough_in_each_half_month_is_not_hungry() -> None:
    (spring,) = springs_of(garden(), [supply("kale", FULL, wanted=1000)])
    assert not spring.hungry
    assert (first_day(spring.first_period), first_day(spring.last_period)) == (date(2027, 3, 1), date(2027, 5, 16))
    assert spring.picked_g == (("kale", 6000),)


@pytest.mark.parametrize(("grams", "hungry"), [(0, True), (249, True), (250, False), (300, False)])
def test_little_is_less_than_a_quarter_of_the_mean_wish(grams: int, hungry: bool) -> None:
    # 1,000 g are wished in each half month: 250 g are a quarter.
    (spring,) = springs_of(garden(), [supply("kale", without(7, left=grams), wanted=1000)])
    assert spring.little_g == 250
    assert spring.hungry is hungry
    if hungry:
        assert spring.first_period == spring.last_period == JANUARY + 7


def test_the_gap_reaches_from_february_to_june_but_no_further() -> None:
    (spring,) = springs_of(garden(), [supply("kale", without(*range(16)), wanted=1000)])
    assert (first_day(spring.first_period), first_day(spring.last_period)) == (date(2027, 2, 1), date(2027, 6, 16))


def test_a_dearth_that_ends_before_march_is_no_hungry_gap() -> None:
    (spring,) = springs_of(garden(), [supply("kale", without(2, 3, 10, 11), wanted=1000)])
    assert not spring.hungry


def test_of_two_dearths_the_longer_is_the_gap() -> None:
    # The second half of March, and April with the first half of May.
    (spring,) = springs_of(garden(), [supply("kale", without(5, 7, 8, 9), wanted=1000)])
    assert (spring.first_period, spring.last_period) == (JANUARY + 7, JANUARY + 9)


def test_what_bridges_it_is_named_most_first() -> None:
    supplies = [
        supply("kale", without(*range(4, 9), left=50), wanted=1000),
        supply("leek", {4: 100, 5: 100}),
        supply("potato", {}, stored={3: 900, 4: 400, 8: 200}),
        supply("lettuce", {12: 1000}),
    ]
    (spring,) = springs_of(garden(), supplies)
    assert (spring.first_period, spring.last_period) == (JANUARY + 4, JANUARY + 8)
    assert spring.picked_g == (("kale", 250), ("leek", 200))
    # The potatoes of February are eaten before the gap.
    assert spring.stored_g == (("potato", 600),)


def test_without_wishes_the_harvest_says_what_little_is() -> None:
    (spring,) = springs_of(garden(), [supply("kale", without(6))])
    assert spring.little_g == round(23 * 1000 / 24 / 4)
    assert (spring.first_period, spring.last_period) == (JANUARY + 6, JANUARY + 6)
    assert springs_of(garden(), [supply("kale", {})]) == springs_of(garden(), []) == ()


def test_in_the_south_it_lies_in_september_to_november() -> None:
    south = garden(-40)
    begin = south.first_period
    assert first_day(begin) == date(2027, 7, 1)
    # The same grams half a year later: nothing in October.
    halves = tuple(
        HalfMonthSupply(period=begin + n, wanted_g=1000, harvested_g=0 if n in (6, 7) else 1000) for n in range(24)
    )
    (spring,) = springs_of(south, [CropSupply(crop="kale", keeps="not", keeps_weeks=0, half_months=halves, spells=())])
    assert spring.hungry
    assert (first_day(spring.first_period), first_day(spring.last_period)) == (date(2027, 10, 1), date(2027, 10, 16))


def test_each_year_of_a_plan_has_its_spring_and_only_the_first_begins_it() -> None:
    one, two = springs_of(garden(years=2), [supply("kale", {**without(4, 5), 30: 1000}, wanted=1000)])
    assert [one.year, two.year] == [2027, 2028]
    assert [one.begins_plan, two.begins_plan] == [True, False]
    # In 2028 something is picked in the first half of April only: April's other half and May are the longer run.
    assert (two.first_period, two.last_period) == (JANUARY + 31, JANUARY + 35)


def test_standing_leeks_of_a_plan_bridge_it() -> None:
    asked = scenario(["leek"], years=2, targets=[{"crop": "leek", "kg": 24}])
    whole = make_garden(asked, CATALOGUE)
    grown: dict[str, Any] = {"harvest": {"low_kg": 1, "typical_kg": 9, "high_kg": 9}, "last_harvest": "2028-04-15"}
    leeks = planting("leek", (1,), "2027-07-17", "2028-04-30", "2027-12-01", **grown)
    # 9 kg over 137 days from 1 December to 15 April; 1 kg is wished in half a month, so 250 g are little.
    _, spring = springs_of(whole, supply_of(whole, [leeks]))
    assert (first_day(spring.first_period), first_day(spring.last_period)) == (date(2028, 4, 16), date(2028, 6, 16))
    assert spring.picked_g == spring.stored_g == ()


@given(picked=st.dictionaries(st.integers(0, 23), st.integers(0, 2000), max_size=24), wanted=st.integers(1, 1000))
def test_every_half_month_of_a_gap_falls_short_and_its_neighbours_in_spring_do_not(
    picked: dict[int, int], wanted: int
) -> None:
    for spring in springs_of(garden(), [supply("kale", picked, wanted=wanted)]):
        first, last = spring.first_period - JANUARY, spring.last_period - JANUARY
        if spring.hungry:
            assert all(picked.get(n, 0) < spring.little_g for n in range(first, last + 1))
            assert all(picked.get(n, 0) >= spring.little_g for n in (first - 1, last + 1) if 2 <= n < 12)
        else:
            assert all(picked.get(n, 0) >= spring.little_g for n in range(4, 10))
