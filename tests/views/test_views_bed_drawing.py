"""A bed's drawing: every plant found again in the SVG text at its place, on its family's ground, numbered, any bed."""

from __future__ import annotations

import gzip
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from itertools import combinations, pairwise
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest

from rotasolve.domain.plan import Plan, Planting
from rotasolve.domain.seasons import garden_year
from rotasolve.domain.strips import part_breadth_cm, strip_depth_cm, strips_per_part
from rotasolve.files.crops import load_catalogue
from rotasolve.files.plans import read_plan
from rotasolve.files.scenarios import read_scenario
from rotasolve.relations.ground.blocks import SPACING_TOLERANCE
from rotasolve.relations.ground.garden import Garden, make_garden
from rotasolve.relations.ground.lie_of_beds import part_and_row
from rotasolve.relations.ground.plant_places import plant_places
from rotasolve.views.drawings.bed_drawing import bed_drawing
from rotasolve.views.drawings.family_marks import family_marks
from rotasolve.views.drawings.season_drawing import season_drawing
from rotasolve.views.drawings.site_drawing import site_drawing
from rotasolve.views.words.bed_year import panels_of, say_stand
from rotasolve.views.words.look import Look
from tests.helpers import tiny
from tests.helpers.drawn import Box, Dots, dots_of, edges_of, grounds_of, lines_of, numbers_of, parsed

ROOT = Path(__file__).parents[2]
SHIPPED = ("cold-frame", "two-at-table", "family-garden", "southern-garden")


@cache
def shipped(name: str) -> tuple[Garden, Plan]:
    """Return a shipped scenario's garden and a plan that was made for it once, with distances as published."""
    catalogue = load_catalogue()
    scenario = read_scenario(ROOT / "scenarios" / f"{name}.yaml", catalogue)
    scenario = scenario.model_copy(update={"units": "inches"})
    plan = read_plan(ROOT / "tests" / "data" / "plans" / f"{name}.json").plan
    return make_garden(scenario, catalogue), plan


@cache
def allotment() -> tuple[Garden, Plan]:
    """Return the largest shipped garden and a full plan of it."""
    catalogue = load_catalogue()
    scenario = read_scenario(ROOT / "scenarios" / "allotment.yaml", catalogue)
    text = gzip.decompress((ROOT / "tests" / "data" / "allotment.plan.json.gz").read_bytes())
    plan = Plan.model_validate_json(text)
    return make_garden(scenario, catalogue), plan


def drawn_in(garden: Garden, plan: Plan, bed: str, year: int) -> Iterator[tuple[Planting, Dots, int, Box]]:
    """Yield each planting of a bed's drawing with its dots, its part, and the outline it is drawn in."""
    root = parsed(bed_drawing(garden, plan, bed, year).standalone())
    panels = panels_of(garden, plan, bed, year)
    stays = [
        (stay.planting, panel.part, edge)
        for panel, edge in zip(panels, edges_of(root), strict=True)
        for _, stay in panel.stays
        if stay.planting is not None
    ]
    for dots, (planting, part, edge) in zip(dots_of(root), stays, strict=True):
        yield planting, dots, part, edge


def in_the_bed(garden: Garden, bed: str, dots: Dots, part: int, edge: Box) -> list[tuple[float, float]]:
    """Return where plants stand in cm from the west and from the pole side of their bed."""
    left, top, right, foot = edge
    breadth, depth = part_breadth_cm(garden.beds[bed]), strip_depth_cm(garden.beds[bed])
    deep = depth * strips_per_part(garden.beds[bed])
    found = []
    for x, y in dots.page:
        along = (right - x if garden.scenario.site.south else x - left) / (right - left)
        found.append(((part - 1 + along) * breadth, (y - top) / (foot - top) * deep))
    return found


def every_bed(name: str) -> Iterator[tuple[Garden, Plan, str, int]]:
    garden, plan = shipped(name)
    for year in garden.scenario.planned_years:
        for bed in garden.beds:
            yield garden, plan, bed, year


def keeps_its_distances(garden: Garden, planting: Planting, places: list[tuple[float, float]], finest: float) -> bool:
    """Whether plants stand in their planting's strips and keep its distances; places are no finer than so many cm."""
    bed, crop = garden.beds[planting.bed], garden.crops[planting.crop]
    strips = [part_and_row(bed, strip) for strip in planting.strips]
    west, depth = (strips[0][0] - 1) * part_breadth_cm(bed), strip_depth_cm(bed)
    near, far = (min(row for _, row in strips) - 1) * depth, max(row for _, row in strips) * depth
    rows: dict[float, list[float]] = {}
    for x, y in places:
        if not (west <= x <= west + part_breadth_cm(bed) and near <= y <= far):
            return False
        rows.setdefault(next((known for known in rows if abs(known - y) < finest), y), []).append(x)
    gaps = [after - before for row in rows.values() for before, after in pairwise(sorted(row))]
    in_row, between = crop.spacing_in_row.usual, crop.spacing_between_rows.usual
    return (
        len(places) == planting.plants
        and len(rows) == planting.rows
        and all(gap >= in_row * (1 - SPACING_TOLERANCE) - finest for gap in gaps)
        and all(b - a >= between * (1 - SPACING_TOLERANCE) - finest for a, b in pairwise(sorted(rows)))
    )


