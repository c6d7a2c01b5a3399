"""Few changes: what counts as changed against an earlier plan, what it costs, and that the model charges the same."""

from __future__ import annotations

from typing import Any

import pytest

from rotasolve.domain.plan import Planting
from rotasolve.goals.few_changes import FewChanges, PlantingsChanged
from rotasolve.referee import blank_plan, score
from rotasolve.relations.ground.following import followed
from rotasolve.relations.ground.garden import Garden, make_garden
from rotasolve.relations.ground.keeping import Keeping, with_kept
from tests.helpers.agree import lost_both_ways
from tests.helpers.tiny import CATALOGUE, bed, day, planting, scenario
from tests.helpers.words import said

GOAL = FewChanges()
LETTUCE = planting("lettuce", (1,), "2027-05-08", "2027-07-31", "2027-07-07")
BEAN = planting("bean", (2,), "2027-05-29", "2027-07-31", "2027-07-13")


def garden_after(*before: Planting, exact: bool = True, **rules: Any) -> Garden:
    garden = make_garden(scenario(["lettuce", "bean"], [bed(strips=3)], rules=rules), CATALOGUE, exact)
    return with_kept(garden, Keeping(before=tuple(followed(garden, one) for one in before)))


def lost(garden: Garden, *plantings: Planting) -> int:
    return GOAL.score(garden, blank_plan(garden.scenario, plantings)).lost


@pytest.mark.parametrize(
    "change",
    [
        {"strips": (2,)},
        {"strips": (1, 2), "plants": 8},
        {"plants": 3},
        {"clear": "2027-07-20"},
        {"start": "2027-05-09"},
        {"way": "set out"},
        {"bed": "other"},
        {"crop": "bean"},
    ],
)
def test_whatever_changes_a_planting_is_charged_once(change: dict[str, Any]) -> None:
    garden = garden_after(LETTUCE, BEAN)
    assert lost(garden, LETTUCE, BEAN) == 0
    days = {key: day(value) for key, value in change.items() if key in ("clear", "start")}
    assert lost(garden, LETTUCE.model_copy(update={**change, **days}), BEAN) == 100


def test_what_goes_is_charged_and_what_is_new_is_not() -> None:
    garden = garden_after(LETTUCE, BEAN)
    assert lost(garden, BEAN) == 100
    assert lost(garden) == 200
    assert lost(garden_after(LETTUCE), LETTUCE, BEAN) == 0
    # That it is kept from now on, or that its harvest is counted otherwise, is no change.
    assert lost(garden_after(LETTUCE), LETTUCE.model_copy(update={"kept": True})) == 0


@pytest.mark.parametrize(("how_much", "points"), [("not at all", 0), ("little", 30), ("usual", 100), ("much", 1_000)])
def test_the_setting_says_how_much_it_counts(how_much: str, points: int) -> None:
    assert lost(garden_after(LETTUCE, few_changes=how_much)) == points


def test_a_plan_made_from_nothing_has_no_such_goal() -> None:
    garden = garden_after()
    assert "few-changes" not in [goal.goal for goal in score(garden, blank_plan(garden.scenario))]
    assert "few-changes" in [goal.goal for goal in score(garden_after(BEAN), blank_plan(garden.scenario))]


def test_the_model_charges_what_is_counted() -> None:
    # Lettuce for two strips with 7 plants is not on offer: it has a choice of its own, on just its strips.
    seven = LETTUCE.model_copy(update={"strips": (1, 2), "plants": 7})
    garden = garden_after(seven, BEAN.model_copy(update={"strips": (3,)}))
    (own,) = [n for n, choice in enumerate(garden.choices) if choice.block.plants == 7]
    assert lost_both_ways(garden, GOAL, [own]) == 100
    beans = [n for n, c in enumerate(garden.choices) if c.sowing.crop == "bean" and c.cells[0].strip == 3]
    assert [lost_both_ways(garden, GOAL, [own, number]) for number in beans] == [0] * len(beans)
    others = set(range(len(garden.choices))) - {own, *beans}
    assert {lost_both_ways(garden, GOAL, [number]) for number in others} == {200}


def test_in_a_bed_of_counts_only_its_own_choice_is_as_it_was() -> None:
    garden = garden_after(LETTUCE, exact=False)
    won = [n for n in range(len(garden.choices)) if lost_by_choice(garden, n) == 0]
    assert [garden.choices[n].sowing.name.partition(", ")[2] for n in won] == ["as before with 4 plants on (1,)"]


def lost_by_choice(garden: Garden, number: int) -> int:
    from tests.helpers.agree import goal_program

    program = goal_program(garden, GOAL)
    return program.cost([int(n == number) for n in range(len(program.upper))])


def test_the_sentence() -> None:
    garden = garden_after(LETTUCE, BEAN)
    scored = GOAL.score(garden, blank_plan(garden.scenario, (BEAN,)))
    assert scored.reached == PlantingsChanged(1, 2)
    assert said(scored) == "1 of 2 plantings of the earlier plan changed"
