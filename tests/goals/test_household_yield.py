"""Household yield, by hand: points for each step short of a target, and for a glut."""

from __future__ import annotations

import pytest

from rotasolve.goals.household_yield import HouseholdYield
from rotasolve.referee import recount
from rotasolve.relations.ground.garden import Garden, make_garden
from tests.helpers.agree import lost_both_ways, lots_of, number_of, plan_of
from tests.helpers.tiny import CATALOGUE, SOURCE, bed, catalogue, crop, scenario
from tests.helpers.words import said

GOAL = HouseholdYield()


def garden_of(kg: float, weight: int = 2, strips: int = 4, years: int = 1, **more: object) -> Garden:
    targets = [{"crop": "lettuce", "kg": kg, "weight": weight}]
    return make_garden(scenario(beds=[bed(strips=strips)], targets=targets, years=years, **more), CATALOGUE)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("kg", "weight", "strips", "lost"),
    [
        # One strip yields 4 x 0.5 = 2 kg. Nothing of 8 kg: 200 steps x 2 points x weight 2.
        (8, 2, 0, 800),
        # 2 of 8 kg are 50 steps: 150 short x 2 x 2 = 600; with weight 5: 150 x 2 x 5 = 1500.
        (8, 2, 1, 600),
        (8, 5, 1, 1500),
        # 8 of 8 kg: met.
        (8, 2, 4, 0),
        # 6 of 5 kg are 3 x 80 = 240 steps, 120 %: not yet a glut; 8 of 5 kg are 320, 80 above 240.
        (5, 2, 3, 0),
        (5, 2, 4, 80),
    ],
)
def test_points_by_hand(kg: float, weight: int, strips: int, lost: int) -> None:
    garden = garden_of(kg, weight)
    chosen = [number_of(garden, "lettuce", 2027, strip) for strip in range(1, strips + 1)]
    assert lost_both_ways(garden, GOAL, chosen) == lost


def test_each_year_has_its_own_target() -> None:
    # 8 kg in one of two years: the other loses 800.
    garden = garden_of(8, years=2)
    chosen = [number_of(garden, "lettuce", 2027, strip) for strip in range(1, 5)]
    assert lost_both_ways(garden, GOAL, chosen) == 800


def test_a_season_cut_short_yields_its_share() -> None:
    # Tomatoes cleared half-way: 28 of 56 days are 50 %, 1 of 2 kg. Of 4 kg that is 50 steps: 150 x 2 x 2 = 600;
    # picked to the end 100 steps: 400.
    garden = make_garden(scenario(targets=[{"crop": "tomato", "kg": 4}]), CATALOGUE)
    by_share = {c.sowing.course.share_percent: n for n, c in enumerate(garden.choices) if c.cells[0].strip == 1}
    assert {share: lost_both_ways(garden, GOAL, [n]) for share, n in by_share.items()} == {50: 600, 100: 400}


def test_the_harvest_counts_in_its_southern_garden_year() -> None:
    garden = garden_of(2, strips=1, years=2, latitude=-50)
    assert lost_both_ways(garden, GOAL, [number_of(garden, "lettuce", 2028)]) == 800


def test_says_how_many_targets_are_met() -> None:
    garden = garden_of(2, strips=1, years=2)
    plan = plan_of(garden, lots_of(garden, [number_of(garden, "lettuce", 2027)]))
    assert said(GOAL.score(garden, plan)) == "1 of 2 yearly targets met in full"


def test_a_welcome_surplus_costs_nothing() -> None:
    # 8 kg of 5 wished are 80 steps of glut, charged only where surplus is to be avoided.
    for surplus, lost in (("avoid", 80), ("welcome", 0)):
        garden = garden_of(5, household={"surplus": surplus})
        chosen = [number_of(garden, "lettuce", 2027, strip) for strip in range(1, 5)]
        assert lost_both_ways(garden, GOAL, chosen) == lost


def test_a_target_met_at_the_low_yield() -> None:
    # One strip: 4 plants x 0.3 kg in a poor year = 1.2 kg; of 4 kg that is 60 steps: 140 short x 2 x 2 = 560.
    # In a usual year 2 kg, 100 steps: 400.
    yields = {"low": 0.3, "typical": 0.5, "high": 0.9, "unit": "kg per plant", "source": SOURCE}
    book = catalogue([crop("lettuce", "daisies", yield_per_plant=yields)])
    for at, lost in (("typical yield", 400), ("low yield", 560)):
        targets = [{"crop": "lettuce", "kg": 4}]
        garden = make_garden(scenario(targets=targets, household={"meet_targets_at": at}), book)
        chosen = [number_of(garden, "lettuce", 2027)]
        assert lost_both_ways(garden, GOAL, chosen) == lost
        (outcome,) = recount(garden, plan_of(garden, lots_of(garden, chosen))).targets
        assert (outcome.got.low_kg, outcome.got.typical_kg, outcome.got.high_kg) == (1.2, 2, 3.6)
        assert outcome.counted_kg == (2 if at == "typical yield" else 1.2)
    assert said(GOAL.score(garden, plan_of(garden, ()))) == "0 of 1 yearly targets met in full even in a poor year"
