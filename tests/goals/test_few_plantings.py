"""Few plantings: what is charged, once for each sowing used in a bed, and what is not."""

from __future__ import annotations

from itertools import combinations_with_replacement

import pytest

from rotasolve.board import Board
from rotasolve.domain.plan import Plan
from rotasolve.domain.scenario import Scenario
from rotasolve.goals.few_plantings import FewPlantings
from rotasolve.referee import blank_plan
from rotasolve.relations.ground.garden import make_garden
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


def test_two_runs_of_one_start_in_a_bed_are_one_planting() -> None:
    other = LETTUCE.model_copy(update={"strips": (2,)})
    assert lost(LETTUCE, other) == 30
    assert lost(LETTUCE, other.model_copy(update={"bed": "other"})) == 60


def test_what_is_kept_is_not_charged() -> None:
    assert lost(LETTUCE.model_copy(update={"kept": True}), BEAN) == 30


@pytest.mark.parametrize(
    ("how_much", "points"), [("not at all", 0), ("little", 10 + 1), ("usual", 30 + 5), ("much", 90 + 15)]
)
def test_the_setting_says_how_much_it_counts(how_much: str, points: int) -> None:
    assert lost(LETTUCE, CLOVER, few_plantings=how_much) == points


@pytest.mark.parametrize("exact", [True, False])
def test_the_model_charges_what_is_counted(exact: bool) -> None:
    # By enumeration: every pair of choices set to one lot, the cheapest marks that the rows allow.
    wish: Scenario = scenario(["lettuce", "bean", "clover"], [bed("bed", 2)])
    garden = make_garden(wish, CATALOGUE, exact=exact)
    board = Board(garden)
    GOAL.cost(garden, board)
    choices = range(len(garden.choices))
    for used in combinations_with_replacement(choices, 2):
        names = {garden.choices[number].sowing.name for number in used}
        told = sum(5 if name.startswith("clover") else 30 for name in names)
        marks = {number: 1 for number in used}
        for row in board.rows:
            mark = next(number for number, factor in row.terms if factor < 0)
            if any(marks.get(number) for number, factor in row.terms if factor > 0):
                marks[mark] = 1
        assert sum(points * marks.get(number, 0) for number, points in board.points.items()) == told


def test_the_sentence_counts_them_for_each_bed_and_year() -> None:
    wish = scenario(["lettuce", "bean"], [bed("bed", 2), bed("other", 2)], years=2)
    plan: Plan = blank_plan(wish, (LETTUCE, BEAN))
    # 2 plantings in 2 beds and 2 years.
    assert said(GOAL.score(make_garden(wish, CATALOGUE), plan)) == "2 plantings, 0.5 for each bed and year"
