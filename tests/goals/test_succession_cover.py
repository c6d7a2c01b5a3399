"""Succession cover, by hand: points for each wished half month with nothing to pick."""

from __future__ import annotations

from rotasolve.goals.succession_cover import SuccessionCover
from rotasolve.relations.ground.garden import Garden, make_garden
from tests.helpers.agree import lost_both_ways, number_of, plan_of, taken_of
from tests.helpers.tiny import CATALOGUE, bed, scenario
from tests.helpers.words import said

GOAL = SuccessionCover()


def garden_of(**more: object) -> Garden:
    target = {"crop": "lettuce", "kg": 2, "fresh_from": "July", "fresh_to": "August", **more}
    return make_garden(scenario(beds=[bed(strips=1)], targets=[target], years=2), CATALOGUE)


def test_points_by_hand() -> None:
    # July and August of 2 years are 8 half months; lettuce is picked 7 to 20 July, in 2 of them.
    # Empty: 8 x 10 points x weight 2 = 160; one lettuce: 6 x 20 = 120; one in each year: 4 x 20 = 80.
    garden = garden_of()
    numbers = [number_of(garden, "lettuce", year) for year in (2027, 2028)]
    assert lost_both_ways(garden, GOAL, []) == 160
    assert lost_both_ways(garden, GOAL, numbers[:1]) == 120
    assert lost_both_ways(garden, GOAL, numbers) == 80


def test_the_weight_counts() -> None:
    # 8 x 10 x 5.
    assert lost_both_ways(garden_of(weight=5), GOAL, []) == 400


def test_without_fresh_months_nothing_is_asked() -> None:
    garden = make_garden(scenario(targets=[{"crop": "lettuce", "kg": 2}]), CATALOGUE)
    assert lost_both_ways(garden, GOAL, []) == 0


def test_months_may_pass_new_year() -> None:
    # December to January inside the two calendar years: January and December of each, 8 half months, 160 points.
    assert lost_both_ways(garden_of(fresh_from="December", fresh_to="January"), GOAL, []) == 160


def test_says_how_many_half_months_are_covered() -> None:
    garden = garden_of()
    plan = plan_of(garden, taken_of(garden, [number_of(garden, "lettuce", 2027)]))
    assert said(GOAL.score(garden, plan)) == "something to pick in 1 of 4 months wished"
