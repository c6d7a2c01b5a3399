"""Shadows at noon, beds in each other's way, and strips, parts and runs of any bed."""

from __future__ import annotations

import math
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rotasolve.domain.bed import Bed
from rotasolve.domain.scenario import Rules
from rotasolve.domain.seasons import period_of
from rotasolve.domain.site import Site
from rotasolve.relations.ground.lie_of_beds import (
    TROPIC_DEGREES,
    Shading,
    height_class,
    part_and_row,
    places_of,
    reach_factor,
    rectangle_of,
    rough_declination,
    shadings,
)
from tests.helpers.tiny import bed, crop, site

YEAR = [date(2027, 1, 1) + timedelta(days=number) for number in range(365)]


def place(latitude: float) -> Site:
    return Site.model_validate(site(latitude))


def fourier_declination(day: date) -> float:
    """Return the sun's declination in degrees by Spencer's Fourier series (Search 2(5), 1971), from memory."""
    turn = 2 * math.pi * (day.timetuple().tm_yday - 1) / 365
    return math.degrees(
        0.006918
        - 0.399912 * math.cos(turn)
        + 0.070257 * math.sin(turn)
        - 0.006758 * math.cos(2 * turn)
        + 0.000907 * math.sin(2 * turn)
        - 0.002697 * math.cos(3 * turn)
        + 0.00148 * math.sin(3 * turn)
    )


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


def test_the_declination_is_right_within_a_degree_and_a_bit_on_every_day() -> None:
    # The series itself is right: the solstice and the equinox of 2027.
    assert fourier_declination(date(2027, 6, 21)) == pytest.approx(23.44, abs=0.05)
    assert fourier_declination(date(2027, 3, 20)) == pytest.approx(0, abs=0.5)
    assert max(abs(rough_declination(day) - fourier_declination(day)) for day in YEAR) < 1.3


@pytest.mark.parametrize("latitude", [30, 35, 40, 45, 50, 55, 60, -30, -35, -45, -60])
def test_the_reach_is_the_longest_noon_shadow_of_the_half_month(latitude: float) -> None:
    # The law: a row h higher reaches h x tan(|latitude| - declination), the declination taken towards its own summer,
    # and the equinox reach in winter.
    where, sign = place(latitude), 1 if latitude > 0 else -1
    for period in range(2027 * 24, 2028 * 24):
        days = [day for day in YEAR if period_of(day) == period]
        angle = abs(latitude) - max(min(sign * fourier_declination(day) for day in days), 0)
        shorter, longer = (math.tan(math.radians(angle + off)) for off in (-1.3, 1.3))
        assert shorter <= reach_factor(where, period) <= longer


@pytest.mark.parametrize(
    ("latitude", "solstice", "equinox"),
    # Source: computed from the law at declination 23.44 and 0 degrees.
    [
        (35, 0.20, 0.70),
        (40, 0.30, 0.84),
        (45, 0.40, 1.00),
        (50, 0.50, 1.19),
        (55, 0.61, 1.43),
        (60, 0.74, 1.73),
    ],
)
def test_the_shortest_and_the_longest_reach_of_the_year(latitude: float, solstice: float, equinox: float) -> None:
    for sign in (1, -1):
        found = [reach_factor(place(sign * latitude), 2027 * 24 + step) for step in range(24)]
        assert min(found) == pytest.approx(solstice, abs=0.02)
        assert max(found) == pytest.approx(equinox, abs=0.006)


@given(st.floats(24, 60), st.floats(24, 60), st.integers(2027 * 24, 2028 * 24 - 1))
def test_the_nearer_the_pole_the_longer_the_shadow(one: float, other: float, period: int) -> None:
    near, far = sorted((one, other))
    assert reach_factor(place(near), period) <= reach_factor(place(far), period)
    assert reach_factor(place(-near), period) <= reach_factor(place(-far), period)


@pytest.mark.parametrize(("latitude", "off"), [(23.4, True), (-23.4, True), (0, True), (23.5, False), (-23.5, False)])
def test_between_the_tropics_the_rule_is_off(latitude: float, off: bool) -> None:
    assert 23.4 < TROPIC_DEGREES < 23.5
    assert (reach_factor(place(latitude), period_of(date(2027, 3, 10))) == 0) is off


@pytest.mark.parametrize(("height", "steps", "found"), [(44.9, (45, 100), 0), (45, (45, 100), 1), (100, (45, 100), 2)])
def test_a_crop_as_high_as_the_step_belongs_above_it(height: float, steps: tuple[float, float], found: int) -> None:
    assert height_class(crop("beet", "f", height=height), Rules(height_steps_cm=steps)) == found


def laid(name: str, east: float, north: float, length: float, width: float, runs: str = "north-south") -> Bed:
    return bed(name, length=length, width=width, runs=runs, east=east, north=north)


