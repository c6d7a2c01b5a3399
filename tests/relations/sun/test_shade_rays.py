"""Shadows by hand, by an independent ray walk, and against hours computed apart from this project."""

from __future__ import annotations

import csv
import math
from pathlib import Path

import numpy
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rotasolve.relations.sun.shade_rays import Box, dimmed, grid, light_left, passes, turned
from rotasolve.relations.sun.sunlight import Sky, sky_of

DATA = Path(__file__).parents[2] / "data"


def moment(elevation: float, azimuth: float) -> Sky:
    """Return a sky of one moment."""
    one, angle = numpy.ones(1), math.radians(azimuth)
    slope = math.tan(math.radians(elevation))
    return Sky(one * math.sin(angle), one * math.cos(angle), one * slope, one, one, one * 12)


def wall(height: float, length: float = 1e7, bearing: float = 0, through: float = 0, bottom: float = 0) -> Box:
    """Return a thin wall from west to east through the origin."""
    return Box("wall", 0, 0, length / 2, 0.01, bearing, bottom, height, through)


@pytest.mark.parametrize(("elevation", "length"), [(45, 200), (30, 346.4), (60, 115.5), (10, 1134.3)])
def test_shadow_lengths_by_hand(elevation: float, length: float) -> None:
    # A wall of 200 cm, the sun due south: the shadow is 200 / tan(elevation) long: 200, 346.4, 115.5, 1134.3 cm.
    sky = moment(elevation, 180)
    points = numpy.array([[0.0, length - 1], [0.0, length + 1], [0.0, -50.0]])
    assert dimmed(wall(200), points, sky)[:, 0].tolist() == [1, 0, 0]


def test_a_slanting_sun_shortens_the_reach_across() -> None:
    # Azimuth 120, elevation 30: 346.4 cm long, 346.4 x cos 60 = 173.2 across the wall.
    points = numpy.array([[0.0, 172.0], [0.0, 174.5]])
    assert dimmed(wall(200), points, moment(30, 120))[:, 0].tolist() == [1, 0]


def test_a_turned_wall_casts_a_turned_shadow() -> None:
    # Turned 90 degrees the wall runs north-south: the sun due west throws its shadow 200 cm to the east at 45 degrees.
    points = numpy.array([[199.0, 0.0], [201.0, 0.0], [-199.0, 0.0]])
    assert dimmed(wall(200, bearing=90), points, moment(45, 270))[:, 0].tolist() == [1, 0, 0]


def test_light_goes_under_a_crown_and_partly_through_it() -> None:
    # A crown from 150 to 400 cm, 45 degrees: a point 100 cm off sees the sun under it, 200 cm off through it.
    box = Box("crown", 0, 0, 1e6, 0.01, 0, 150, 400, 0.25)
    points = numpy.array([[0.0, 100.0], [0.0, 200.0], [0.0, 401.0]])
    assert dimmed(box, points, moment(45, 180))[:, 0].tolist() == [0, 0.75, 0]
    assert light_left([box, box], points, moment(45, 180))[1, 0] == pytest.approx(0.0625)


def test_inside_a_box_there_is_no_sun() -> None:
    box = Box("shed", 0, 0, 100, 100, 30, 0, 200)
    enters, _ = passes(box, numpy.array([[10.0, -20.0]]), moment(80, 200))
    assert enters[0, 0] == 0


def test_points_turn_clockwise() -> None:
    # A quarter turn takes north to east.
    assert turned(numpy.array([[0.0, 1.0]]), 0, 0, 90)[0].tolist() == pytest.approx([1, 0])


def rows_of_data() -> list[dict[str, str]]:
    lines = [line for line in (DATA / "row_shade.csv").read_text("utf-8").splitlines() if line[:1] != "#"]
    return list(csv.DictReader(lines))


def kept(row: dict[str, str], sky: Sky) -> tuple[float, float]:
    """Return hours and beam share of the strip of a row of the table, looked at from 7 lines across."""
    latitude, length = float(row["latitude"]), float(row["row_length_m"]) * 100
    across = (numpy.arange(7) + 0.5) * 30 / 7 - 15 + 100 * float(row["distance_m"])
    along = numpy.zeros(1) if math.isinf(length) else (numpy.arange(7) + 0.5) * length / 7 - length / 2
    far, side = (part.ravel() for part in numpy.meshgrid(across, along))
    length = min(length, 1e7)
    if row["row"] == "E-W":
        sign = (1 if row["strip_on"] == "pole side" else -1) * (1 if latitude > 0 else -1)
        box, points = wall(100 * float(row["height_m"]), length), numpy.stack([side, sign * far], axis=1)
    else:
        box, points = wall(100 * float(row["height_m"]), length, 90), numpy.stack([far, side], axis=1)
    left = light_left([box], points, sky).mean(axis=0)
    return float(left @ sky.hours), float(left @ sky.beam)


