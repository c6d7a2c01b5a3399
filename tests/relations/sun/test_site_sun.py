"""The sun of strips, places and spots: which strip is which, what a crop beside it takes, and what is left."""

from __future__ import annotations

from typing import Any

import pytest

from rotasolve.domain.bed import Bed
from rotasolve.relations.ground.garden import make_garden
from rotasolve.relations.sun.bed_sun import strip_minutes
from rotasolve.relations.sun.crop_shade import periods_in, standing_in, sun_under_plan
from rotasolve.relations.sun.place_sun import SunBeside
from rotasolve.relations.sun.site_sun import strip_corner, strip_points, sun_table
from rotasolve.relations.sun.spots import NewBed, best_spots
from tests.helpers.tiny import CATALOGUE, bed, planting, scenario

CROPS = {crop.name: crop for crop in CATALOGUE.crops}


def wall(north: float, height: float = 300) -> dict[str, Any]:
    return {
        "name": "wall",
        "kind": "wall",
        "east": -9000,
        "north": north,
        "length": 9900,
        "height": height,
        "width": 20,
    }


def test_strips_count_from_the_pole_side() -> None:
    ground = bed(strips=3, east=100, north=50)
    # 3 strips of 60 cm from 50 to 230 cm north: strip 1 begins at 170 in the north, at 50 in the south.
    assert strip_corner(ground, 1, south=False) == (100, 170)
    assert strip_corner(ground, 3, south=False) == (100, 50)
    assert strip_corner(ground, 1, south=True) == (100, 50)


def test_parts_lie_from_west_to_east() -> None:
    ground = Bed(name="long", length=600, width=120, runs="east-west", strip=60, parts=2, east=0, north=0)
    assert strip_corner(ground, 3, south=False) == (300, 60)


def test_a_turned_bed_turns_about_its_middle() -> None:
    straight, askew = bed(strips=2, east=0, north=0), bed(strips=2, east=0, north=0, bearing=45)
    both = [strip_points(straight, 1, False), strip_points(straight, 2, False)]
    around = [strip_points(askew, 1, False), strip_points(askew, 2, False)]
    for points in (both, around):
        assert (points[0].mean(axis=0) + points[1].mean(axis=0)) / 2 == pytest.approx([60, 60])
    # Clockwise: the northern strip moves to the east.
    assert around[0].mean(axis=0)[0] > 75


@pytest.mark.parametrize("latitude", [51.5, -37.0])
def test_a_wall_on_the_equator_side_darkens_the_strip_next_to_it(latitude: float) -> None:
    ground = bed(strips=3, east=0, north=0)
    garden = scenario(beds=[ground], latitude=latitude, obstacles=[wall(180 if latitude < 0 else -20)])
    spring = 10 if latitude < 0 else 4
    hours = [sun.hours for sun in sun_table(garden, [spring])]
    assert hours[0] > hours[1] > hours[2]
    on_the_pole_side = scenario(beds=[ground], latitude=latitude, obstacles=[wall(-20 if latitude < 0 else 180)])
    assert all(sun.share > 0.97 for sun in sun_table(on_the_pole_side, [spring]))


def test_open_ground_has_all_the_sun() -> None:
    for sun in sun_table(scenario(beds=[bed(east=0, north=0)]), why=True):
        assert sun.hours == pytest.approx(sun.open_hours)
        assert sun.share == pytest.approx(1)
        assert sun.casters == ()


def test_casters_are_named_darkest_first_and_sum_to_no_less() -> None:
    tree = {"name": "tree", "kind": "tree", "east": 200, "north": 0, "diameter": 200, "height": 400}
    garden = scenario(beds=[bed(strips=3, east=0, north=0)], obstacles=[tree, wall(-40)])
    for sun in sun_table(garden, [4, 9], why=True):
        shares = [caster.share for caster in sun.casters]
        assert shares == sorted(shares, reverse=True)
        assert sum(caster.hours for caster in sun.casters) >= sun.open_hours - sun.hours - 1e-9
        assert all(caster.from_hour <= caster.to_hour for caster in sun.casters)
    # A tree in the east takes the morning.
    tree_hours = [c for sun in sun_table(garden, [6], why=True) for c in sun.casters if c.name == "tree"]
    assert all(caster.to_hour < 12.5 for caster in tree_hours)


