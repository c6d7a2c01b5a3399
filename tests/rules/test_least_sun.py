"""Least sun, by hand and against every plan of small gardens: dark strips, and beds that tall neighbours darken."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rotasolve.domain.bed import Bed
from rotasolve.domain.claim import Claim
from rotasolve.domain.plan import Plan
from rotasolve.domain.seasons import MONTHS
from rotasolve.relations.ground.garden import Garden, make_garden
from rotasolve.relations.ground.plantings import planting_of
from rotasolve.relations.sun.bed_sun import bed_minutes, strip_minutes
from rotasolve.relations.sun.pair_losses import pair_loss
from rotasolve.rules.least_sun import LeastSun, shade_claim, sun_claim
from tests.helpers.agree import accepted, broken, found_by, lots_of, model_accepts, number_of, plan_of, posted
from tests.helpers.tiny import bed, catalogue, crop, figure, scenario, start
from tests.rules.test_hindrances import claims_it_cannot_meet, hindrances_of, sound_part

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
    fruit = next(n for n, choice in enumerate(counted.choices) if choice.sowing.crop == "fruit")
    for lots in range(4):
        values = [0] * len(counted.choices)
        values[fruit] = lots
        assert model_accepts(counted, tuple(values)) is (lots <= bright)


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


def hedged_in() -> Garden:
    """Return a bed between two beds 10 cm to the east and west of it, 1 m behind a wall."""
    beds = [bed("middle", 4, east=130, north=0), bed("west", 4, east=0, north=0), bed("east", 4, east=260, north=0)]
    return garden_of(beds, obstacles=[wall_south_of(-100)])


def test_east_and_west_neighbours_add_up() -> None:
    garden = hedged_in()
    middle, west, east = (garden.beds[name] for name in ("middle", "west", "east"))
    # May: the wall leaves 803 minutes a day, and 4 m of reed on one side takes 373 of them (young reed
    # counts as three quarters, 3 m, rounded up to 4): 430 are left beside one bed of reed, 57 beside two. Fruit needs
    # 360, herb 120.
    assert bed_minutes(garden.scenario, middle, 5) == pytest.approx(803, abs=10)
    lost = [pair_loss(other, middle, 50, 5).minutes_at(400) for other in (west, east)]
    assert lost[0] == lost[1] == pytest.approx(373, abs=8)
    fruit, herb, reed_west, reed_east = (
        number_of(garden, crop, 2027, 1, bed=name)
        for crop, name in (("fruit", "middle"), ("herb", "middle"), ("reed", "west"), ("reed", "east"))
    )
    assert accepted(garden, [fruit, reed_west])
    assert accepted(garden, [fruit, reed_east])
    assert not accepted(garden, [fruit, reed_west, reed_east])
    assert not accepted(garden, [herb, reed_west, reed_east])
    assert broken(garden, lots_of(garden, [fruit, reed_west, reed_east])) == {shade_claim("middle")}


def test_neighbours_are_counted_only_where_wished() -> None:
    wished = hedged_in()
    rules = wished.scenario.rules.model_copy(update={"least_sun": True})
    garden = make_garden(wished.scenario.model_copy(update={"rules": rules}), SHELF, exact=True)
    numbers = [number_of(garden, "fruit", 2027, 1, bed="middle")]
    numbers += [number_of(garden, "reed", 2027, 1, bed=name) for name in ("west", "east")]
    assert accepted(garden, numbers)
    assert shade_claim("middle") in posted(wished, KEY)
    assert shade_claim("middle") not in posted(garden, KEY)


def test_says_what_it_asks() -> None:
    assert LeastSun().say(Claim(rule=KEY, about=("bed",))) == "every crop in bed gets the sun it needs at the least"
    assert LeastSun().say(shade_claim("bed")) == (
        "the crops of other beds leave every crop in bed the sun it needs at the least"
    )


def test_says_what_it_found() -> None:
    garden = behind_a_wall()
    chosen = lots_of(garden, [number_of(garden, "fruit", 2027, 3)])
    assert broken(garden, chosen) == {sun_claim("bed")}
    least = min((strip_minutes(garden.scenario, garden.beds["bed"], m)[2], m) for m in (5, 6, 7))
    assert found_by(garden, KEY, plan_of(garden, chosen)) == [
        "every crop in bed gets the sun it needs at the least, but fruit needs 6 h of sun a day, strip 3 gets "
        f"{least[0] / 60:.1f} h in {MONTHS[least[1] - 1]}"
    ]


def test_says_who_takes_the_sun() -> None:
    garden = hedged_in()
    numbers = [number_of(garden, "fruit", 2027, 1, bed="middle")]
    numbers += [number_of(garden, "reed", 2027, 1, bed=name) for name in ("west", "east")]
    (found,) = found_by(garden, KEY, plan_of(garden, lots_of(garden, numbers)))
    # The first half month is told in which too little is left: 803 minutes less 2 x 373.
    assert "fruit needs 6 h of sun a day, the bed has 13.4 h in May, and crops take " in found
    assert "east 6.2 h" in found
    assert "west 6.2 h" in found


@st.composite
def shady_gardens(draw: st.DrawFn) -> tuple[Garden, frozenset[int]]:
    """Draw two or three small beds close together, perhaps behind a wall, and some of what may stand there."""
    latitude = draw(st.sampled_from([50, -50, 60]))
    gap = draw(st.sampled_from([5, 10, 300]))
    places = draw(st.sampled_from([[(0, 0), (120 + gap, 0)], [(0, 0), (0, 120 + gap)], [(0, 0), (-125, 0), (125, 0)]]))
    beds = [
        bed(f"bed {n}", draw(st.sampled_from([1, 2, 4])), east=east, north=north)
        for n, (east, north) in enumerate(places)
    ]
    if draw(st.booleans()):
        beds[0] = beds[0].model_copy(update={"sun_hours": draw(st.sampled_from([3.0, 7.0, 9.0]))})
    side = 380 if latitude < 0 else -30
    obstacles = draw(st.sampled_from([[], [wall_south_of(side)], [wall_south_of(side, 400, light_through=0.4)]]))
    garden = garden_of(beds, latitude=latitude, obstacles=obstacles)
    chosen = draw(st.sets(st.sampled_from(range(len(garden.choices))), min_size=1, max_size=5))
    return garden, frozenset(chosen)


@settings(max_examples=120, deadline=None)
@given(shady_gardens())
def test_model_and_referee_agree(question: tuple[Garden, frozenset[int]]) -> None:
    garden, chosen = question
    accepted(garden, chosen)


@settings(max_examples=120, deadline=None)
@given(shady_gardens(), st.data())
def test_hindrances_are_the_claims_that_cannot_be_met(
    question: tuple[Garden, frozenset[int]], data: st.DataObject
) -> None:
    garden, chosen = question
    plan: Plan = sound_part(garden, chosen)
    choice = data.draw(st.sampled_from(garden.choices))
    planting = planting_of(garden, choice.bed, choice.sowing, tuple(cell.strip for cell in choice.cells))
    told = hindrances_of(garden, plan, planting)
    assert {hindrance.claim for hindrance in told} == claims_it_cannot_meet(garden, plan, planting)
    assert all(hindrance.strips and hindrance.sentence for hindrance in told)
