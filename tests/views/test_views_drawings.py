"""Drawings: golden files, labels that fit, marks that differ, the site to scale, escaping."""

from __future__ import annotations

import math
import re
from collections import Counter
from collections.abc import Callable
from functools import cache
from itertools import combinations
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest

from rotasolve.domain.catalogue import Catalogue
from rotasolve.domain.plan import Harvest, Plan
from rotasolve.domain.scenario import Scenario
from rotasolve.files.crops import load_catalogue
from rotasolve.relations.ground.garden import Garden, make_garden
from rotasolve.relations.household.supply import supply_of
from rotasolve.views.drawings.bed_drawing import bed_drawing
from rotasolve.views.drawings.drawing_files import DrawingFile, drawing_files, safe_names
from rotasolve.views.drawings.family_marks import COLOURS, FamilyMark, family_marks
from rotasolve.views.drawings.harvest_drawing import harvest_drawing
from rotasolve.views.drawings.hatch_fields import hatch_field
from rotasolve.views.drawings.season_drawing import season_drawing
from rotasolve.views.drawings.site_drawing import site_drawing
from rotasolve.views.drawings.svg import INK, PAPER, Drawing, drawing_style, element, text_width, wrapped
from tests.helpers import tiny
from tests.helpers.contrast import contrast
from tests.helpers.drawn import SVG, Line, lines_of, parsed, shown_in
from tests.views.test_views_bed_drawing import SHIPPED, odd, shipped

ROOT = Path(__file__).parents[2]

Golden = Callable[..., None]


@cache
def drawn(name: str) -> tuple[DrawingFile, ...]:
    garden, plan = shipped(name)
    return drawing_files(
        garden, plan, supply_of(garden, plan.plantings), garden.scenario.planned_years, list(garden.beds)
    )


@pytest.fixture(scope="module")
def yard(scenario: Scenario, catalogue: Catalogue) -> Garden:
    return make_garden(scenario, catalogue)


def test_golden_site_beds_and_seasons(golden: Golden, yard: Garden, plan: Plan) -> None:
    golden("site_2027", site_drawing(yard, plan, 2027).standalone(), "svg")
    golden("bed_long_2027", bed_drawing(yard, plan, "long bed", 2027).standalone(), "svg")
    golden("bed_frame_2027_inches", bed_drawing(yard, plan, "frame", 2027, inches=True).standalone(), "svg")
    golden("season_frame_2027", season_drawing(yard, plan, "frame", 2027).standalone(), "svg")
    assert season_drawing(yard, plan, "frame", 2027).description == (
        "When the crops of frame are in the ground and picked in 2027: kale."
    )
    golden("bed_frame_2028", bed_drawing(yard, plan, "frame", 2028).standalone(), "svg")


def test_golden_harvest(golden: Golden, yard: Garden, plan: Plan) -> None:
    drawing = harvest_drawing(yard, supply_of(yard, plan.plantings), 2027)
    golden("harvest_2027", drawing.standalone(), "svg")


def test_golden_cold_frame(golden: Golden) -> None:
    for file in drawn("cold-frame"):
        golden(f"cold_frame_{file.kind}", file.drawing.standalone(), "svg")


def extent(line: Line) -> tuple[float, float, float, float]:
    wide = text_width(line.words, line.size, line.bold)
    left = line.x - {"start": 0, "middle": wide / 2, "end": wide}[line.anchor]
    return left, line.y - 0.76 * line.size, left + wide, line.y + 0.2 * line.size


@pytest.mark.parametrize("name", SHIPPED)
def test_labels_stay_on_the_page_and_off_one_another(name: str) -> None:
    for file in drawn(name):
        check_labels(file.drawing)


def check_labels(drawing: Drawing) -> None:
    lines = lines_of(parsed(drawing.standalone()))
    assert len(lines) > 2
    extents = [(extent(line), line.words) for line in lines if line.words]
    for (left, top, right, bottom), words in extents:
        assert left >= 0, (drawing.title, words)
        assert top >= 0, (drawing.title, words)
        assert right <= drawing.width, (drawing.title, words)
        assert bottom <= drawing.height, (drawing.title, words)
    for (one, said), (other, also) in combinations(extents, 2):
        apart = one[2] <= other[0] or other[2] <= one[0] or one[3] <= other[1] or other[3] <= one[1]
        assert apart, (drawing.title, said, also)


