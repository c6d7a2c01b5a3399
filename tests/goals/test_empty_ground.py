"""Empty ground, by hand: a point for each bare strip in each half month of the growing season."""

from __future__ import annotations

from rotasolve.goals.empty_ground import EmptyGround
from rotasolve.relations.ground.garden import make_garden
from tests.helpers.agree import goal_program, lost_both_ways, number_of, plan_of, taken_of
from tests.helpers.tiny import CATALOGUE, bed, catalogue, crop, figure, scenario
from tests.helpers.words import said

GOAL = EmptyGround()


def test_points_by_hand() -> None:
    # 1 May - 4 weeks = 3 April to 1 October: 13 half months x 2 strips = 26.
    garden = make_garden(scenario(["lettuce", "garlic"], years=1), CATALOGUE)
    assert lost_both_ways(garden, GOAL, []) == 26
    # Lettuce from 8 May to 31 July covers 6 half months of one strip, 12 of two.
    one, both = ([number_of(garden, "lettuce", 2027, strip) for strip in strips] for strips in ((1,), (1, 2)))
    assert lost_both_ways(garden, GOAL, one) == 20
    assert lost_both_ways(garden, GOAL, both) == 14


def test_ground_taken_outside_the_season_wins_nothing() -> None:
    # Garlic, 15 October 2027 to 15 August 2028: of it the first half of October, in which the first frost falls, and
    # the 9 half months from 3 April to 15 August lie in a season.
    garden = make_garden(scenario(["garlic"], years=2), CATALOGUE)
    assert lost_both_ways(garden, GOAL, [number_of(garden, "garlic", 2028)]) == 2 * 26 - 10


def test_ground_still_held_from_before_is_not_empty() -> None:
    # Garlic stands on the first strip until 20 May: of the season's 13 half months it takes those from 3 April, the two
    # of April and the two of May, so 26 - 4. Lettuce on the other strip covers 6 more.
    past = [{"bed": "bed", "crop": "garlic", "year": 2027, "until": "2027-05-20", "strips": [1]}]
    garden = make_garden(scenario(["lettuce"], history=past), CATALOGUE)
    assert lost_both_ways(garden, GOAL, []) == 22
    assert lost_both_ways(garden, GOAL, [number_of(garden, "lettuce", 2027, 2)]) == 16
    # Without strips named it takes the whole bed: 26 - 8.
    whole = make_garden(scenario(["lettuce"], history=[{**past[0], "strips": []}]), CATALOGUE)
    assert lost_both_ways(whole, GOAL, []) == 18
    # Counted beds are charged alike.
    assert goal_program(make_garden(scenario(["lettuce"], history=past), CATALOGUE, exact=False), GOAL).constant == 22


def test_a_wide_row_covers_all_its_strips() -> None:
    # A row of 120 cm takes both strips: 26 - 12.
    wide = catalogue([crop("beet", "goosefoots", spacing_between_rows=figure(120, "cm"))])
    garden = make_garden(scenario(["beet"], [bed(strips=2)]), wide)
    assert lost_both_ways(garden, GOAL, [0]) == 14


def test_what_stands_from_before_covers_its_strip() -> None:
    # Garlic on the second strip to 20 July covers it from 3 April in 8 half months: 26 - 8.
    garlic = {"bed": "bed", "crop": "garlic", "year": 2027, "until": "2027-07-20", "strips": [2]}
    garden = make_garden(scenario(["lettuce"], history=[garlic]), CATALOGUE)
    assert lost_both_ways(garden, GOAL, []) == 18


def test_says_the_share_covered() -> None:
    # 12 of 26 = 46 %.
    garden = make_garden(scenario(["lettuce"]), CATALOGUE)
    chosen = [number_of(garden, "lettuce", 2027, strip) for strip in (1, 2)]
    plan = plan_of(garden, taken_of(garden, chosen))
    assert said(GOAL.score(garden, plan)) == "ground covered 46 % of the growing season"
