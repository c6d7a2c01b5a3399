"""Winter cover, by hand: a point for each bare strip in each half month from November to March."""

from __future__ import annotations

import pytest

from rotasolve.goals.winter_cover import WinterCover
from rotasolve.relations.ground.garden import make_garden
from tests.helpers.agree import lost_both_ways, number_of, plan_of, taken_of
from tests.helpers.tiny import AUTUMN, CATALOGUE, catalogue, crop, scenario, start
from tests.helpers.words import said

GOAL = WinterCover()
RYE = crop("rye", "grasses", green_manure=True, counts_for_rest=False, starts=[start(2, 150, unit=AUTUMN)])
"""15 October, grown for 150 days and kept for two weeks, to 26 March; ground to 31 March, or to the end of February."""


def test_points_by_hand() -> None:
    # 10 half months x 2 strips = 20 in each winter; garlic stands from 15 October 2027 to 15 August 2028.
    garden = make_garden(scenario(["garlic"], years=2), CATALOGUE)
    assert lost_both_ways(garden, GOAL, []) == 40
    assert lost_both_ways(garden, GOAL, [number_of(garden, "garlic", 2028)]) == 30


def test_the_last_winter_counts_to_its_end() -> None:
    # One year is planned, and the rye stands on its strip through all ten half months of the winter that begins in it.
    garden = make_garden(scenario(["rye"]), catalogue([RYE]))
    whole, cut = (
        next(n for n, choice in enumerate(garden.choices) if f"{choice.sowing.course.clear:%m-%d}" == day)
        for day in ("03-31", "02-29")
    )
    assert lost_both_ways(garden, GOAL, [whole]) == 10
    assert lost_both_ways(garden, GOAL, [cut]) == 12


def test_the_winter_of_the_south_is_may_to_september() -> None:
    # First frost 1 April: garlic from 15 April, ripe after 280 days in January: all ten half months of one strip.
    garden = make_garden(scenario(["garlic"], years=2, latitude=-50), CATALOGUE)
    assert lost_both_ways(garden, GOAL, []) == 40
    (number, *_) = [n for n, choice in enumerate(garden.choices) if choice.cells[0].strip == 1]
    assert lost_both_ways(garden, GOAL, [number]) == 30


@pytest.mark.parametrize(("how_much", "points"), [("usual", 20), ("much", 60), ("not at all", 0)])
def test_how_much_it_counts_can_be_set(how_much: str, points: int) -> None:
    garden = make_garden(scenario(["lettuce"], rules={"winter_cover": how_much}), CATALOGUE)
    assert lost_both_ways(garden, GOAL, []) == points


def test_what_stands_from_before_covers_its_strip() -> None:
    # Leeks on the first strip to 10 January: 5 half months of it are covered, whatever is planted.
    leek = {"bed": "bed", "crop": "leek", "year": 2027, "until": "2028-01-10", "strips": [1]}
    garden = make_garden(scenario(["lettuce"], history=[leek]), CATALOGUE)
    assert lost_both_ways(garden, GOAL, []) == 15


def test_a_half_month_of_the_growing_season_is_not_charged_twice() -> None:
    # Last frost 25 March: the season opens on 25 February, and both halves of March and the second of February are its.
    site = {"latitude": 50, "last_frost": {"half": "25 March"}, "first_frost": {"half": "1 October"}}
    garden = make_garden(scenario(["lettuce"], years=2, site=site), CATALOGUE)
    # The first winter loses three half months; that after the plan lies in no season of the plan.
    assert lost_both_ways(garden, GOAL, []) == 2 * (7 + 10)


def test_says_the_share_covered() -> None:
    # 10 of 40 = 25 %.
    garden = make_garden(scenario(["garlic"], years=2), CATALOGUE)
    plan = plan_of(garden, taken_of(garden, [number_of(garden, "garlic", 2028)]))
    assert said(GOAL.score(garden, plan)) == "ground covered 25 % of the winter"
