"""Least sun, by hand and against every plan of small gardens: dark strips, and beds that tall neighbours darken."""

from __future__ import annotations

from typing import Any

import pytest

from rotasolve.domain.bed import Bed
from rotasolve.domain.seasons import MONTHS
from rotasolve.relations.ground.garden import Garden, make_garden
from rotasolve.relations.sun.bed_sun import bed_minutes, strip_minutes
from rotasolve.rules.least_sun import SunClaim
from tests.helpers.agree import accepted, broken, found_by, model_accepts, number_of, plan_of, posted, taken_of
from tests.helpers.tiny import bed, catalogue, crop, figure, scenario, start
from tests.helpers.words import said

KEY = "least-sun"


def sunny(name: str, family: str, height: float, hours: float, weeks: float = 1) -> Any:
    """Return a crop started so many weeks after 1 May and ripe after 60 days, that needs so many hours of sun."""
    return crop(name, family, height, starts=[start(weeks, 60)], sun_hours_least=figure(hours, "hours per day"))


CROPS = (
    sunny("herb", "mints", 40, 2),
    sunny("root", "carrots", 40, 4),
    sunny("fruit", "nightshades", 40, 6),
    sunny("reed", "grasses", 400, 0.5),
)
"""Ground from 8 May (half month of the first half of May) to 20 July, picked from 7 July."""
SHELF = catalogue(CROPS)
NAMES = ["herb", "root", "fruit", "reed"]


def wall_south_of(north: float, height: float = 300, **more: Any) -> dict[str, Any]:
    """Return a wall without end from west to east, its face at ``north``."""
    return {
        "name": "wall",
        "kind": "wall",
        "east": -9000,
        "north": north - 25,
        "length": 9900,
        "width": 25,
        "height": height,
        **more,
    }


def garden_of(beds: list[Bed], exact: bool | None = True, **more: Any) -> Garden:
    rules = {"height_order": False, "least_sun": "with neighbours", **more.pop("rules", {})}
    return make_garden(scenario(NAMES, beds, rules=rules, **more), SHELF, exact)


def behind_a_wall(**more: Any) -> Garden:
    """Return a bed of 3 strips whose equator side touches a wall of 3 m, at 50 north."""
    return garden_of([bed(strips=3, east=0, north=0)], obstacles=[wall_south_of(0)], **more)


def test_a_strip_behind_a_wall_is_for_crops_that_bear_shade() -> None:
    # Reach at noon in early May: 300 x tan(50 - 16) = 202 cm; in mid-June 300 x tan(26.6) = 150 cm. Strip 3 lies 0 to
    # 60 cm from the wall: sun only before and after the wall's own line, when the sun stands north of east and west.
    garden = behind_a_wall()
    light = strip_minutes(garden.scenario, garden.beds["bed"], 5)
    assert light[0] > light[1] > light[2]
    assert 4 * 60 < light[2] < 6 * 60
    for name, strip, free in (("fruit", 3, False), ("root", 3, True), ("herb", 3, True)):
        assert accepted(garden, [number_of(garden, name, 2027, strip)]) is free


def test_the_sun_behind_an_endless_wall_by_hand() -> None:
    # In June at 50 north the sun crosses east and west at about tan(23.3)/tan(50) = cos(68.8 deg): 4.6 h from noon, so
    # of half a day of 8.1 h the last 3.5 h are north of east or west: 7 h a day reach the foot of the wall.
    garden = behind_a_wall()
    strips = strip_minutes(garden.scenario, garden.beds["bed"], 6)
    assert strips[2] / 60 == pytest.approx(7.7, abs=0.8)


def test_counted_beds_bound_a_crop_by_the_bright_strips() -> None:
    exact, counted = behind_a_wall(), behind_a_wall(exact=False)
    light = strip_minutes(exact.scenario, exact.beds["bed"], 5)
    bright = sum(minutes >= 360 for minutes in light)
    assert 0 < bright < 3
    fruits = {choice.block.strips: n for n, choice in enumerate(counted.choices) if choice.sowing.crop == "fruit"}
    assert fruits.keys() == {1, 2, 3}
    for strips, fruit in fruits.items():
        assert model_accepts(counted, taken_of(counted, [fruit])) is (strips <= bright)


def test_hours_typed_in_go_before_the_wall() -> None:
    for hours, free in ((5.9, False), (6.0, True)):
        garden = garden_of([bed(strips=1, sun_hours=hours)], obstacles=[wall_south_of(0)])
        assert accepted(garden, [number_of(garden, "fruit", 2027)]) is free


def test_hours_typed_in_stand_for_all_months_of_high_sun() -> None:
    garden = garden_of([bed(strips=1, sun_hours=8)])
    assert [bed_minutes(garden.scenario, garden.beds["bed"], month) for month in (4, 6, 9)] == [480] * 3


def test_beds_of_which_nothing_is_known_are_not_judged() -> None:
    garden = garden_of([bed(strips=1)], obstacles=[wall_south_of(0)])
    assert posted(garden, KEY) == set()
    assert accepted(garden, [number_of(garden, "fruit", 2027)])


def test_off_where_the_grower_says_so() -> None:
    garden = behind_a_wall(rules={"least_sun": False})
    assert posted(garden, KEY) == set()
    assert accepted(garden, [number_of(garden, "fruit", 2027, 3)])


def test_in_winter_nothing_is_asked() -> None:
    late = (sunny("late", "cabbages", 40, 12, weeks=24),)
    garden = make_garden(
        scenario(["late"], [bed(strips=1, east=0, north=0)], rules={"height_order": False}), catalogue(late), True
    )
    assert [n for n in range(len(garden.choices)) if accepted(garden, [n])] == list(range(len(garden.choices)))


def test_says_what_it_asks() -> None:
    assert said(SunClaim("bed")) == "every crop in bed gets the sun it needs at the least"


def test_says_what_it_found() -> None:
    garden = behind_a_wall()
    chosen = taken_of(garden, [number_of(garden, "fruit", 2027, 3)])
    assert broken(garden, chosen) == {SunClaim("bed")}
    least = min((strip_minutes(garden.scenario, garden.beds["bed"], m)[2], m) for m in (5, 6, 7))
    assert found_by(garden, KEY, plan_of(garden, chosen)) == [
        "every crop in bed gets the sun it needs at the least, but fruit needs 6 h of sun a day, strip 3 gets "
        f"{least[0] / 60:.1f} h in {MONTHS[least[1] - 1]}"
    ]
