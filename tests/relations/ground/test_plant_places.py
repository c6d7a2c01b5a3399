"""Where plants stand: sums by hand, and what holds of every planting that the spacing rule lets pass."""

from __future__ import annotations

import itertools
import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rotasolve.domain.plan import Planting
from rotasolve.domain.strips import part_breadth_cm, parts_of, strip_depth_cm, strips_per_part
from rotasolve.relations.ground.blocks import SPACING_TOLERANCE, block_of
from rotasolve.relations.ground.garden import Garden, make_garden
from rotasolve.relations.ground.lie_of_beds import part_and_row, places_of
from rotasolve.relations.ground.plant_places import PlantPlace, plant_places, plant_rows, row_distance_cm
from tests.helpers.tiny import bed, catalogue, crop, figure, planting, scenario


def garden_with(spacing: float, distance: float, least: int = 0, **more: object) -> Garden:
    fields: dict[str, Any] = {
        "spacing_in_row": figure(spacing, "cm"),
        "spacing_between_rows": figure(distance, "cm"),
        **({"least_rows": figure(least, "rows")} if least else {}),
    }
    one = crop("lettuce", "daisies", **fields)
    return make_garden(scenario(["lettuce"], [bed(**more)]), catalogue([one]))  # type: ignore[arg-type]


def of(strips: tuple[int, ...], rows: int, plants: int) -> Planting:
    return planting("lettuce", strips, "2027-05-08", "2027-07-31", rows=rows, plants=plants)


def places(garden: Garden, one: Planting) -> list[tuple[float, float]]:
    return [(place.from_west_cm, place.from_pole_cm) for place in plant_places(garden, one)]


def test_one_row_in_the_middle_of_its_strip() -> None:
    # 120 cm hold 4 plants 30 cm apart: from 15 to 105; strip 2 reaches from 60 to 120 cm, so the row lies at 90.
    assert places(garden_with(30, 60), of((2,), 1, 4)) == [(15, 90), (45, 90), (75, 90), (105, 90)]


def test_two_rows_share_a_strip_and_stand_in_the_middle_of_its_breadth() -> None:
    # 2 plants 45 cm apart take 45 cm between them: (120 - 45) / 2 = 37.5 is left at each side. Rows at 15 and 45.
    assert places(garden_with(45, 30), of((1,), 2, 4)) == [(37.5, 15), (82.5, 15), (37.5, 45), (82.5, 45)]


def test_a_row_that_takes_two_strips_lies_on_the_line_between_them() -> None:
    assert places(garden_with(60, 90), of((1, 2), 1, 2)) == [(30, 60), (90, 60)]


def test_the_second_part_begins_where_the_first_ends() -> None:
    # Two parts of 120 cm with 2 strips each: strip 4 is the second from the pole in the part that begins at 120 cm.
    garden = garden_with(60, 60, width=240.0, parts=2)
    assert places(garden, of((4,), 1, 2)) == [(150, 90), (210, 90)]


def test_the_last_row_may_be_shorter_and_begins_at_the_west_too() -> None:
    # 7 plants in 2 rows: 4 and 3.
    found = plant_places(garden_with(30, 30), of((1,), 2, 7))
    assert [place.row for place in found] == [1, 1, 1, 1, 2, 2, 2]
    assert found[4] == PlantPlace(15, 45, 2)
    # 5 plants in 4 rows: 2, 2 and 1 fill three of them.
    assert [row.plants for row in plant_rows(garden_with(30, 15), of((1,), 4, 5))] == [2, 2, 1]


def test_too_many_plants_are_drawn_crowded_but_all() -> None:
    found = places(garden_with(30, 60), of((1,), 1, 9))
    assert len(found) == 9
    assert found[0][0] == pytest.approx(120 / 9 / 2)
    assert found[8][0] == pytest.approx(120 - 120 / 9 / 2)


def test_strips_that_do_not_lie_side_by_side_hold_their_plants_all_the_same() -> None:
    garden = garden_with(30, 60, strips=4)
    assert {place.from_pole_cm for place in plant_places(garden, of((1, 4), 2, 8))} == {30, 210}


def test_the_distance_between_rows_is_that_of_the_places() -> None:
    # 120 cm for 3 rows; of 4 rows 3 are filled by 5 plants, 2 + 2 + 1.
    assert row_distance_cm(of((1, 2), 3, 12), bed()) == 40
    assert row_distance_cm(of((1, 2), 4, 5), bed()) == 40
    # One strip in each of two parts: 60 cm for 2 rows that run through both.
    assert row_distance_cm(of((1, 3), 2, 16), bed(width=240.0, parts=2)) == 30


