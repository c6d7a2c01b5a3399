"""Good neighbours, by hand: a point for each bed and season in which a helpful pair does not stand together."""

from __future__ import annotations

import pytest

from rotasolve.domain.catalogue import Catalogue
from rotasolve.domain.seasons import period_of
from rotasolve.files.crops import load_catalogue
from rotasolve.goals.good_neighbours import GoodNeighbours
from rotasolve.relations.ground.families import FamilyGraph
from rotasolve.relations.ground.garden import Garden, make_garden
from rotasolve.relations.ground.growing_season import heights_of_seasons
from rotasolve.solver.program import build_program
from tests.helpers.agree import least_cost, lost_both_ways, number_of, plan_of, taken_of
from tests.helpers.tiny import CATALOGUE, SOURCE, bed, catalogue, day, scenario
from tests.helpers.words import said

GOAL = GoodNeighbours()
HELPFUL = catalogue(
    neighbours=[{"one": "lettuce", "other": "potato", "effect": "good", "evidence": "some", "source": SOURCE}]
)


HARMFUL = {
    evidence: catalogue(
        neighbours=[{"one": "potato", "other": "lettuce", "effect": "bad", "evidence": evidence, "source": SOURCE}]
    )
    for evidence in ("some", "strong", "tradition")
}


def garden_of(beds: int = 1, known: Catalogue = HELPFUL) -> Garden:
    ground = [bed(name) for name in ("bed", "other")[:beds]]
    return make_garden(scenario(("lettuce", "potato"), ground), known)


def test_points_by_hand() -> None:
    # The season runs from the first half of April to the first half of October, so its middle is the first half of
    # July: lettuce (8 May to 31 July) and potato (17 April to 15 August) both stand then.
    garden = garden_of()
    lettuce, potato = number_of(garden, "lettuce", 2027, strip=1), number_of(garden, "potato", 2027, strip=2)
    assert lost_both_ways(garden, GOAL, []) == 1
    assert lost_both_ways(garden, GOAL, [potato]) == 1
    assert lost_both_ways(garden, GOAL, [lettuce, potato]) == 0


def test_two_beds_are_no_neighbourhood() -> None:
    # One pair in each of 2 beds.
    garden = garden_of(beds=2)
    apart = [number_of(garden, "potato", 2027), number_of(garden, "lettuce", 2027, bed="other")]
    assert lost_both_ways(garden, GOAL, apart) == 2


def test_standing_together_only_beside_the_height_of_the_season_counts_for_nothing() -> None:
    # Kale (from 17 July) and lettuce (to 31 July) share the second half of July alone.
    garden = make_garden(scenario(("kale", "lettuce"), [bed("bed")]), CATALOGUE)
    both = [number_of(garden, "kale", 2027, strip=1), number_of(garden, "lettuce", 2027, strip=2)]
    assert lost_both_ways(garden, GOAL, both) == 1


def test_tradition_alone_is_never_rewarded() -> None:
    # Bean and potato: evidence "tradition" in the tiny catalogue.
    garden = make_garden(scenario(("bean", "potato"), [bed("bed")]), CATALOGUE)
    assert lost_both_ways(garden, GOAL, []) == 0


@pytest.mark.parametrize(("evidence", "points"), [("some", 10), ("strong", 20), ("tradition", 0)])
def test_harm_costs_points_by_its_evidence(evidence: str, points: int) -> None:
    garden = garden_of(beds=2, known=HARMFUL[evidence])
    lettuce, potato = number_of(garden, "lettuce", 2027, strip=1), number_of(garden, "potato", 2027, strip=2)
    elsewhere = number_of(garden, "potato", 2027, bed="other")
    assert lost_both_ways(garden, GOAL, []) == 0
    assert lost_both_ways(garden, GOAL, [lettuce]) == 0
    assert lost_both_ways(garden, GOAL, [lettuce, potato]) == points
    assert lost_both_ways(garden, GOAL, [lettuce, elsewhere]) == 0


def test_harm_in_a_bed_of_counts_is_charged_as_in_one_of_strips() -> None:
    # Two strips: one lettuce, one potato, one point of harm in ten.
    garden = make_garden(scenario(("lettuce", "potato"), [bed("bed")]), HARMFUL["some"], exact=False)
    program = build_program(garden)
    taken = [int(choice.sowing.crop_year == 2027 and choice.block.strips == 1) for choice in garden.choices]
    alone = [one * (choice.sowing.crop == "potato") for one, choice in zip(taken, garden.choices, strict=True)]
    both, one = least_cost(program, taken), least_cost(program, alone)
    assert both is not None
    assert one is not None
    # The lettuce covers 6 half months of its strip, and its planting costs 30.
    assert both - one == 10 - 6 + 30


def test_says_which_pairs_stand_together_and_how_well_that_is_shown() -> None:
    garden = garden_of()
    chosen = [number_of(garden, "lettuce", 2027, strip=1), number_of(garden, "potato", 2027, strip=2)]
    assert said(GOAL.score(garden, plan_of(garden, taken_of(garden, chosen)))) == (
        "helpful neighbours together 1 time: lettuce and potato (some evidence)"
    )
    assert said(GOAL.score(garden, plan_of(garden, taken_of(garden, [])))) == (
        "helpful neighbours together 0 times (pairs in a bed at the height of a season)"
    )


def test_says_which_pairs_harm_each_other() -> None:
    garden = garden_of(known=HARMFUL["strong"])
    chosen = [number_of(garden, "lettuce", 2027, strip=1), number_of(garden, "potato", 2027, strip=2)]
    assert said(GOAL.score(garden, plan_of(garden, taken_of(garden, chosen)))) == (
        "helpful neighbours together 0 times (pairs in a bed at the height of a season); harmful ones 1 time: lettuce "
        "and potato (strong evidence)"
    )


def test_clover_under_broccoli_earns_nothing_and_tomato_beside_potato_costs() -> None:
    shipped = FamilyGraph(load_catalogue())
    crops = frozenset({"broccoli", "crimson clover", "red clover", "tomato", "potato"})
    assert shipped.pairs_beside("good", crops) == {}
    assert shipped.pairs_beside("bad", crops) == {("potato", "tomato"): "some"}


def test_the_height_of_the_season_is_its_middle() -> None:
    # 3 April, four weeks before the last frost, to 1 October: 13 half months, the seventh of them begins on 1 July.
    assert heights_of_seasons(garden_of()) == {2027: period_of(day("2027-07-01"))}