@pytest.mark.parametrize("name", SHIPPED)
def test_every_plant_of_every_planting_is_drawn_at_its_place(name: str) -> None:
    shown = 0
    for garden, plan, bed, year in every_bed(name):
        for planting, dots, part, edge in drawn_in(garden, plan, bed, year):
            # Places are written to a tenth of a unit, so a distance is off by no more than that.
            finest = 0.1 * part_breadth_cm(garden.beds[bed]) / (edge[2] - edge[0]) + 0.02
            places = in_the_bed(garden, bed, dots, part, edge)
            assert keeps_its_distances(garden, planting, places, finest), (bed, year, planting.crop)
            shown += len(places)
    garden, plan = shipped(name)
    years, south = {*garden.scenario.planned_years}, garden.scenario.site.south
    assert shown == sum(
        planting.plants
        * len({*range(garden_year(planting.start, south), garden_year(planting.clear, south) + 1)} & years)
        for planting in plan.plantings
    )


@pytest.mark.parametrize("south", [False, True])
def test_plants_are_drawn_where_they_stand_in_the_bed(south: bool) -> None:
    """Their places keep to the spacing and the bed's edges (tests/relations/ground/test_plant_places.py)."""
    (garden, plan), seen = allotment(), 0
    site = garden.scenario.site
    there = site.model_copy(update={"latitude": -site.latitude}) if south else site
    garden = replace(garden, scenario=garden.scenario.model_copy(update={"site": there}))
    for bed in garden.beds:
        for planting, dots, part, edge in drawn_in(garden, plan, bed, 2028):
            places = sorted(in_the_bed(garden, bed, dots, part, edge))
            expected = sorted((place.from_west_cm, place.from_pole_cm) for place in plant_places(garden, planting))
            assert len(places) == len(expected)
            unit = part_breadth_cm(garden.beds[bed]) / (edge[2] - edge[0])
            for (x, y), (also_x, also_y) in zip(places, expected, strict=True):
                assert abs(x - also_x) < 0.15 * unit, (bed, planting.crop)
                assert abs(y - also_y) < 0.15 * unit, (bed, planting.crop)
            seen += len(places)
    assert seen > 2000


@pytest.mark.parametrize("name", SHIPPED)
def test_dots_lie_on_the_ground_of_their_family_and_do_not_touch(name: str) -> None:
    for garden, plan, bed, year in every_bed(name):
        root, marks = parsed(bed_drawing(garden, plan, bed, year).standalone()), family_marks(garden.catalogue)
        for planting, dots, _, _ in drawn_in(garden, plan, bed, year):
            boxes = grounds_of(root, marks[garden.crops[planting.crop].family].key)
            for x, y in dots.page:
                assert any(a - 0.2 <= x <= c + 0.2 and b - 0.2 <= y <= d + 0.2 for a, b, c, d in boxes), (bed, year)
            nearest = min((abs(a[0] - b[0]) + abs(a[1] - b[1]) for a, b in combinations(dots.page[:60], 2)), default=99)
            assert dots.pen < nearest


def test_in_the_south_west_is_right_and_the_pole_side_is_up() -> None:
    garden, plan = shipped("southern-garden")
    words = [line.words for line in lines_of(parsed(bed_drawing(garden, plan, "lemon bed", 2028).standalone()))]
    assert "S" in words
    assert words.index("E") < words.index("W")
    assert "South is up, west is right." in " ".join(words)
    garden, plan = shipped("cold-frame")
    north = [line.words for line in lines_of(parsed(bed_drawing(garden, plan, "frame", 2027).standalone()))]
    assert "N" in north
    assert north.index("W") < north.index("E")
    assert "North is up, west is left." in " ".join(north)


def test_a_planting_has_one_number_on_the_ground_below_it_and_in_its_season() -> None:
    for garden, plan in (shipped("family-garden"), shipped("southern-garden"), allotment()):
        for bed in garden.beds:
            year = plan.first_year
            root = parsed(bed_drawing(garden, plan, bed, year).standalone())
            stays = [(str(nth), stay) for panel in panels_of(garden, plan, bed, year) for nth, stay in panel.stays]
            assert [told for told, _, _ in numbers_of(root)] == [nth for nth, _ in stays]
            words = [line.words for line in lines_of(root)]
            season = [line.words for line in lines_of(parsed(season_drawing(garden, plan, bed, year).standalone()))]
            for nth, stay in stays:
                assert nth in words
                assert any(line.startswith(f"{stay.crop}, strip") for line in words)
                assert f"{nth} {stay.crop}"[:16] in {line[:16] for line in season}


