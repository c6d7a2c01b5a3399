"""Little shade, by hand: strips of other beds times the share of the beam that a planting takes from them."""

from __future__ import annotations

from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from rotasolve.goals.little_shade import LittleShade
from rotasolve.relations.ground.garden import Garden, make_garden
from rotasolve.relations.sun.pair_losses import pair_loss
from tests.helpers.agree import goal_program, lost_both_ways, number_of, plan_of, taken_of
from tests.helpers.tiny import bed, catalogue, crop, scenario
from tests.helpers.words import said

GOAL = LittleShade()
SHELF = catalogue([crop("hop", "hemps", 300), crop("cress", "cabbages", 20)])
"""Both from 8 May to 31 July: the half months 9 to 14 of the year, two each of May, June and July."""


def garden_of(gap: float = 30, latitude: float = 50, exact: bool = True, strips: int = 2, **rules: Any) -> Garden:
    """Return a bed between two others: ``gap`` cm to the one in the east, as much again to the one in the west."""
    places = {"west": 0, "east": 120 + gap, "far west": -120 - gap}
    beds = [bed(name, strips, east=east, north=0) for name, east in places.items()]
    return make_garden(scenario(["hop", "cress"], beds, latitude=latitude, rules=rules), SHELF, exact)


def test_points_by_hand() -> None:
    garden = garden_of()
    west, beside = garden.beds["west"], [garden.beds["east"], garden.beds["far west"]]
    # Without published stages hop counts as three quarters, 225 cm, until half way to 7 July, 7 June: in the two half
    # months of May; from the first half of June on, which ends on the 15th, as 300 cm. The other beds have 2 strips
    # each, and one strip of hop is half of its own. 2.8 points are nearer one step of 5 than none.
    thousandths = sum(2 * pair_loss(west, other, 50, 5).thousandths_at(225) for other in beside)
    thousandths += sum(
        2 * pair_loss(west, other, 50, month).thousandths_at(300) for other in beside for month in (6, 7)
    )
    assert 2500 < thousandths * 2 / 2 < 3500
    points = 5
    assert lost_both_ways(garden, GOAL, [number_of(garden, "hop", 2027, 1, bed="west")]) == points
    two = [number_of(garden, "hop", 2027, strip, bed="west") for strip in (1, 2)]
    assert lost_both_ways(garden, GOAL, two) == 2 * points
    # One planting of both strips takes 2 x 2.5 to 3.5 points, 5 to 7 in all: nearest one step.
    assert 5000 <= thousandths * 2 < 7500
    assert lost_both_ways(garden, GOAL, [number_of(garden, "hop", 2027, 1, bed="west", size=2)]) == points


def test_counted_beds_lose_the_same() -> None:
    counted, exact = garden_of(exact=False), garden_of()
    hops = [n for n, c in enumerate(counted.choices) if c.sowing.crop == "hop" and c.bed == "west"]
    assert [counted.choices[n].block.strips for n in hops] == [1, 2]
    for strips, hop in enumerate(hops, start=1):
        values = [0] * len(counted.choices)
        values[hop] = 1
        chosen = [number_of(exact, "hop", 2027, 1, bed="west", size=strips)]
        assert goal_program(counted, GOAL).cost(values) == lost_both_ways(exact, GOAL, chosen)


def test_what_is_less_than_half_a_step_is_not_charged() -> None:
    # Only one bed lies beside the one in the east: half of what is counted above, and a little of the next bed but one.
    garden = garden_of()
    assert lost_both_ways(garden, GOAL, [number_of(garden, "hop", 2027, 1, bed="east")]) == 0


def test_low_crops_and_far_beds_cost_nothing() -> None:
    near, far = garden_of(), garden_of(gap=3000)
    assert lost_both_ways(near, GOAL, [number_of(near, "cress", 2027, 1, bed="west")]) == 0
    assert lost_both_ways(far, GOAL, [number_of(far, "hop", 2027, 1, bed="west")]) == 0


def test_off_without_places_or_where_the_grower_says_so() -> None:
    beds = [bed("west", 2), bed("east", 2)]
    unknown = make_garden(scenario(["hop"], beds), SHELF, True)
    for garden in (unknown, garden_of(least_sun=False)):
        assert lost_both_ways(garden, GOAL, [number_of(garden, "hop", 2027, 1, bed="west")]) == 0


def test_says_what_it_counts() -> None:
    garden = garden_of()
    plan = plan_of(garden, taken_of(garden, [number_of(garden, "hop", 2027, 1, bed="west")]))
    assert said(GOAL.score(garden, plan)) == "sun taken from other beds"


@settings(max_examples=60, deadline=None)
@given(st.sampled_from([-50, 43, 60]), st.sampled_from([5, 80]), st.data())
def test_charged_and_recounted_alike(latitude: float, gap: float, data: st.DataObject) -> None:
    garden = garden_of(gap, latitude, strips=3)
    chosen = data.draw(st.sets(st.sampled_from(range(len(garden.choices))), max_size=6))
    taken = [set(garden.choices[n].cells) for n in chosen]
    if sum(len(cells) for cells in taken) == len(set().union(*taken)):
        lost_both_ways(garden, GOAL, chosen)
