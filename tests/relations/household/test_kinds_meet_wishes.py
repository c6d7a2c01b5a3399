"""Kinds count for a wish for their crop, unless they are wished by themselves; none is offered that nobody named."""

from __future__ import annotations

from typing import Any

from rotasolve.goals.household_yield import HouseholdYield
from rotasolve.goals.succession_cover import SuccessionCover
from rotasolve.referee import recount
from rotasolve.relations.ground.garden import Garden, make_garden
from rotasolve.relations.household.supply import supply_of
from rotasolve.rules.must_have import MustHaveCrops
from rotasolve.solver.neighbourhoods import shortages
from tests.helpers.agree import accepted, lost_both_ways, number_of, plan_of, taken_of
from tests.helpers.tiny import CROPS, bed, catalogue, crop, figure, scenario, start

# Sown on 29 May, 4 weeks after the last frost, picked 28 July to 10 August; 4 plants of 0.25 kg a strip give 1 kg.
LATE = crop(
    "late lettuce",
    "daisies",
    feeder="light",
    starts=[start(4, 60)],
    kind_of="lettuce",
    yield_per_plant=figure(0.25, "kg per plant"),
)
CATALOGUE = catalogue((*CROPS, LATE))


def garden_of(*targets: dict[str, Any], **more: Any) -> Garden:
    return make_garden(scenario(beds=[bed(strips=4)], targets=targets, **more), CATALOGUE)


BOTH = {"crop": "lettuce", "kg": 4, "kinds": ("lettuce", "late lettuce")}


def test_both_kinds_count_for_one_wish() -> None:
    # A strip of lettuce gives 2 kg, one of late lettuce 1 kg: 3 of 4 kg are 75 %, 10 x 1 + 15 x 3 = 55, twice; the late
    # one alone is 25 %: 10 + 120 + 25 x 6 = 280, twice.
    garden = garden_of(BOTH)
    early, late = number_of(garden, "lettuce", 2027, 1), number_of(garden, "late lettuce", 2027, 2)
    assert lost_both_ways(garden, HouseholdYield(), [early, late]) == 110
    assert lost_both_ways(garden, HouseholdYield(), [late]) == 560
    plan = recount(garden, plan_of(garden, taken_of(garden, [early, late])))
    assert [outcome.got.typical_kg for outcome in plan.targets] == [3]
    (supply,) = supply_of(garden, plan.plantings)
    assert (supply.crop, supply.total("harvested_g")) == ("lettuce", 3000)
    assert shortages(garden, taken_of(garden, [early, late])) == {("lettuce", 2027): 0.5}


def test_a_kind_that_is_wished_by_itself_counts_for_itself_alone() -> None:
    garden = garden_of({"crop": "lettuce", "kg": 4}, {"crop": "late lettuce", "kg": 2})
    early, late = number_of(garden, "lettuce", 2027, 1), number_of(garden, "late lettuce", 2027, 2)
    # Half of each: 130 twice, for two wishes.
    assert lost_both_ways(garden, HouseholdYield(), [early, late]) == 520
    assert garden.meeting("lettuce") == {"lettuce"}
    assert [
        supply.crop for supply in supply_of(garden, plan_of(garden, taken_of(garden, [early, late])).plantings)
    ] == [
        "lettuce",
        "late lettuce",
    ]


def test_a_kind_picks_in_months_in_which_its_crop_does_not() -> None:
    # Lettuce is picked 7 to 20 July, late lettuce 28 July to 10 August: in the half months from 16 July and 1 August.
    garden = garden_of({**BOTH, "fresh_from": 8, "fresh_to": 8})
    late = number_of(garden, "late lettuce", 2027, 1)
    # One of two half months has nothing: that from 16 August.
    assert 2 * lost_both_ways(garden, SuccessionCover(), [late]) == lost_both_ways(garden, SuccessionCover(), [])


def test_what_must_be_had_may_be_a_kind() -> None:
    garden = garden_of(BOTH, must=[{"crop": "lettuce", "plants": 8}])
    early, late = number_of(garden, "lettuce", 2027, 1), number_of(garden, "late lettuce", 2027, 2)
    assert accepted(garden, [early, late])
    assert not accepted(garden, [late])
    plan = plan_of(garden, taken_of(garden, [late]))
    assert [str(breach.claim.rule) for breach in MustHaveCrops().breaches(garden, plan)] == ["must-have"]


def test_no_kind_is_offered_that_nobody_named() -> None:
    alone = garden_of({"crop": "lettuce", "kg": 4})
    assert {choice.sowing.crop for choice in alone.choices} == {"lettuce"}
    only_late = garden_of({**BOTH, "kinds": ("late lettuce",)})
    assert {choice.sowing.crop for choice in only_late.choices} == {"late lettuce"}