def test_no_number_hides_the_only_plant_of_a_planting() -> None:
    (garden, plan), seen = allotment(), 0
    for year in garden.scenario.planned_years:
        for bed in garden.beds:
            root = parsed(bed_drawing(garden, plan, bed, year).standalone())
            plantings = [planting for planting, *_ in drawn_in(garden, plan, bed, year)]
            for planting, dots in zip(plantings, dots_of(root), strict=True):
                if planting.plants == 1:
                    ((x, y),) = dots.page
                    assert all(abs(x - at) > 10 or abs(y - level) > 10 for _, at, level in numbers_of(root))
                    seen += 1
    assert seen


def test_the_words_of_a_planting() -> None:
    garden, plan = shipped("family-garden")
    said = {p.crop: say_stand(garden, p, Look()).replace("\u00a0", " ") for p in plan.plantings if p.bed == "wall bed"}
    # 120 cm hold three plants 30.5 cm apart; three rows share three strips of 60 cm.
    assert said["sweet corn"] == "9 plants in 3 rows, 30.5 cm apart, 60 cm between rows (45.7 cm or more)"
    assert "sown broadcast, here drawn in 20 rows" in said["winter rye"]
    lines = lines_of(parsed(bed_drawing(garden, plan, "wall bed", 2027).standalone()))
    whole = " ".join(line.words for line in lines).replace("\u00a0", " ")
    for text in (
        f"sweet corn, strips 4\u20136: {said['sweet corn']}; sown in place 16 May, picked ",
        said["winter rye"],
    ):
        assert text in whole
    exact = make_garden(tiny.scenario(["lettuce"]), tiny.CATALOGUE)
    two = tiny.planting("lettuce", (1, 2), "2027-05-08", "2027-07-31")
    assert say_stand(exact, two, Look()).replace("\u00a0", " ") == "8 plants in 2 rows, 30 cm apart, 60 cm between rows"
    one = tiny.planting("lettuce", (1,), "2027-05-08", "2027-07-31", plants=1)
    assert say_stand(exact, one, Look()) == "1 plant"


def odd(strips: tuple[int, ...], **more: Any) -> tuple[Garden, Plan]:
    """Return a garden of one bed and a plan whose one planting has nine plants in so many strips, rules or no rules."""
    ours = tiny.bed(**{"strips": 3, **more})
    garden = make_garden(tiny.scenario(["lettuce"], [ours]), tiny.CATALOGUE)
    one = tiny.planting("lettuce", strips, "2027-05-08", "2027-07-31", plants=9, rows=3)
    return garden, Plan(made_by="x", scenario_title="x", scenario_hash="x", first_year=2027, years=1, plantings=(one,))


def inside(root: ElementTree.Element) -> bool:
    """Whether every dot of a bed's drawing lies in one of its outlines."""
    places = [place for dots in dots_of(root) for place in dots.page]
    return all(any(a <= x <= c and b <= y <= d for a, b, c, d in edges_of(root)) for x, y in places)


@pytest.mark.parametrize(
    ("strips", "more"),
    [((2, 3, 4), {}), ((2, 3, 4), {"parts": 2, "width": 240.0}), ((1, 3), {}), ((8, 9), {}), ((1, 1, 2), {})],
)
def test_plans_that_break_rules_are_drawn_within_the_bed(strips: tuple[int, ...], more: dict[str, Any]) -> None:
    garden, plan = odd(strips, **more)
    root = parsed(bed_drawing(garden, plan, "bed", 2027).standalone())
    # A planting in strips 8 and 9 of 3 has no ground here; every other has all its nine plants.
    assert sum(len(dots.page) for dots in dots_of(root)) == (0 if strips == (8, 9) else 9)
    assert inside(root)
    said = " ".join(line.words for line in lines_of(root))
    assert ("for the bed has no such strips: lettuce (strips 8" in said) == (strips == (8, 9))
    assert season_drawing(garden, plan, "bed", 2027).standalone()
    assert site_drawing(garden, plan, 2027).standalone()


@pytest.mark.parametrize("width", [40.0, 400.0])
def test_a_bed_far_longer_than_broad_has_its_plants_inside_and_its_ground_hatched_to_the_end(width: float) -> None:
    garden, plan = odd(tuple(range(1, 61)), length=3000.0, width=width, strip=50.0)
    root = parsed(bed_drawing(garden, plan, "bed", 2027).standalone())
    assert inside(root)
    left, top, right, foot = edges_of(root)[0]
    fields = grounds_of(root, "m1") or grounds_of(root, "m2")
    # No field is larger than 348 units; side by side they reach from edge to edge.
    assert len(fields) > 1
    assert min(box[1] for box in fields) <= top < foot <= max(box[3] for box in fields)
    assert all(above[3] == below[1] for above, below in pairwise(sorted(fields, key=lambda box: box[1])))
    assert all(box[0] <= left < right <= box[2] for box in fields)
