"""Longer rest, by hand: points for returns that keep the hard gap (2) but not the wished one (3)."""

from __future__ import annotations

import pytest

from rotasolve.goals.longer_rest import LongerRest
from rotasolve.relations.ground.garden import Garden, make_garden
from tests.helpers.agree import lost_both_ways, number_of, plan_of, taken_of
from tests.helpers.tiny import CATALOGUE, scenario
from tests.helpers.words import said

GOAL = LongerRest()


def garden_of(years: int = 5, crops: tuple[str, ...] = ("potato",), **more: object) -> Garden:
    return make_garden(scenario(crops, years=years, **more), CATALOGUE)  # type: ignore[arg-type]


@pytest.mark.parametrize(("second", "lost"), [(2029, 0), (2030, 15), (2031, 0)])
def test_a_return_after_two_years_costs_after_three_it_does_not(second: int, lost: int) -> None:
    # 2030 - 2027 = 3: two complete years, one fewer than wished. 2031: three. 2029 breaks the rule, not the goal.
    garden = garden_of()
    chosen = [number_of(garden, "potato", year) for year in (2027, second)]
    assert lost_both_ways(garden, GOAL, chosen) == lost


@pytest.mark.parametrize(("year", "lost"), [(2029, 15), (2030, 0)])
def test_history_counts_too(year: int, lost: int) -> None:
    garden = garden_of(history=[{"bed": "bed", "crop": "tomato", "year": 2026}])
    assert lost_both_ways(garden, GOAL, [number_of(garden, "potato", year)]) == lost


@pytest.mark.parametrize(("year", "lost"), [(2031, 15), (2032, 0)])
def test_both_years_of_a_crop_that_grows_on_after_winter_count(year: int, lost: int) -> None:
    # Sprouts are hosts in 2027 and 2028: 2031 - 2028 - 1 = 2 years, one fewer than wished, though 2027 lies 3 back.
    garden = garden_of(6, ("kale", "sprouts"))
    chosen = [number_of(garden, "sprouts", 2028), number_of(garden, "kale", year)]
    assert lost_both_ways(garden, GOAL, chosen) == lost
    garden = garden_of(6, ("kale",), history=[{"bed": "bed", "crop": "sprouts", "year": 2026, "until": "2027-05-31"}])
    assert lost_both_ways(garden, GOAL, [number_of(garden, "kale", year - 1)]) == lost


@pytest.mark.parametrize(("year", "lost"), [(2030, 15), (2031, 0)])
def test_a_leek_that_stands_over_new_year_is_a_host_once(year: int, lost: int) -> None:
    garden = garden_of(5, ("leek",))
    assert lost_both_ways(garden, GOAL, [number_of(garden, "leek", 2027), number_of(garden, "leek", year)]) == lost


def test_plantings_of_one_year_are_one_visit() -> None:
    garden = garden_of()
    chosen = [number_of(garden, "potato", year, strip) for year in (2027, 2030) for strip in (1, 2)]
    assert lost_both_ways(garden, GOAL, chosen) == 15


def test_the_wish_may_be_longer_or_no_longer() -> None:
    old = [{"bed": "bed", "crop": "potato", "year": 2026}]
    for wished, years in ((2, []), (3, [2029]), (5, [2029, 2030, 2031])):
        garden = garden_of(history=old, rules={"family_gap_wished": wished})
        found = [y for y in range(2027, 2032) if lost_both_ways(garden, GOAL, [number_of(garden, "potato", y)])]
        assert found == years


def test_by_strip_the_other_strip_costs_nothing() -> None:
    garden = garden_of(rules={"rotation": "strip"})
    first = number_of(garden, "potato", 2027, strip=1)
    assert lost_both_ways(garden, GOAL, [first, number_of(garden, "potato", 2030, strip=2)]) == 0
    assert lost_both_ways(garden, GOAL, [first, number_of(garden, "potato", 2030, strip=1)]) == 15


def test_says_how_many_returns_come_early() -> None:
    garden = garden_of()
    plan = plan_of(garden, taken_of(garden, [number_of(garden, "potato", year) for year in (2027, 2030)]))
    assert said(GOAL.score(garden, plan)) == "1 return a year or more sooner than wished"
