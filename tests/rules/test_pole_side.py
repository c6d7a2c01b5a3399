"""Pole side inside a bed, by hand: low, middle and tall crops from the equator side to the pole side."""

from __future__ import annotations

from itertools import permutations

import pytest

from rotasolve.domain.plan import Planting
from rotasolve.files.crops import load_catalogue
from rotasolve.referee import blank_plan
from rotasolve.relations.ground.garden import Garden, make_garden
from rotasolve.rules.pole_side import OrderClaim
from tests.helpers.agree import accepted, found_by, number_of, posted
from tests.helpers.tiny import CATALOGUE, bed, catalogue, crop, planting, scenario
from tests.helpers.words import said

KEY = "pole-side"
BACK_TO_FRONT = ["sweet pepper", "kale", "leaf lettuce"]
"""Common practice, no source: kale stands behind lettuce as seen from the sun, peppers behind both."""


def summer(crop: str, strip: int) -> Planting:
    return planting(crop, (strip,), "2027-06-01", "2027-08-31")


def shipped(latitude: float, **rules: object) -> Garden:
    return make_garden(scenario(BACK_TO_FRONT, [bed(strips=3)], latitude=latitude, rules=rules), load_catalogue())


def order_is_kept(garden: Garden, crops: tuple[str, ...]) -> bool:
    """Return whether the crops may stand in this order, the first in strip 1 at the pole side."""
    standing = tuple(summer(name, strip) for strip, name in enumerate(crops, start=1))
    return not found_by(garden, KEY, blank_plan(garden.scenario, standing))


@pytest.mark.parametrize("latitude", [52, -35])
def test_peppers_behind_kale_behind_lettuce(latitude: float) -> None:
    # Strip 1 lies at the pole side in both hemispheres: north of the bed in the north, south of it in the south.
    garden = shipped(latitude)
    assert [order for order in permutations(BACK_TO_FRONT) if order_is_kept(garden, order)] == [tuple(BACK_TO_FRONT)]


@pytest.mark.parametrize(
    ("latitude", "on"), [(23.44, True), (23.43, False), (0, False), (-23.43, False), (-23.44, True)]
)
def test_off_near_the_equator(latitude: float, on: bool) -> None:
    # Nearer the equator than the tilt of the earth's axis, 23.44 degrees, the noon sun changes sides.
    garden = shipped(latitude)
    assert order_is_kept(garden, ("leaf lettuce", "sweet pepper")) is not on
    assert (posted(garden, KEY) != set()) is on


def test_the_grower_may_turn_it_off() -> None:
    garden = shipped(52, height_order=False)
    assert order_is_kept(garden, ("leaf lettuce", "kale", "sweet pepper"))
    assert posted(garden, KEY) == set()


@pytest.mark.parametrize(("height", "free"), [(44, True), (45, False), (99, False), (100, False)])
def test_heights_are_compared_by_class(height: float, free: bool) -> None:
    # Steps 45 and 100 cm: up to 44 cm a crop is as low as lettuce; from 45 on it is of a higher class.
    records = [crop("lettuce", "daisies", 30), crop("beet", "goosefoots", height)]
    garden = make_garden(scenario(["lettuce", "beet"]), catalogue(records))
    lettuce, beet = number_of(garden, "lettuce", 2027, strip=1), number_of(garden, "beet", 2027, strip=2)
    assert accepted(garden, [lettuce, beet]) is free
    # The other way round is right for every height.
    assert accepted(garden, [number_of(garden, "beet", 2027, strip=1), number_of(garden, "lettuce", 2027, strip=2)])


def test_middle_and_tall_are_kept_apart_too() -> None:
    # 99 cm is middle, 100 cm tall.
    records = [crop("maize", "grasses", 100), crop("beet", "goosefoots", 99)]
    garden = make_garden(scenario(["maize", "beet"]), catalogue(records))
    for maize, beet, free in ((1, 2, True), (2, 1, False)):
        chosen = [number_of(garden, "maize", 2027, maize), number_of(garden, "beet", 2027, beet)]
        assert accepted(garden, chosen) is free


def test_the_grower_may_choose_other_steps() -> None:
    # With steps 20 and 25 lettuce (30 cm) is tall too.
    garden = make_garden(scenario(["lettuce", "potato"], rules={"height_steps_cm": (20, 25)}), CATALOGUE)
    chosen = [number_of(garden, "lettuce", 2027, strip=1), number_of(garden, "potato", 2027, strip=2)]
    assert accepted(garden, chosen)


def test_crops_that_never_meet_may_stand_in_any_order() -> None:
    # Bean to 31 July and clover from 21 August; potato to 15 August meets the bean alone.
    garden = make_garden(scenario(["potato", "clover", "bean"]), CATALOGUE)
    potato = number_of(garden, "potato", 2027, strip=2)
    assert accepted(garden, [potato, number_of(garden, "clover", 2027, strip=1)])
    assert not accepted(garden, [potato, number_of(garden, "bean", 2027, strip=1)])


def test_the_days_on_which_they_meet_count() -> None:
    # Cleared on 31 May, set out on 1 June: never together; on 31 May both stand.
    garden = shipped(52)
    for clear, free in (("2027-05-31", True), ("2027-06-01", False)):
        lettuce = planting("leaf lettuce", (1,), "2027-04-10", clear)
        plan = blank_plan(garden.scenario, (lettuce, summer("sweet pepper", 2)))
        assert (found_by(garden, KEY, plan) == []) is free


def test_each_part_of_a_bed_has_its_own_order() -> None:
    # Two parts of 2 strips: strips 1, 2 in the west, 3, 4 in the east. Strip 3 is at the pole side again.
    ground = bed(strips=2, width=240.0, parts=2)
    garden = make_garden(scenario(["lettuce", "potato"], [ground]), CATALOGUE)
    for potato, lettuce, free in ((3, 2, True), (2, 3, True), (2, 1, False), (4, 3, False)):
        chosen = [number_of(garden, "potato", 2027, potato), number_of(garden, "lettuce", 2027, lettuce)]
        assert accepted(garden, chosen) is free


def test_says_what_it_asks() -> None:
    assert said(OrderClaim("south bed")) == ("in south bed a taller crop never stands on the sunny side of a lower one")


def test_says_what_it_found() -> None:
    garden = shipped(52)
    plan = blank_plan(garden.scenario, (summer("kale", 2), summer("leaf lettuce", 1)))
    assert found_by(garden, KEY, plan) == [
        "in bed a taller crop never stands on the sunny side of a lower one, but kale (middle, 75 cm) "
        "on the sunny side of leaf lettuce (low, 23 cm) from 1 June 2027"
    ]
