"""Few plantings: what is charged, once for each block planted, and what is not."""

from __future__ import annotations

from itertools import combinations_with_replacement

import pytest

from rotasolve.board import Board
from rotasolve.domain.plan import Plan
from rotasolve.goals.few_plantings import FewPlantings
from rotasolve.referee import blank_plan
from rotasolve.relations.ground.garden import make_garden
from tests.helpers.agree import lost_both_ways
from tests.helpers.tiny import CATALOGUE, bed, planting, scenario
from tests.helpers.words import said

GOAL = FewPlantings()
LETTUCE = planting("lettuce", (1,), "2027-05-08", "2027-07-31", "2027-07-07")
BEAN = planting("bean", (2,), "2027-05-29", "2027-07-31", "2027-07-13")
CLOVER = planting("clover", (1,), "2027-08-21", "2027-10-15")


def lost(*plantings: object, **rules: object) -> int:
    wish = scenario(["lettuce", "bean", "clover"], rules=rules)
    plan = blank_plan(wish, plantings)  # type: ignore[arg-type]
    return GOAL.score(make_garden(wish, CATALOGUE), plan).lost


def test_each_planting_is_charged_and_a_green_manure_a_sixth() -> None:
    # Two food plantings at 30 points and a green manure at 30 / 6 = 5.
    assert lost(LETTUCE, BEAN) == 60
    assert lost(LETTUCE, BEAN, CLOVER) == 65
    assert lost() == 0


def test_two_blocks_of_one_start_in_a_bed_are_two_plantings() -> None:
    other = LETTUCE.model_copy(update={"strips": (2,)})
    assert lost(LETTUCE, other) == 60
    assert lost(LETTUCE.model_copy(update={"strips": (1, 2)})) == 30


def test_what_is_kept_is_not_charged() -> None:
    assert lost(LETTUCE.model_copy(update={"kept": True}), BEAN) == 30


@pytest.mark.parametrize(
    ("how_much", "points"), [("not at all", 0), ("little", 10 + 1), ("usual", 30 + 5), ("much", 90 + 15)]
)
def test_the_setting_says_how_much_it_counts(how_much: str, points: int) -> None:
    assert lost(LETTUCE, CLOVER, few_plantings=how_much) == points


def test_the_model_charges_what_is_counted() -> None:
    # Every pair of choices of which no strip is planted twice at once, and each choice alone.
    garden = make_garden(scenario(["lettuce", "bean", "clover"], [bed("bed", 2)]), CATALOGUE, exact=True)
    board = Board(garden)
    GOAL.cost(garden, board)
    for pair in combinations_with_replacement(range(len(garden.choices)), 2):
        used = set(pair)
        names = [garden.choices[number].sowing.crop for number in used]
        points = sum(5 if name == "clover" else 30 for name in names)
        assert lost_both_ways(garden, GOAL, used) == points
    # No mark is needed for it.
    assert len(board.names) == len(garden.choices)
    assert board.rows == []


def test_a_counted_bed_is_charged_by_the_block() -> None:
    garden = make_garden(scenario(["lettuce", "clover"], [bed("bed", 3)]), CATALOGUE, exact=False)
    board = Board(garden)
    GOAL.cost(garden, board)
    charged = {(c.sowing.crop, c.block.strips): board.points[n] for n, c in enumerate(garden.choices)}
    assert charged == {
        (name, strips): points for name, points in (("lettuce", 30), ("clover", 5)) for strips in (1, 2, 3)
    }


def test_the_sentence_counts_them_for_each_bed_and_year() -> None:
    wish = scenario(["lettuce", "bean"], [bed("bed", 2), bed("other", 2)], years=2)
    plan: Plan = blank_plan(wish, (LETTUCE, BEAN))
    # 2 plantings in 2 beds and 2 years.
    assert said(GOAL.score(make_garden(wish, CATALOGUE), plan)) == "2 plantings, 0.5 for each bed and year"
