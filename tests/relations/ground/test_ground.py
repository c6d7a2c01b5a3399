"""Where the ground lies: strips, parts, runs, and beds in each other's way."""

from __future__ import annotations

from datetime import date

import pytest

from rotasolve.domain.bed import Bed
from rotasolve.relations.ground.lie_of_beds import Shading, part_and_row, rough_declination, runs_of, shadings
from tests.helpers.tiny import bed


@pytest.mark.parametrize(
    ("text", "degrees"),
    # Source: computed from the sun's path; equinoxes 0, solstices 23.44 degrees, and the days of the reach table.
    [
        ("03-20", 0),
        ("04-15", 9.5),
        ("05-15", 18.8),
        ("06-21", 23.44),
        ("07-30", 18.8),
        ("08-29", 9.5),
        ("12-21", -23.44),
    ],
)
def test_the_declination_is_right_within_a_degree(text: str, degrees: float) -> None:
    assert rough_declination(date.fromisoformat(f"2027-{text}")) == pytest.approx(degrees, abs=1)


def test_strips_are_counted_part_after_part() -> None:
    ground = bed(strips=3, width=240.0, parts=2)
    assert [part_and_row(ground, strip) for strip in range(1, 7)] == [(1, 1), (1, 2), (1, 3), (2, 1), (2, 2), (2, 3)]


def test_runs_never_straddle_two_parts() -> None:
    ground = bed(strips=3, width=240.0, parts=2)
    assert runs_of(ground, 2, 1) == [(1,), (2,), (3,), (4,), (5,), (6,)]
    assert runs_of(ground, 2, 2) == [(1, 2), (2, 3), (4, 5), (5, 6)]
    assert runs_of(ground, 2, 3) == [(1, 2, 3), (4, 5, 6)]
    assert runs_of(ground, 2, 4) == []


def placed(name: str, north: float, east: float = 0, **more: object) -> Bed:
    return bed(name, 2, east=east, north=north, **more)


def test_the_gap_lies_between_the_facing_edges() -> None:
    # 120 cm deep at 0 and at 200: 80 cm between.
    beds = (placed("low", 0), placed("high", 200))
    assert shadings(beds, south=False) == (Shading("low", "high", 80),)
    assert shadings(beds, south=True) == (Shading("high", "low", 80),)


def test_beds_that_touch_have_no_gap() -> None:
    assert shadings((placed("low", 0), placed("high", 120)), south=False) == (Shading("low", "high", 0),)


@pytest.mark.parametrize(("east", "seen"), [(119, True), (120, False), (-119, True), (-120, False)])
def test_beds_must_overlap_from_east_to_west(east: float, seen: bool) -> None:
    assert bool(shadings((placed("low", 0), placed("high", 200, east)), south=False)) is seen


def test_the_bed_behind_the_next_is_seen_too() -> None:
    beds = (placed("a", 0), placed("b", 200), placed("c", 400))
    # 400 - 120 = 280.
    assert Shading("a", "c", 280) in shadings(beds, south=False)
    assert len(shadings(beds, south=False)) == 3


def test_nothing_is_said_of_beds_without_a_place() -> None:
    assert shadings((placed("low", 0), bed("somewhere")), south=False) == ()
