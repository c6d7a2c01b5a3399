"""What beds take from one another: never less than rays past all of them, mirror symmetry, and a table of the field."""

from __future__ import annotations

import csv
from pathlib import Path

import numpy
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rotasolve.domain.bed import Bed
from rotasolve.relations.sun.bed_sun import may_want
from rotasolve.relations.sun.pair_losses import MOST_CM, PairLoss, bed_box, pair_loss
from rotasolve.relations.sun.shade_rays import grid, light_left, turned
from rotasolve.relations.sun.site_sun import middle_of
from rotasolve.relations.sun.sunlight import sky_of
from tests.helpers.tiny import scenario

DATA = Path(__file__).parents[2] / "data"


def placed(name: str, east: float, north: float, breadth: float = 120, depth: float = 240, bearing: float = 0) -> Bed:
    return Bed(name=name, length=depth, width=breadth, east=east, north=north, bearing=bearing)


def lost_by_rays(casters: list[tuple[Bed, float]], receiver: Bed, latitude: float, month: int, fine: int) -> float:
    """Return the minutes a day lost to all casters at once, looked at from ``fine`` x ``fine`` points."""
    east, north = middle_of(receiver)
    field = grid(receiver.breadth_cm, receiver.depth_cm, fine, fine)
    points = turned(field + numpy.array([receiver.east, receiver.north]), east, north, receiver.bearing)
    sky = sky_of(latitude, month)
    left = light_left([bed_box(bed, height) for bed, height in casters], points, sky).mean(axis=0)
    return float((1 - left) @ sky.hours) * 60


@st.composite
def beds_around(draw: st.DrawFn) -> tuple[Bed, list[tuple[Bed, float]]]:
    """Draw a bed and up to six others around it, each with the height of its crop."""
    casters = []
    spots = [(-1, 0), (1, 0), (0, -1), (0, 1), (-1, -1), (1, -1), (2, 0), (0, -2)]
    for east, north in draw(st.lists(st.sampled_from(spots), min_size=1, max_size=6, unique=True)):
        gap = draw(st.integers(5, 120))
        bed = placed(
            f"bed {east} {north}",
            east * (120 + gap),
            north * (240 + gap),
            bearing=draw(st.sampled_from([0, 0, 10, -15])),
        )
        casters.append((bed, float(draw(st.integers(5, 350)))))
    return placed("receiver", 0, 0, bearing=draw(st.sampled_from([0, 5]))), casters


@settings(max_examples=150, deadline=None)
@given(
    beds_around(),
    st.floats(0, 100),
    st.sampled_from([-37.0, 35.0, 43.5, 51.5, 60.0]),
    st.integers(1, 12),
)
def test_the_sum_is_never_below_rays_past_all_of_them(
    garden: tuple[Bed, list[tuple[Bed, float]]], low: float, latitude: float, month: int
) -> None:
    receiver, casters = garden
    summed = sum(pair_loss(bed, receiver, latitude, month).minutes_at(height - low) for bed, height in casters)
    # Seen from the top of a crop of height ``low``: the same rays over boxes that much lower.
    higher = [(bed, height - low) for bed, height in casters if height > low]
    assert summed >= lost_by_rays(higher, receiver, latitude, month, 12) - 1e-6
    # Nor below a closer look from 24 x 24 points.
    assert summed >= lost_by_rays(higher, receiver, latitude, month, 24) - 1e-6


def test_losses_grow_with_height_and_are_nothing_at_none() -> None:
    loss: PairLoss = pair_loss(placed("a", 130, 0), placed("b", 0, 0), 51.5, 6)
    assert loss.minutes[0] == loss.thousandths[0] == 0
    assert list(loss.minutes) == sorted(loss.minutes)
    assert loss.minutes_at(-5) == 0
    assert loss.minutes_at(MOST_CM * 3) == loss.minutes[-1]
    # Rounded up to 10 cm steps: 41 cm counts as 50.
    assert loss.minutes_at(41) == loss.minutes_at(50) >= loss.minutes_at(40)


@pytest.mark.parametrize("month", [3, 6, 9, 12])
@pytest.mark.parametrize("latitude", [51.5, -37.0])
def test_east_and_west_mirror_each_other(latitude: float, month: int) -> None:
    middle = placed("m", 0, 0)
    east, west = placed("e", 170, 30), placed("w", -170, 30)
    assert pair_loss(east, middle, latitude, month) == pair_loss(west, middle, latitude, month)


def test_the_equator_side_mirrors_between_hemispheres() -> None:
    # The same declination half a year apart only to within a degree: 3 % of the beam.
    middle = placed("m", 0, 0)
    north = pair_loss(placed("s", 0, -290), middle, 44, 4).thousandths_at(150)
    south = pair_loss(placed("n", 0, 290), middle, -44, 10).thousandths_at(150)
    assert north == pytest.approx(south, abs=30)
    assert pair_loss(placed("n", 0, 290), middle, 44, 4).thousandths_at(150) == 0


def rows_of_data() -> list[dict[str, str]]:
    lines = [line for line in (DATA / "bed_shade.csv").read_text("utf-8").splitlines() if line[:1] != "#"]
    return list(csv.DictReader(lines))


def test_whole_beds_against_a_table_computed_apart() -> None:
    rows = rows_of_data()
    assert len(rows) > 100
    for row in rows:
        latitude = float(row["latitude"])
        breadth, depth = (120.0, 240.0) if row["long_axis"] == "N-S" else (240.0, 120.0)
        pole = 1 if latitude > 0 else -1
        east, north = {
            "pole": (0.0, pole * (depth + 50)),
            "equator": (0.0, -pole * (depth + 50)),
            "east": (breadth + 50, 0.0),
            "west": (-breadth - 50, 0.0),
        }[row["tall_side"]]
        loss = pair_loss(
            placed("tall", east, north, breadth, depth),
            placed("low", 0, 0, breadth, depth),
            latitude,
            int(row["month"]),
        )
        step = 100 * float(row["height_m"])
        assert loss.thousandths_at(step) / 1000 == pytest.approx(float(row["beam_lost"]), abs=0.025), row
        # Minutes are rounded up field by field: never less, and not much more.
        assert -0.05 <= loss.minutes_at(step) / 60 - float(row["hours_lost"]) <= 0.6, row


def test_far_apart_nothing_is_asked() -> None:
    garden = scenario(beds=[placed("a", 0, 0), placed("b", 5000, 0)])
    near = scenario(beds=[placed("a", 0, 0), placed("b", 125, 0), placed("c", -125, 0)])
    assert not may_want(garden, garden.beds[0], 6, 360, 200)
    assert may_want(near, near.beds[0], 6, 600, 200)