def test_contrast_is_counted_as_wcag_does() -> None:
    # Black on white is 21:1 by definition; #767676 is the lightest grey with 4.5:1 on white (WebAIM's worked example).
    assert contrast("#000", "#fff") == pytest.approx(21)
    assert contrast("#767676", "#fff") >= 4.5 > contrast("#777777", "#fff")


@pytest.mark.parametrize("name", SHIPPED)
def test_letters_have_enough_contrast(name: str) -> None:
    """SC 1.4.3 asks for 4.5:1. Letters are ink on paper, or paper on the ink of a number's disc; nothing else."""
    assert contrast(INK, PAPER) >= 4.5
    fills = {line.fill for file in drawn(name) for line in lines_of(parsed(file.drawing.standalone()))}
    assert fills <= {INK, PAPER}


def test_letters_on_hatched_ground_stand_on_a_white_plate() -> None:
    garden, plan = shipped("family-garden")
    root = parsed(site_drawing(garden, plan, 2027).standalone())
    plates = [path for path in root.iter(f"{SVG}path") if path.get("fill") == PAPER and "stroke" not in path.attrib]
    groups = [group for group in root.iter(f"{SVG}g") if group.get("text-anchor") == "middle" and len(group)]
    letters = [
        text
        for group in groups
        if group.get("font-weight") == "bold" and group.get("fill") is None
        for text in group.iter(f"{SVG}text")
    ]
    assert len(letters) > 20
    boxes = [
        tuple(map(float, corner))
        for path in plates
        for corner in re.findall(r"M(\S+) (\S+)h(\S+)v(\S+)h\S+z", path.get("d") or "")
    ]
    assert len(boxes) <= len(letters)
    for text in letters:
        middle, base = float(text.get("x", "")), float(text.get("y", ""))
        assert any(x + wide / 2 == middle and y < base < y + high for x, y, wide, high in boxes)


def test_bars_in_a_family_s_colour_show_on_white_paper() -> None:
    """WCAG 2.2, success criterion 1.4.11: contrast of 3 to 1 or more for what must be seen."""
    for mark in family_marks(load_catalogue()).values():
        assert contrast(mark.line, "#ffffff") >= 3, mark.name


def test_no_two_families_share_a_mark() -> None:
    marks = list(family_marks(load_catalogue()).values())
    assert len(marks) == 17
    # In black and white the hatch alone must do, on screen the colour or the hatch.
    assert len({mark.hatch for mark in marks}) == len(marks)
    assert len({hatch_field(mark).replace(mark.key, "") for mark in marks}) == len(marks)
    many = tiny.catalogue([tiny.crop(f"crop {n}", f"family {n:03}") for n in range(128)])
    pairs = Counter((mark.colour, mark.hatch) for mark in family_marks(many).values())
    assert max(pairs.values()) == 1


@pytest.mark.parametrize("colour", COLOURS)
def test_a_hatch_and_a_plant_show_in_black_and_white(colour: str) -> None:
    mark = FamilyMark("family", "family", 1, colour, "grid")
    assert contrast(INK, mark.tint) >= 7
    # Common practice, no source: names are written beside every mark, so a hatch need not reach the 3:1 of SC 1.4.11.
    assert contrast(mark.line, mark.tint) >= 1.9


SOME = Harvest(low_kg=1, typical_kg=2, high_kg=3)
NAMES = ("<script>alert(1)</script>", "=1+1", "\"&'", "bell\x07 and \ufffe\u202e", "]]> <!-- & -->", "x" * 60)


@pytest.mark.parametrize("name", NAMES)
def test_any_name_is_harmless(name: str) -> None:
    crop = tiny.crop(name, f"family {name}"[:60], species="a species")
    scenario = tiny.scenario([name], [tiny.bed(name)], title=f"Garden {name}")
    garden = make_garden(scenario, tiny.catalogue([crop]))
    plan = Plan(
        made_by="by hand",
        scenario_title="x",
        scenario_hash="x",
        first_year=2027,
        years=1,
        plantings=(tiny.planting(name, (1,), "2027-05-08", "2027-07-31", "2027-07-07", bed=name, harvest=SOME),),
    )
    for file in drawing_files(garden, plan, supply_of(garden, plan.plantings), [2027], [name]):
        root = parsed(file.drawing.standalone())
        assert {child.tag.removeprefix(SVG) for child in root.iter()} <= {
            *("svg", "title", "desc", "style", "defs", "symbol", "clipPath", "use", "rect", "path", "g", "text")
        }
        # The one style sheet is ours, and nothing leads out of the file.
        assert [style.text for style in root.iter(f"{SVG}style")] == [drawing_style()]
        said = [(key, value) for child in root.iter() for key, value in child.attrib.items()]
        assert not any(key.startswith("on") for key, _ in said)
        assert all(value.startswith("#") for key, value in said if "href" in key)
        if len(name) < 60 and name.isprintable():
            assert name in "".join(root.itertext())
        assert parsed(f'<x xmlns="http://www.w3.org/2000/svg">{file.drawing.inline()}</x>') is not None