def test_hours_and_beam_beside_a_row_with_every_day_of_the_month() -> None:
    rows = rows_of_data()
    assert len(rows) > 200
    for row in rows:
        sky = sky_of(float(row["latitude"]), int(row["month"]), (), 5)
        hours, share = kept(row, sky)
        assert sky.day_hours == pytest.approx(float(row["day_hours"]), abs=0.03)
        assert hours == pytest.approx(float(row["hours"]), abs=0.15), row
        assert share == pytest.approx(float(row["beam"]), abs=0.012), row


def test_rows_at_a_bearing_with_every_day_of_the_month() -> None:
    lines = [line for line in (DATA / "bearing_shade.csv").read_text("utf-8").splitlines() if line[:1] != "#"]
    rows = list(csv.DictReader(lines))
    assert len(rows) > 50
    for row in rows:
        facing = math.radians(float(row["strip_faces"]))
        across = (numpy.arange(7) + 0.5) * 30 / 7 - 15 + 100 * float(row["distance_m"])
        points = numpy.stack([across * math.sin(facing), across * math.cos(facing)], axis=1)
        sky = sky_of(float(row["latitude"]), int(row["month"]), (), 5)
        # Not turned the wall runs from west to east, a bearing of 90 degrees.
        box = wall(100 * float(row["height_m"]), bearing=float(row["row_bearing"]) - 90)
        left = light_left([box], points, sky).mean(axis=0)
        assert float(left @ sky.hours) == pytest.approx(float(row["hours"]), abs=0.15), row
        assert float(left @ sky.beam) == pytest.approx(float(row["beam"]), abs=0.012), row


def test_three_days_of_the_month_are_near_all_of_them() -> None:
    """The three days and 15-minute moments used in tables: what they cost against 2-minute steps on every day."""
    errors = []
    for row in rows_of_data():
        hours, share = kept(row, sky_of(float(row["latitude"]), int(row["month"])))
        errors.append((abs(hours - float(row["hours"])), abs(share - float(row["beam"]))))
    # Largest in the month of the equinox, on the pole side of a row without end, where the reach is the same all day.
    assert max(error for error, _ in errors) < 0.5
    assert max(error for _, error in errors) < 0.03
    assert sum(error for error, _ in errors) / len(errors) < 0.04


def stopped_by_walking(box: Box, point: tuple[float, float], elevation: float, azimuth: float) -> bool:
    """Follow one ray in small steps and look whether it is ever inside the box: slow, and sharing no formula."""
    angle, turn = math.radians(azimuth), math.radians(box.bearing)
    for step in range(1, 4000):
        far = step * 0.5
        east, north = point[0] + far * math.sin(angle) - box.east, point[1] + far * math.cos(angle) - box.north
        across = east * math.cos(turn) - north * math.sin(turn)
        along = east * math.sin(turn) + north * math.cos(turn)
        height = far * math.tan(math.radians(elevation))
        if height > box.top:
            return False
        inside = abs(across) < box.half_breadth and abs(along) < box.half_depth
        if inside and box.bottom < height < box.top:
            return True
    return False


@settings(max_examples=150, deadline=None)
@given(
    st.tuples(st.integers(-200, 200), st.integers(-200, 200)),
    st.tuples(st.integers(20, 120), st.integers(20, 120), st.integers(-45, 45), st.integers(0, 80)),
    st.tuples(st.integers(8, 80), st.integers(0, 359)),
)
def test_a_ray_walked_step_by_step_agrees(
    point: tuple[int, int], shape: tuple[int, int, int, int], sun: tuple[int, int]
) -> None:
    breadth, depth, bearing, bottom = shape
    box = Box("box", 0.3, 0.7, breadth, depth, bearing, bottom, bottom + 100)
    # A ray that only grazes the box, within 2 cm, may go either way.
    sizes = [(-2.0, 2.0), (2.0, -2.0)]
    verdicts = [
        stopped_by_walking(
            Box("", 0.3, 0.7, breadth + wide, depth + wide, bearing, bottom - wide, bottom + 100 + wide), point, *sun
        )
        for wide, _ in sizes
    ]
    ours = bool(dimmed(box, numpy.array([point], dtype=float), moment(*sun))[0, 0])
    assert ours == verdicts[0] or verdicts[0] != verdicts[1]


def test_a_grid_lies_in_the_middles_of_equal_fields() -> None:
    assert grid(40, 20, 2, 1).tolist() == [[10, 10], [30, 10]]
