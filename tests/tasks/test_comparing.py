"""Comparisons: their totals are the referee's recount, whatever a plan says of itself."""

from __future__ import annotations

import pytest
from hypothesis import given

from rotasolve.domain.plan import Harvest, TargetOutcome
from rotasolve.errors import GardenFault
from rotasolve.referee import blank_plan, recount
from rotasolve.relations.ground.following import followed
from rotasolve.relations.ground.garden import Garden, make_garden
from rotasolve.solver.cpsat import Limits
from rotasolve.tasks.comparing import Entry, compare_plans
from tests.helpers.agree import plan_of, taken_of
from tests.helpers.strategies import gardens_with_plans
from tests.helpers.tiny import CATALOGUE, planting, scenario

LIED = TargetOutcome(crop="kale", year=2027, wanted_kg=99, got=Harvest(low_kg=99, typical_kg=99, high_kg=99))


@given(drawn=gardens_with_plans())
def test_totals_are_the_referees_recount(drawn: tuple[Garden, frozenset[int]]) -> None:
    garden, chosen = drawn
    plan = plan_of(garden, taken_of(garden, chosen))
    told = plan.model_copy(update={"targets": (LIED,)})
    compared = compare_plans(
        [Entry("one", garden.scenario, CATALOGUE, told), Entry("other", garden.scenario, CATALOGUE, plan)]
    )
    judged = recount(garden, plan)
    for side in compared.sides:
        assert side.plan == judged
        for crop in side.figures.crops:
            outcomes = [outcome for outcome in judged.targets if outcome.crop == crop.crop]
            if outcomes:
                assert crop.wanted_kg == pytest.approx(sum(outcome.wanted_kg for outcome in outcomes))
                assert crop.fresh_half_months == sum(outcome.fresh_half_months for outcome in outcomes)
        got = sum(crop.got.typical_kg for crop in side.figures.crops)
        in_years = {
            (target.crop, year)
            for target in garden.scenario.household.targets
            for year in garden.scenario.planned_years
        }
        wished = {crop for crop, _ in in_years}
        others = sum(p.harvest.typical_kg for p in plan.plantings if p.crop not in wished)
        assert got == pytest.approx(sum(outcome.got.typical_kg for outcome in judged.targets) + others)
    assert compared.differences == ()


def test_what_has_no_plan_is_planned() -> None:
    few = scenario(targets=[{"crop": "lettuce", "kg": 2}])
    many = scenario(targets=[{"crop": "lettuce", "kg": 4}])
    compared = compare_plans(
        [Entry("few", few, CATALOGUE), Entry("many", many, CATALOGUE)], Limits(seconds=None, effort=2)
    )
    assert [side.planned_here for side in compared.sides] == [True, True]
    assert [side.figures.crops[0].got.typical_kg for side in compared.sides] == [2, 4]
    assert [(d.crop, d.plants) for d in compared.differences] == [("lettuce", (4, 8))]


def test_one_side_is_no_comparison() -> None:
    with pytest.raises(GardenFault, match="two sides at least"):
        compare_plans([Entry("one", scenario(), CATALOGUE)])


def test_north_and_south_are_not_compared() -> None:
    north, south = scenario(), scenario(latitude=-50)
    entries = [Entry("north", north, CATALOGUE, blank_plan(north)), Entry("south", south, CATALOGUE, blank_plan(south))]
    with pytest.raises(GardenFault, match="north and south of the equator"):
        compare_plans(entries)


def test_a_plan_of_another_garden_is_refused() -> None:
    one = scenario(years=1)
    other = blank_plan(scenario(years=2))
    with pytest.raises(GardenFault, match="made for another one"):
        compare_plans([Entry("one", one, CATALOGUE, other), Entry("two", one, CATALOGUE, other)])


def test_a_garden_without_a_plan_says_so() -> None:
    impossible = scenario(must=[{"crop": "lettuce", "plants": 4000}])
    with pytest.raises(GardenFault, match="no plan was found for two"):
        compare_plans(
            [Entry("one", scenario(), CATALOGUE, blank_plan(scenario())), Entry("two", impossible, CATALOGUE)],
            Limits(seconds=None, effort=1),
        )


def test_a_change_says_what_it_costs() -> None:
    # 8 lettuces of 0.5 kg in two strips; one strip of them makes way for beans, which nobody wishes.
    place = scenario(["bean"], targets=[{"crop": "lettuce", "kg": 4}])
    garden = make_garden(place, CATALOGUE)
    both = planting("lettuce", (1, 2), "2027-05-08", "2027-07-31", "2027-07-07")
    one = both.model_copy(update={"strips": (1,), "plants": 4, "rows": 1})
    bean = planting("bean", (2,), "2027-05-29", "2027-07-31", "2027-07-13", kept=True)
    plans = [blank_plan(place, tuple(followed(garden, p) for p in these)) for these in ((both,), (one, bean))]
    compared = compare_plans([Entry(str(n), place, CATALOGUE, plan) for n, plan in enumerate(plans)])
    assert compared.same_wishes
    (change,) = compared.changes
    assert (change.side, len(change.changes.moves), len(change.changes.new), change.changes.unchanged) == (1, 1, 1, 0)
    assert [(each.crop, each.kg) for each in change.harvest] == [("bean", 2.0), ("lettuce", -2.0)]
    assert change.points is not None
    points = {each.goal: each.more for each in change.points}
    # Half a target of weight 2 is missed: 10 + 3 x 40 = 130 points at weight 1. The kept beans are charged as any.
    assert points["household-yield"] == 260
    assert points["few-plantings"] == 30


def test_other_wishes_have_no_points_in_common() -> None:
    few, many = (scenario(targets=[{"crop": "lettuce", "kg": kg}]) for kg in (2, 4))
    compared = compare_plans(
        [Entry("few", few, CATALOGUE, blank_plan(few)), Entry("many", many, CATALOGUE, blank_plan(many))]
    )
    assert not compared.same_wishes
    assert [change.points for change in compared.changes] == [None]
    longer = scenario(years=2)
    apart = compare_plans(
        [Entry("few", few, CATALOGUE, blank_plan(few)), Entry("longer", longer, CATALOGUE, blank_plan(longer))]
    )
    assert apart.changes == ()