def test_the_same_drawing_twice_is_the_same_text() -> None:
    garden, plan = shipped("two-at-table")
    again = drawing_files(garden, plan, supply_of(garden, plan.plantings), [2027], list(garden.beds))
    texts = [file.drawing.standalone() for file in again]
    assert texts == [file.drawing.standalone() for file in drawn("two-at-table")]


@pytest.mark.parametrize("name", SHIPPED)
def test_what_a_file_uses_is_defined_in_it_once(name: str) -> None:
    for file in drawn(name):
        text = file.drawing.standalone()
        keys = re.findall(r' id="([^"]*)"', text)
        assert len(keys) == len(set(keys))
        used = set(re.findall(r'(?:url\(|href=")#([^")]*)', text))
        assert used
        assert used <= set(keys)
        assert "<defs>" not in file.drawing.inline()


def test_a_bed_left_free_and_one_with_what_stood_before(yard: Garden, plan: Plan) -> None:
    free = bed_drawing(yard, plan, "frame", 2028)
    assert "Free all the year" in free.standalone()
    left = " ".join(line.words for line in lines_of(parsed(bed_drawing(yard, plan, "frame", 2027).standalone())))
    assert "left from before the plan, until 20 Feb" in left.replace("\u00a0", " ")
    assert "Free all the year" in season_drawing(yard, plan, "frame", 2028).standalone()


def test_safe_names() -> None:
    beds = ["Gate bed", "gate/bed", "..", "Küche", "\u0433\u0440\u044f\u0434\u043a\u0430", "gate-bed-2", "a" * 60]
    names = safe_names(beds)
    assert list(names.values()) == [
        "gate-bed",
        "gate-bed-2",
        "number-3",
        "kuche",
        "number-5",
        "gate-bed-2-2",
        "a" * 40,
    ]


def corners_of(root: ElementTree.Element, drawn_by: str) -> list[list[tuple[float, float]]]:
    """Return the corners of the rectangles drawn with so broad a pen."""
    return corners_in(next(path for path in root.iter(f"{SVG}path") if path.get("stroke-width") == drawn_by))


def corners_in(path: ElementTree.Element) -> list[list[tuple[float, float]]]:
    """Return the corners of a path's rectangles, boxes and turned ones alike."""
    found = []
    for piece in (path.get("d") or "").split("z")[:-1]:
        numbers = [float(number) for number in re.findall(r"-?[\d.]+", piece)]
        if "h" in piece:
            x, y, wide, high, _ = numbers
            numbers = [x, y, x + wide, y, x + wide, y + high, x, y + high]
        found.append(list(zip(numbers[::2], numbers[1::2], strict=True)))
    return found


