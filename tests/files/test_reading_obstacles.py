"""Obstacles, turned beds and typed hours in a scenario file: what is read, refused and warned about."""

from __future__ import annotations

import pytest

from rotasolve.errors import InputFault
from rotasolve.files.crops import load_catalogue
from rotasolve.files.scenarios import read_scenario_text, scenario_hash, warnings_of
from tests.cli.conftest import TINY

WALL = "{name: wall, kind: wall, east: 1 m, north: 2 m, length: 3 m, height: 2 m}"


def text_with(*obstacles: str, bed: str = "") -> str:
    listed = "".join(f"  - {one}\n" for one in obstacles)
    return TINY.replace("width: 1.2 m}", f"width: 1.2 m{bed}}}") + (f"obstacles:\n{listed}" if listed else "")


def faults_in(text: str) -> str:
    with pytest.raises(InputFault) as refusal:
        read_scenario_text(text, "g.yaml", load_catalogue())
    return str(refusal.value)


def test_measures_are_read() -> None:
    tree = "{name: pear, kind: tree, east: 9 m, north: 1 m, diameter: 2 m, height: 4 m, light_through: 0.3}"
    scenario = read_scenario_text(text_with(WALL, tree), "g.yaml", load_catalogue())
    wall, pear = scenario.obstacles
    assert (wall.breadth_cm, wall.depth_cm, wall.height) == (300, 25, 200)
    assert (pear.breadth_cm, pear.depth_cm, pear.light_through) == (200, 200, 0.3)


@pytest.mark.parametrize(
    ("obstacle", "said"),
    [
        (WALL.replace("length: 3 m", "diameter: 3 m"), "a wall is measured by its length and width"),
        (WALL.replace("kind: wall", "kind: tree"), "a tree is measured by its diameter"),
        (WALL.replace("kind: wall", "kind: shed"), "a shed needs a width"),
        (WALL.replace("height: 2 m", "height: 2 m, clear_below: 3 m"), "clear_below must lie below the height"),
        (WALL.replace("height: 2 m", "height: 2"), "a length needs a unit"),
        (WALL.replace("kind: wall", "kind: walk"), "did you mean 'wall'"),
        (WALL.replace("name: wall", "name: Long Bed"), "a bed is called 'Long Bed' already"),
    ],
)
def test_what_is_refused(obstacle: str, said: str) -> None:
    assert said in faults_in(text_with(obstacle))


def test_two_obstacles_of_one_name_are_refused() -> None:
    assert "obstacle 1 is called 'wall' already" in faults_in(text_with(WALL, WALL))


def test_a_bed_is_turned_by_no_more_than_half_a_right_angle() -> None:
    assert "'bearing' must be at most 45" in faults_in(text_with(bed=", bearing: 60"))


@pytest.mark.parametrize("word", ["strict", "by shadow", "true", "false"])
def test_the_order_of_heights_has_four_words(word: str) -> None:
    scenario = read_scenario_text(TINY + f"rules: {{height_order: {word}}}\n", "g.yaml", load_catalogue())
    assert scenario.rules.height_order in (word, word == "true")


def test_warnings_tell_what_casts_shade_on_nothing_and_what_is_dark() -> None:
    catalogue = load_catalogue()
    scenario = read_scenario_text(text_with(WALL, bed=", sun_hours: 4"), "g.yaml", catalogue)
    said = " ".join(warnings_of(scenario, catalogue))
    assert "the obstacles cast shade on nothing" in said
    assert "Bed 'long bed' has 4 h of sun a day in midsummer" in said


def test_the_hash_knows_of_sun_only_where_it_is_given() -> None:
    catalogue = load_catalogue()
    plain, same, walled = (
        read_scenario_text(text, "g.yaml", catalogue)
        for text in (TINY, TINY.replace("width: 1.2 m}", "width: 1.2 m, bearing: 0}"), text_with(WALL))
    )
    assert scenario_hash(plain) == scenario_hash(same) != scenario_hash(walled)
