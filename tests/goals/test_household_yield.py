"""Household yield, by hand: points for each per cent short of a target, the first half dearest, and for a glut."""

from __future__ import annotations

import pytest

from rotasolve.goals.household_yield import HouseholdYield
from rotasolve.referee import recount
from rotasolve.relations.ground.garden import Garden, make_garden
from tests.helpers.agree import lost_both_ways, number_of, plan_of, taken_of
from tests.helpers.tiny import CATALOGUE, SOURCE, bed, catalogue, crop, scenario
from tests.helpers.words import said

GOAL = HouseholdYield()


def garden_of(kg: float, weight: int = 2, strips: int = 4, years: int = 1, **more: object) -> Garden:
    targets = [{"crop": "lettuce", "kg": kg, "weight": weight}]
    return make_garden(scenario(beds=[bed(strips=strips)], targets=targets, years=years, **more), CATALOGUE)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("kg", "weight", "strips", "lost"),
    [
        # One strip yields 4 x 0.5 = 2 kg. Nothing of 8 kg at weight 1: 10 + 40 x 3 + 50 x 6 = 430; weights multiply.
        (8, 1, 0, 430),
        (8, 2, 0, 860),
        (8, 5, 0, 2150),
        # 2 of 8 kg are 25 %: 10 x 1 + 40 x 3 + 25 x 6 = 280, twice; 4 of 8 kg are half: 130, twice.
        (8, 2, 1, 560),
        (8, 2, 2, 260),
        # 6 of 8 kg are 75 %: 10 x 1 + 15 x 3 = 55, twice; 8 of 8 kg: met.
        (8, 2, 3, 110),
        (8, 2, 4, 0),
        # 2 of 4.01 kg are 49.875 %, and only whole per cents count: 130 + 6, twice. 2 of 3.99 kg are 50.125 %: 130.
        (4.01, 2, 1, 272),
        (3.99, 2, 1, 260),
        # 8 of 7.28 kg are 4 x 27.5 %: no glut. 8 of 7.25 kg are 4 x 27.6 = 110.4 %, a per cent begun above 110: 2; 8 of
        # 5 kg are 160 %: 50 x 2.
        (7.28, 2, 4, 0),
        (7.25, 2, 4, 2),
        (5, 2, 4, 100),
    ],
)
def test_points_by_hand(kg: float, weight: int, strips: int, lost: int) -> None:
    garden = garden_of(kg, weight)
    chosen = [number_of(garden, "lettuce", 2027, strip) for strip in range(1, strips + 1)]
    assert lost_both_ways(garden, GOAL, chosen) == lost


def test_each_year_has_its_own_target() -> None:
    # 8 kg in one of two years: the other loses 860.
    garden = garden_of(8, years=2)
    chosen = [number_of(garden, "lettuce", 2027, strip) for strip in range(1, 5)]
    assert lost_both_ways(garden, GOAL, chosen) == 860


def test_a_season_cut_short_yields_its_share() -> None:
    # Tomatoes cleared half-way: 28 of 56 days are 50 %, 1 of 2 kg. Of 4 kg that is 25 %: 280 x 2 = 560;
    # picked to the end 50 %: 130 x 2 = 260.
    garden = make_garden(scenario(targets=[{"crop": "tomato", "kg": 4}]), CATALOGUE)
    by_share = {
        c.sowing.course.share_percent: n
        for n, c in enumerate(garden.choices)
        if [cell.strip for cell in c.cells] == [1]
    }
    assert {share: lost_both_ways(garden, GOAL, [n]) for share, n in by_share.items()} == {50: 560, 100: 260}


def test_the_harvest_counts_in_its_southern_garden_year() -> None:
    garden = garden_of(2, strips=1, years=2, latitude=-50)
    assert lost_both_ways(garden, GOAL, [number_of(garden, "lettuce", 2028)]) == 860


def test_says_how_many_targets_are_met() -> None:
    garden = garden_of(2, strips=1, years=2)
    plan = plan_of(garden, taken_of(garden, [number_of(garden, "lettuce", 2027)]))
    assert said(GOAL.score(garden, plan)) == "1 of 2 yearly targets met in full"


def test_a_welcome_surplus_costs_nothing() -> None:
    # 8 kg of 5 wished are 50 % of glut, 2 points each, charged only where surplus is to be avoided.
    for surplus, lost in (("avoid", 100), ("welcome", 0)):
        garden = garden_of(5, household={"surplus": surplus})
        chosen = [number_of(garden, "lettuce", 2027, strip) for strip in range(1, 5)]
        assert lost_both_ways(garden, GOAL, chosen) == lost


def test_a_target_met_at_the_low_yield() -> None:
    # One strip: 4 plants x 0.3 kg in a poor year = 1.2 kg; of 4 kg that is 30 %: (10 + 120 + 20 x 6) x 2 = 500.
    # In a usual year 2 kg, 50 %: 260.
    yields = {"low": 0.3, "typical": 0.5, "high": 0.9, "unit": "kg per plant", "source": SOURCE}
    book = catalogue([crop("lettuce", "daisies", yield_per_plant=yields)])
    for at, lost in (("typical yield", 260), ("low yield", 500)):
        targets = [{"crop": "lettuce", "kg": 4}]
        garden = make_garden(scenario(targets=targets, household={"meet_targets_at": at}), book)
        chosen = [number_of(garden, "lettuce", 2027)]
        assert lost_both_ways(garden, GOAL, chosen) == lost
        (outcome,) = recount(garden, plan_of(garden, taken_of(garden, chosen))).targets
        assert (outcome.got.low_kg, outcome.got.typical_kg, outcome.got.high_kg) == (1.2, 2, 3.6)
        assert outcome.counted_kg == (2 if at == "typical yield" else 1.2)
    assert said(GOAL.score(garden, plan_of(garden, ()))) == "0 of 1 yearly targets met in full even in a poor year"


def test_a_small_planting_of_a_large_wish_counts_what_it_is() -> None:
    # One strip is 2 kg of 1000 kg, two tenths of a per cent, and 5 of them are one per cent; a planting is not rounded
    # up to a share of its own. 4 strips are 0.8 %: nothing is reached yet.
    wish = {"crop": "lettuce", "kg": 1000, "weight": 1}
    garden = make_garden(
        scenario(beds=[bed(strips=5)], targets=[wish], rules={"few_plantings": "not at all"}), CATALOGUE
    )
    chosen = [number_of(garden, "lettuce", 2027, strip) for strip in range(1, 6)]
    assert lost_both_ways(garden, GOAL, chosen[:4]) == 430
    assert lost_both_ways(garden, GOAL, chosen) == 424


def test_half_of_each_is_dearer_to_miss_than_all_of_one() -> None:
    # Four strips of 2 kg each for 8 kg of lettuce and 8 kg of kale: two each lose 260 + 260, four of one 0 + 860.
    wishes = [{"crop": name, "kg": 8} for name in ("lettuce", "kale")]
    garden = make_garden(scenario(beds=[bed(strips=4)], targets=wishes), CATALOGUE)
    lettuce, kale = ([number_of(garden, name, 2027, strip) for strip in range(1, 5)] for name in ("lettuce", "kale"))
    assert lost_both_ways(garden, GOAL, lettuce[:2] + kale[2:]) == 520
    assert lost_both_ways(garden, GOAL, lettuce) == 860