@pytest.mark.parametrize("latitude", [50.0, -50.0])
def test_a_site_to_scale_with_turned_beds_and_obstacles(latitude: float) -> None:
    """Corners by hand: sizes and distances in cm from the scenario, the turn by the sine and cosine of 30 degrees."""
    beds = [tiny.bed("flat", east=0.0, north=0.0), tiny.bed("turned", east=300.0, north=200.0, bearing=30)]
    hedge = {"name": "yew", "kind": "hedge", "east": -200.0, "north": 500.0, "length": 400.0, "height": 180.0}
    scenario = tiny.scenario(["lettuce"], beds, latitude=latitude, obstacles=(hedge,))
    garden = make_garden(scenario, tiny.CATALOGUE)
    full = tiny.planting("lettuce", (1, 2), "2027-05-08", "2027-07-31", bed="turned")
    plan = Plan(made_by="x", scenario_title="x", scenario_hash="x", first_year=2027, years=1, plantings=(full,))
    root = parsed(site_drawing(garden, plan, 2027).standalone())
    flat, turned = corners_of(root, "2.5")
    (yew,) = corners_of(root, "1")
    # Lettuce takes all the ground of the turned bed: its hatch is seen through the bed's own shape.
    (clip,) = root.iter(f"{SVG}clipPath")
    assert corners_in(clip[0]) == [turned]
    scale = math.dist(flat[0], flat[1]) / 120
    assert math.dist(flat[0], flat[3]) / scale == pytest.approx(120, abs=1)
    assert math.dist(turned[0], turned[1]) / scale == pytest.approx(120, abs=1)
    assert math.dist(yew[0], yew[1]) / scale == pytest.approx(400, abs=1)
    assert math.dist(yew[0], yew[3]) / scale == pytest.approx(60, abs=1)
    # The top edge runs to the right; turned clockwise it falls by tan 30 degrees.
    across, down = turned[1][0] - turned[0][0], turned[1][1] - turned[0][1]
    assert down / across == pytest.approx(math.tan(math.radians(30)), abs=0.02)
    # The middles are 300 cm further east and 200 cm further north; in the south both are drawn the other way round.
    sign = -1 if latitude < 0 else 1
    middles = [(sum(x for x, _ in box) / 4, sum(y for _, y in box) / 4) for box in (flat, turned)]
    assert (middles[1][0] - middles[0][0]) / scale * sign == pytest.approx(300, abs=1)
    assert (middles[0][1] - middles[1][1]) / scale * sign == pytest.approx(200, abs=1)
    words = [line.words for line in lines_of(root)]
    assert any("yew: hedge, 1.8" in line for line in words)
    bar = next(rect for rect in root.iter(f"{SVG}rect") if rect.get("stroke-width") == "1.5")
    assert "1\u00a0m" in words or "1 m" in words
    assert float(bar.get("width", "0")) / scale == pytest.approx(100, abs=1)


@pytest.mark.parametrize(
    "more",
    [
        {"length": 3000.0, "width": 40.0, "strip": 50.0},
        {"length": 3000.0, "width": 40.0, "strip": 40.0, "runs": "east-west", "parts": 10},
        {"length": 60.0, "width": 50.0, "strip": 10.0},
    ],
)
def test_labels_of_odd_beds_stay_apart(more: dict[str, Any]) -> None:
    garden, plan = odd((1,), **more)
    for drawing in (bed_drawing(garden, plan, "bed", 2027), site_drawing(garden, plan, 2027)):
        check_labels(drawing)


def test_captions_of_narrow_parts_stay_apart() -> None:
    garden, plan = odd((1,), length=3000.0, width=400.0, strip=50.0)
    later = tiny.planting("lettuce", (1,), "2027-08-08", "2027-09-30", plants=9, rows=3)
    drawing = bed_drawing(garden, plan.model_copy(update={"plantings": (*plan.plantings, later)}), "bed", 2027)
    assert {"part 1 first", "part 1 then", "part 2"} <= {line.words for line in lines_of(parsed(drawing.standalone()))}
    check_labels(drawing)


def test_words_below_a_picture_stand_on_paper_and_not_on_the_lines_of_its_months() -> None:
    for file in drawn("cold-frame"):
        shown = list(shown_in(parsed(file.drawing.standalone())))
        (paper,) = (nth for nth, one in enumerate(shown) if one.tag == "rect" and {"x", "y"} & one.said.keys() == {"y"})
        top = float(shown[paper].said["y"])
        assert top + float(shown[paper].said["height"]) >= file.drawing.height
        months = [nth for nth, one in enumerate(shown) if one.said.get("class") == "month"]
        assert bool(months) == (file.kind in ("season", "harvest"))
        assert all(nth < paper for nth in months)
        texts = [(nth, one.y + float(one.said["y"].split()[0])) for nth, one in enumerate(shown) if one.tag == "text"]
        below = [nth for nth, level in texts if level > top]
        assert below
        assert all(nth > paper for nth in below)


def test_words_wider_than_the_line_are_cut() -> None:
    lines = wrapped("x" * 60 + " and more", 100, 15)
    assert all(text_width(line, 15) <= 100 for line in lines)
    assert "".join(lines).startswith("x" * 60)


def test_elements_are_escaped_and_numbers_short() -> None:
    assert element("text", "a < b & c", x=1 / 3, class_='"', stroke_width=None) == (
        '<text x="0.3" class="&quot;">a &lt; b &amp; c</text>'
    )
    assert isinstance(Drawing("t", 1, 1, element("g")).standalone(), str)