def test_a_yard_of_three_beds_by_hand() -> None:
    # "long" runs east-west, so it is 100 cm deep and 400 cm broad, from 0 to 100 north. "left" stands 60 cm behind it,
    # 160 to 260; "right" stands 200 cm behind long and begins at 120 east, where left ends: they share no noon line.
    yard = (
        laid("long", 0, 0, 400, 100, "east-west"),
        laid("left", 0, 160, 100, 120),
        laid("right", 120, 300, 200, 120),
    )
    assert set(shadings(yard, south=False)) == {Shading("long", "left", 60), Shading("long", "right", 200)}
    assert set(shadings(yard, south=True)) == {Shading("left", "long", 60), Shading("right", "long", 200)}


def test_beds_side_by_side_do_not_shade_each_other() -> None:
    # One reaches 10 cm past the other to the north and overlaps it neither way round.
    assert shadings((laid("a", 0, 0, 300, 120), laid("b", 60, 290, 300, 120)), south=False) == ()


PLACES = st.lists(
    st.tuples(st.integers(0, 20), st.integers(0, 20), st.integers(1, 8), st.integers(1, 8)), min_size=2, max_size=5
)


@given(PLACES)
def test_the_southern_yard_is_the_northern_one_turned_over(places: list[tuple[int, int, int, int]]) -> None:
    def yard(turned: bool) -> tuple[Bed, ...]:
        return tuple(
            laid(f"bed {number}", 50 * east, 50 * (-north - deep if turned else north), 50 * deep, 50 * broad)
            for number, (east, north, deep, broad) in enumerate(places)
        )

    found = set(shadings(yard(False), south=False))
    assert set(shadings(yard(True), south=True)) == found
    assert {Shading(s.receiver, s.caster, s.gap_cm) for s in shadings(yard(False), south=True)} == found
    # Nobody stands in the shadow of its own shadow.
    assert not {(s.caster, s.receiver) for s in found} & {(s.receiver, s.caster) for s in found}


def placed(name: str, north: float, east: float = 0, **more: object) -> Bed:
    return bed(name, 2, east=east, north=north, **more)


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


def test_strips_are_counted_part_after_part() -> None:
    ground = bed(strips=3, width=240.0, parts=2)
    assert [part_and_row(ground, strip) for strip in range(1, 7)] == [(1, 1), (1, 2), (1, 3), (2, 1), (2, 2), (2, 3)]


def test_places_lie_in_one_part_or_alike_in_neighbouring_parts() -> None:
    # Strips 1 to 3 in the western part, 4 to 6 in the eastern one.
    ground = bed(strips=3, width=240.0, parts=2)
    assert places_of(ground, 1) == [(1,), (2,), (3,), (4,), (5,), (6,)]
    assert places_of(ground, 2) == [(1, 2), (2, 3), (4, 5), (5, 6)]
    assert places_of(ground, 3) == [(1, 2, 3), (4, 5, 6)]
    assert places_of(ground, 4) == []
    assert places_of(ground, 1, 2) == [(1, 4), (2, 5), (3, 6)]
    assert places_of(ground, 2, 2) == [(1, 2, 4, 5), (2, 3, 5, 6)]
    assert places_of(ground, 1, 3) == []


@given(st.integers(1, 8), st.integers(1, 5), st.integers(1, 9), st.integers(1, 6))
def test_places_are_all_rectangles_of_their_size(depth: int, parts: int, deep: int, broad: int) -> None:
    ground = bed(strips=depth, width=120.0 * parts, parts=parts)
    places = places_of(ground, deep, broad)
    assert len(places) == len(set(places)) == max(0, parts - broad + 1) * max(0, depth - deep + 1)
    for place in places:
        assert place == tuple(sorted(place))
        where = [part_and_row(ground, strip) for strip in place]
        west, pole = where[0]
        assert where == [(west + part, pole + row) for part in range(broad) for row in range(deep)]
        assert 1 <= west <= west + broad - 1 <= parts
        assert 1 <= pole <= pole + deep - 1 <= depth
        assert rectangle_of(ground, place) == (deep, broad)


@pytest.mark.parametrize(
    ("strips", "size"),
    [
        ((2,), (1, 1)),
        ((2, 1), (2, 1)),
        ((1, 2, 3, 4, 5, 6), (3, 2)),
        ((3, 6), (1, 2)),  # the last strip of either part
        ((3, 4), None),  # numbers that follow each other, but at opposite ends of two parts
        ((1, 3), None),  # a gap
        ((1, 2, 4), None),  # a corner is missing
        ((1, 1), None),  # named twice
        ((1, 1, 2, 4), None),
        ((), None),
    ],
)
def test_strips_that_fill_a_rectangle(strips: tuple[int, ...], size: tuple[int, int] | None) -> None:
    assert rectangle_of(bed(strips=3, width=240.0, parts=2), strips) == size
