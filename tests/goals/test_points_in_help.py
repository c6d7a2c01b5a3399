"""The page of goals says what each charges, to the point: its list is read and held to what the goals charge with."""

from __future__ import annotations

import re
from pathlib import Path

from rotasolve.domain.scenario import Rules
from rotasolve.goals import (
    GOALS,
    crop_order,
    empty_ground,
    few_changes,
    few_plantings,
    good_neighbours,
    household_yield,
    little_shade,
    longer_rest,
    order_of_demand,
    succession_cover,
)
from rotasolve.relations.ground.garden import make_garden
from tests.helpers.agree import goal_program
from tests.helpers.tiny import CATALOGUE, CLOVER, LETTUCE, bed, scenario

PAGE = (Path(__file__).parents[2] / "rotasolve" / "help" / "goals.md").read_text(encoding="utf-8")
SAID = {
    key: " ".join(text.split())
    for key, text in re.findall(r"^\* ([a-z-]+): ((?:.+\n)(?:  .+\n)*)", PAGE, flags=re.MULTILINE)
}


def test_every_goal_is_in_the_list_in_its_order() -> None:
    assert list(SAID) == [goal.key for goal in GOALS]


def test_a_target_missed_is_charged_as_said() -> None:
    (last, cheap), (middle, more), (first, dear) = household_yield.SHORTAGE
    assert last + middle + first == 100
    assert SAID["household-yield"].startswith(
        f"for each per cent of a yearly target short, times its weight: {cheap} point for the last {last} %, {more} "
        f"for the {middle} % before, {dear} for the first {first} %; for each per cent of a glut above "
        f"{household_yield.GLUT_FROM} %, {household_yield.POINTS_PER_GLUT} points."
    )
    assert household_yield.FINE == 10
    assert "to a tenth of a per cent" in SAID["household-yield"]
    assert f"{household_yield.POINTS_PER_MISSING} points for each per cent of a full" in SAID["household-yield"]


def test_plantings_are_charged_as_said() -> None:
    def points(words: str) -> tuple[int, int]:
        rules = Rules.model_validate({"few_plantings": words})
        # On a bed of one strip each sowing has one place, so its points stand on the choice itself.
        garden = make_garden(scenario(["lettuce", "clover"], [bed(strips=1)], rules=rules), CATALOGUE)
        charged = goal_program(garden, few_plantings.FewPlantings()).points
        by_crop = {garden.choices[number].sowing.crop: value for number, value in charged.items()}
        return by_crop[LETTUCE.name], by_crop[CLOVER.name]

    (food, cover), (much, much_cover), (little, little_cover) = (points(word) for word in ("usual", "much", "little"))
    assert SAID["few-plantings"] == (
        f"{food} points for each planting in a bed, {cover} for a green manure; {much} and {much_cover} if `much`, "
        f"{little} and {little_cover} if `little`."
    )


def test_changes_are_charged_as_said() -> None:
    usual, much, little = (few_changes.POINTS[word] for word in ("usual", "much", "little"))
    assert SAID["few-changes"] == (
        f"with `--from`, {usual} points for each planting of the earlier plan that is moved, changed or dropped; "
        f"{much:,} if `much`, {little} if `little`."
    )


def test_the_others_are_charged_as_said() -> None:
    assert SAID["succession-cover"].startswith(
        f"{succession_cover.POINTS} points times the weight for each half of a month"
    )
    assert (succession_cover.TENTHS, succession_cover.GLUT_FROM) == (10, 2 * succession_cover.WHOLE)
    assert "for each tenth missing of what is wished in half a month" in SAID["succession-cover"]
    assert SAID["longer-rest"] == f"{longer_rest.POINTS} points for each return of a family sooner than wished."
    assert SAID["empty-ground"].startswith(f"{empty_ground.POINTS} point for each strip empty for half a month")
    assert SAID["little-shade"].startswith(f"{little_shade.POINTS} point for each strip of another bed")
    assert SAID["little-shade"].endswith(f"each planting is charged in steps of {little_shade.STEP} points, rounded.")
    some, strong = crop_order.POINTS["some"], crop_order.POINTS["strong"]
    assert SAID["crop-order"].startswith(f"{some} points for each crop that is started in a garden year in a bed")
    assert SAID["crop-order"].endswith(f"; {strong} where the evidence is strong.")
    much, little = order_of_demand.MUCH_AMISS, order_of_demand.LITTLE_AMISS
    assert SAID["order-of-demand"].endswith(
        f": {much} points for heavy feeders a second year running, {much} for roots beside heavy feeders, {little} for "
        f"heavy feeders in a year after no legumes, {little} for light feeders in a year after legumes; three times as "
        "many if `much`."
    )
    assert order_of_demand.TIMES["much"] == 3
    assert SAID["good-neighbours"].startswith(f"{good_neighbours.POINTS} point for each pair that helps")
