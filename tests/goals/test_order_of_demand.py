"""The order of demand, by hand: what stands in a bed at the height of the season, the first half of July.

Potatoes (17 April to 15 August) and tomatoes feed heavily, lettuce (8 May to 31 July) is light, beans (29 May to 31
July) fix nitrogen, rocket (19 June to 31 July) wants no fresh manure.
"""

from __future__ import annotations

import pytest

from rotasolve.goals.order_of_demand import OrderOfDemand
from rotasolve.relations.ground.garden import Garden, make_garden
from tests.helpers.agree import lost_both_ways, number_of, plan_of, taken_of
from tests.helpers.tiny import CATALOGUE, bed, scenario
from tests.helpers.words import said

GOAL = OrderOfDemand()
FREE = {"family_gap": 0}


def garden_of(*crops: str, years: int = 2, **more: object) -> Garden:
    return make_garden(scenario(crops, years=years, **{"rules": FREE, **more}), CATALOGUE)  # type: ignore[arg-type]


def test_heavy_feeders_a_second_year_running() -> None:
    # Each year without legumes before it costs 2, the second year running 5 more.
    garden = garden_of("potato", years=3)
    first, second, third = (number_of(garden, "potato", year) for year in (2027, 2028, 2029))
    assert lost_both_ways(garden, GOAL, []) == 0
    assert lost_both_ways(garden, GOAL, [first]) == 2
    assert lost_both_ways(garden, GOAL, [first, third]) == 4
    assert lost_both_ways(garden, GOAL, [first, second]) == 2 + 2 + 5


@pytest.mark.parametrize(("legume", "points"), [("bean", 0), ("clover", 0), ("lettuce", 2)])
def test_heavy_feeders_after_what_fixes_nitrogen(legume: str, points: int) -> None:
    # A green manure counts as beans do, at whatever time of the year it grew.
    garden = garden_of("potato", legume)
    both = [number_of(garden, legume, 2027), number_of(garden, "potato", 2028)]
    assert lost_both_ways(garden, GOAL, both) == points


def test_light_feeders_leave_what_legumes_gathered() -> None:
    garden = garden_of("lettuce", "bean", "potato")
    bean, lettuce = number_of(garden, "bean", 2027), number_of(garden, "lettuce", 2028)
    assert lost_both_ways(garden, GOAL, [lettuce]) == 0
    assert lost_both_ways(garden, GOAL, [bean, lettuce]) == 2
    assert lost_both_ways(garden, GOAL, [number_of(garden, "bean", 2028), number_of(garden, "lettuce", 2028, 2)]) == 0


def test_roots_keep_off_ground_that_is_fed() -> None:
    garden = garden_of("potato", "rocket", years=1, beds=[bed(), bed("other")])
    potato, rocket = number_of(garden, "potato", 2027), number_of(garden, "rocket", 2027, 2)
    assert lost_both_ways(garden, GOAL, [rocket]) == 0
    assert lost_both_ways(garden, GOAL, [potato, rocket]) == 2 + 5
    assert lost_both_ways(garden, GOAL, [potato, number_of(garden, "rocket", 2027, bed="other")]) == 2


def test_what_is_gone_by_the_height_of_the_season_is_not_looked_at() -> None:
    # Potatoes cleared before July, on 30 June, would have been heavy feeders.
    early = {"bed": "bed", "crop": "potato", "start": "2027-04-17", "until": "2027-06-30"}
    garden = garden_of("rocket", years=1, pinned=[early])
    potato = next(n for n, c in enumerate(garden.choices) if f"{c.sowing.course.clear:%m-%d}" == "06-30")
    assert lost_both_ways(garden, GOAL, [potato, number_of(garden, "rocket", 2027, 2)]) == 0


@pytest.mark.parametrize(
    ("crop", "year", "after", "points"),
    [
        ("potato", 2026, "potato", 7),
        ("potato", 2025, "potato", 2),
        ("bean", 2026, "potato", 0),
        ("bean", 2026, "lettuce", 2),
        ("bean", 2025, "lettuce", 0),
    ],
)
def test_history_is_the_year_before(crop: str, year: int, after: str, points: int) -> None:
    garden = garden_of(after, years=1, history=[{"bed": "bed", "crop": crop, "year": year}])
    assert lost_both_ways(garden, GOAL, [number_of(garden, after, 2027)]) == points


def test_by_strip_each_strip_has_its_own_order() -> None:
    garden = garden_of("potato", rules={"family_gap": 0, "rotation": "strip"})
    first = number_of(garden, "potato", 2027, 1)
    assert lost_both_ways(garden, GOAL, [first, number_of(garden, "potato", 2028, 1)]) == 9
    assert lost_both_ways(garden, GOAL, [first, number_of(garden, "potato", 2028, 2)]) == 4


@pytest.mark.parametrize(("how_much", "points"), [("usual", 2), ("much", 6), ("not at all", 0)])
def test_how_much_it_counts_can_be_set(how_much: str, points: int) -> None:
    garden = garden_of("potato", years=1, rules={"order_of_demand": how_much})
    assert lost_both_ways(garden, GOAL, [number_of(garden, "potato", 2027)]) == points


def test_says_what_is_not_kept() -> None:
    garden = garden_of("potato", "rocket", "bean", "lettuce")
    chosen = [number_of(garden, crop, year, strip) for crop, year, strip in (("potato", 2027, 1), ("rocket", 2027, 2))]
    chosen.append(number_of(garden, "potato", 2028))
    assert said(GOAL.score(garden, plan_of(garden, taken_of(garden, chosen)))) == (
        "heavy feeders in 2 beds and years, 1 a second year running, 2 not after legumes: compost for these, roots on "
        "ground fed for them 1 time"
    )
    chosen = [number_of(garden, "bean", 2027), number_of(garden, "lettuce", 2028)]
    assert said(GOAL.score(garden, plan_of(garden, taken_of(garden, chosen)))) == (
        "heavy feeders in 0 beds and years, light feeders after legumes 1 time"
    )
