"""Good neighbours, by hand: a point for each month of the season in which a helpful pair does not share a bed."""

from __future__ import annotations

from rotasolve.goals.good_neighbours import GoodNeighbours
from rotasolve.relations.garden import Garden, make_garden
from tests.helpers.agree import lost_both_ways, lots_of, number_of, plan_of
from tests.helpers.tiny import CATALOGUE, bed, scenario

GOAL = GoodNeighbours()


def garden_of(*allowed: str, beds: int = 1) -> Garden:
    ground = [bed(name) for name in ("bed", "other")[:beds]]
    return make_garden(scenario(allowed or ("kale", "lettuce"), ground), CATALOGUE)


def test_points_by_hand() -> None:
    # Looked at from the 16th in April to September: 6 months. Kale (from 17 July) and lettuce (to 31 July) meet in
    # the second half of July alone: 5 are lost.
    garden = garden_of()
    kale, lettuce = number_of(garden, "kale", 2027, strip=1), number_of(garden, "lettuce", 2027, strip=2)
    assert lost_both_ways(garden, GOAL, []) == 6
    assert lost_both_ways(garden, GOAL, [kale]) == 6
    assert lost_both_ways(garden, GOAL, [kale, lettuce]) == 5


def test_two_beds_are_no_neighbourhood() -> None:
    # 6 months in each of 2 beds.
    garden = garden_of(beds=2)
    apart = [number_of(garden, "kale", 2027), number_of(garden, "lettuce", 2027, bed="other")]
    assert lost_both_ways(garden, GOAL, apart) == 12


def test_tradition_alone_is_never_rewarded() -> None:
    # Bean and potato: evidence "tradition" in the tiny catalogue.
    assert lost_both_ways(garden_of("bean", "potato"), GOAL, []) == 0


def test_says_how_often_they_stand_together() -> None:
    garden = garden_of()
    chosen = [number_of(garden, "kale", 2027, strip=1), number_of(garden, "lettuce", 2027, strip=2)]
    assert GOAL.score(garden, plan_of(garden, lots_of(garden, chosen))).sentence == (
        "helpful neighbours together in 1 half months (one count a month)"
    )