def test_months_of_a_garden_year_in_the_south_run_from_july() -> None:
    # July 2027 is half month 2027 x 24 + 12; June of the garden year 2027 is in 2028.
    assert periods_in(2027, 7, south=True) == (2027 * 24 + 12, 2027 * 24 + 13)
    assert periods_in(2027, 6, south=True) == (2028 * 24 + 10, 2028 * 24 + 11)
    assert periods_in(2027, 6, south=False) == (2027 * 24 + 10, 2027 * 24 + 11)


def test_a_crop_shades_its_neighbours_and_not_itself() -> None:
    beds = [bed("west", 2, east=0, north=0), bed("east", 2, east=130, north=0)]
    garden = scenario(["tomato"], beds)
    vines = planting("tomato", (1, 2), "2027-05-15", "2027-09-07", "2027-07-14", bed="west")
    (_, box), *rest = standing_in(garden, CROPS, [vines], 2027, 8)
    assert (rest, box.east, box.north, box.half_breadth, box.half_depth, box.top) == ([], 60, 60, 60, 60, 150)
    assert standing_in(garden, CROPS, [vines], 2027, 4) == []
    suns = {(sun.bed, sun.strip): sun for sun in sun_under_plan(garden, CROPS, [vines], 2027, [8], why=True)}
    assert suns["west", 1].share == pytest.approx(1)
    assert suns["east", 1].share < 0.85
    assert suns["east", 1].casters[0].name == "tomato in west"
    # The evening's sun is lost to a crop in the west.
    assert suns["east", 1].casters[0].from_hour > 11


def test_a_place_tells_its_least_sun() -> None:
    beds = [bed("west", 2, east=0, north=0), bed("east", 2, east=130, north=0), bed("lost", 2)]
    garden = make_garden(scenario(["tomato", "lettuce"], beds, obstacles=[wall(-60)]), CATALOGUE)
    here = planting("lettuce", (1,), "2027-05-08", "2027-07-31", bed="east")
    alone = SunBeside(garden, ()).least(here)
    assert alone is not None
    light = {month: strip_minutes(garden.scenario, garden.beds["east"], month)[0] for month in (5, 6, 7)}
    assert alone.month == min(light, key=lambda month: light[month])
    assert alone.hours == pytest.approx(min(light.values()) / 60, abs=0.01)
    vines = planting("tomato", (1, 2), "2027-05-15", "2027-09-07", "2027-07-14", bed="west")
    beside = SunBeside(garden, (vines,)).least(here)
    assert beside is not None
    assert beside.hours < alone.hours - 1
    assert SunBeside(garden, ()).least(planting("lettuce", (1,), "2027-05-08", "2027-07-31", bed="lost")) is None
    winter = planting("lettuce", (1,), "2027-11-01", "2027-12-31", bed="east")
    assert SunBeside(garden, ()).least(winter) is None


def test_typed_hours_are_those_of_midsummer() -> None:
    for latitude, month in ((50.0, 6), (-50.0, 12)):
        (sun, *_) = sun_table(scenario(beds=[bed(sun_hours=6)], latitude=latitude), [month])
        assert sun.typed
        assert sun.hours == pytest.approx(6)


def test_spots_mirror_between_morning_and_evening() -> None:
    garden = scenario(beds=[bed(east=0, north=0)])
    spots = {spot.bearing: spot for spot in best_spots(garden, NewBed(300, 100, (6,), tilt=20), (2000, 0))}
    # Nothing stands around: a pane to the east gets what one to the west gets, and one to the south the most.
    assert spots[0].share == pytest.approx(spots[180].share, abs=1e-6)
    assert spots[45].share == pytest.approx(spots[135].share, abs=1e-6)
    assert max(spots.values(), key=lambda spot: spot.share).bearing == 90


def test_a_row_from_north_to_south_shares_its_shade() -> None:
    # A row of 1 m in April at 50 north: its sides are alike where it runs north to south, and the nearer it comes to
    # east-west the more the pole side loses, to a few per cent of the beam right behind it.
    new = NewBed(4000, 120, (4,), row_cm=100)
    spots = {spot.bearing: spot for spot in best_spots(scenario(beds=[bed()]), new, (0, 0))}
    sides = [spots[bearing].darker_side or 0 for bearing in (0, 30, 60, 90)]
    assert sides == sorted(sides, reverse=True)
    assert sides[-1] < 0.1