def test_a_row_through_two_parts_is_told_part_by_part_and_stands_in_the_middle_of_both() -> None:
    # 240 cm hold 5 plants 45 cm apart (225): (240 - 4 x 45) / 2 = 30 at each end, 30, 75, 120, 165, 210. The one on the
    # border counts to the eastern part, which begins at 120 cm.
    garden = garden_with(45, 60, width=240.0, parts=2)
    one = of((1, 3), 1, 5)
    assert places(garden, one) == [(30, 30), (75, 30), (120, 30), (165, 30), (210, 30)]
    assert [(row.from_west_cm, row.plants, row.row) for row in plant_rows(garden, one)] == [(30, 2, 1), (120, 3, 1)]


@st.composite
def planted(draw: st.DrawFn) -> tuple[Garden, Planting]:
    """Draw a planting of a whole or not quite filled block in some bed, as the spacing rule lets it pass."""
    spacing = draw(st.sampled_from([2.5, 5, 7.62, 10, 15.24, 30, 41.9, 45, 60, 91.44]))
    distance = draw(st.sampled_from([7.62, 10, 15.24, 25, 30, 45, 60.96, 75, 90, 121.92]))
    least = draw(st.sampled_from([0, 0, 0, 3, 4]))
    depth = draw(st.sampled_from([25.0, 30.0, 50.0, 60.0, 60.96, 80.0]))
    strips = draw(st.integers(1, 8))
    breadth = draw(st.sampled_from([80.0, 120.0, 121.92, 250.0, 640.0]))
    # A strip's depth need not divide the bed's: what is left over lies at the side away from the pole.
    deep = strips * depth + draw(st.sampled_from([0.0, 7.0]))
    garden = garden_with(
        spacing,
        distance,
        least,
        length=max(deep, breadth),
        width=min(deep, breadth),
        runs="north-south" if deep >= breadth else "east-west",
        strip=depth,
        parts=draw(st.integers(1, 2)),
    )
    ours = garden.beds["bed"]
    size = draw(st.integers(1, strips_per_part(ours))), draw(st.integers(1, parts_of(ours)))
    block = block_of(garden.crops["lettuce"], ours, *size)
    if block is None:
        return garden_with(30, 60), of((1,), 1, 4)
    place = draw(st.sampled_from(places_of(ours, *size)))
    fewest = 1 if draw(st.booleans()) else block.plants
    return garden, of(place, block.rows, draw(st.integers(fewest, block.plants)))


@given(planted())
def test_every_plant_stands_in_its_strips_and_keeps_its_distances(case: tuple[Garden, Planting]) -> None:
    garden, one = case
    ours, kind = garden.beds["bed"], garden.crops["lettuce"]
    in_row, between = kind.spacing_in_row.usual, kind.spacing_between_rows.usual
    found = plant_places(garden, one)
    assert len(found) == one.plants
    parts = {part_and_row(ours, strip)[0] for strip in one.strips}
    rows = [part_and_row(ours, strip)[1] for strip in one.strips]
    west, breadth = (min(parts) - 1) * part_breadth_cm(ours), len(parts) * part_breadth_cm(ours)
    depth = strip_depth_cm(ours)
    near, far = (min(rows) - 1) * depth, max(rows) * depth
    # What the rule allows: a row, or the plants of a row, may be 2 per cent of one distance short of room.
    give_in_row, give_between = SPACING_TOLERANCE * in_row + 1e-6, SPACING_TOLERANCE * between + 1e-6
    for place in found:
        assert west + in_row / 2 - give_in_row <= place.from_west_cm <= west + breadth - in_row / 2 + give_in_row
        assert near + between / 2 - give_between <= place.from_pole_cm <= far - between / 2 + give_between
        assert 0 <= place.from_west_cm <= ours.breadth_cm
        assert 0 <= place.from_pole_cm <= ours.depth_cm
    by_row: dict[int, list[PlantPlace]] = {}
    for place in found:
        by_row.setdefault(place.row, []).append(place)
    assert len(by_row) <= one.rows
    lines = [row[0].from_pole_cm for row in by_row.values()]
    assert all(b - a >= between - give_between for a, b in itertools.pairwise(lines))
    for row in by_row.values():
        assert len({place.from_pole_cm for place in row}) == 1
        gaps = [b.from_west_cm - a.from_west_cm for a, b in itertools.pairwise(row)]
        assert all(gap >= in_row - give_in_row for gap in gaps)
        assert all(math.isclose(gap, gaps[0]) for gap in gaps)
