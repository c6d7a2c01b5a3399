"""Sun maps: every strip and obstacle named and to scale, numbers legible, names harmless."""

from __future__ import annotations

from xml.etree import ElementTree

import pytest

from rotasolve.domain.place import Place
from rotasolve.domain.scenario import Scenario
from rotasolve.domain.seasons import MONTHS
from rotasolve.domain.sun import PlaceSun
from rotasolve.relations.sun.site_sun import sun_table
from rotasolve.relations.sun.spots import TIDY_CM, NewBed, best_spots
from rotasolve.views.answers.place_list import place_list
from rotasolve.views.pages.sun_page import spot_page, sun_page
from rotasolve.views.report.sun_maps import colours_of, sun_drawing, sun_html
from rotasolve.views.words.look import Look
from tests.helpers.contrast import contrast
from tests.helpers.tiny import bed, scenario
from tests.views.test_views_questions import kale

SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture
def garden() -> Scenario:
    return scenario(
        title="Lane <side>",
        beds=[bed("near & dear", 3, east=0, north=100)],
        obstacles=[{"name": "<script>", "kind": "wall", "east": -100, "north": 0, "length": 600, "height": 180}],
    )


def test_the_map_names_what_lies_there_and_carries_its_scale(garden: Scenario) -> None:
    root = ElementTree.fromstring(sun_drawing(garden, sun_table(garden, (4, 6))).standalone())
    texts = [text.text for text in root.iter(f"{SVG}text")]
    assert "1 near & dear, 2 <script>" in texts
    assert texts.count("1") == texts.count("2") == 2
    assert [text for text in texts if text in MONTHS] == ["April", "June"]
    assert "North" in texts
    # The map is 300 wide for 6 m; of the lengths of scale bars 2 m, 100 long, is the first of at least 80.
    assert texts.count("2\N{NO-BREAK SPACE}m") == 1
    assert "100" in [rect.attrib["width"] for rect in root.iter(f"{SVG}rect")]


def _places_of_strips(place: Scenario) -> list[tuple[str, float, float]]:
    """Return what each strip says of itself and its first corner, of one month."""
    root = ElementTree.fromstring(sun_drawing(place, sun_table(place, (6,))).standalone())
    paths = [(path.findtext(f"{SVG}title", ""), path.attrib["d"]) for path in root.iter(f"{SVG}path")]
    corners = [(said, d[1:].split("h")[0].split()) for said, d in paths if "strip" in said]
    return [(said.split(":")[0], float(x), float(y)) for said, (x, y) in corners]


@pytest.mark.parametrize("latitude", [50, -40])
def test_the_pole_side_is_up_and_west_where_the_sun_sets_from_there(latitude: float) -> None:
    # Two parts of two strips: strips 1 and 2 in the west part, from the pole side on.
    beds = [bed("long", 2, width=240, parts=2, east=0, north=0), bed("east", 1, east=500, north=0)]
    places = dict((said, (x, y)) for said, x, y in _places_of_strips(scenario(beds=beds, latitude=latitude)))
    assert places["long, strip 1"][1] < places["long, strip 2"][1]
    sign = 1 if latitude > 0 else -1
    assert sign * (places["long, strip 3"][0] - places["long, strip 1"][0]) > 0
    assert sign * (places["east, strip 1"][0] - places["long, strip 3"][0]) > 0


def test_the_page_holds_maps_table_and_notes_and_no_script(garden: Scenario) -> None:
    page = sun_html(garden, sun_table(garden, (4, 6)))
    assert page.count("<svg") == 1
    assert "<th>near &amp; dear, strip 1" in page
    assert "<script>" not in page
    assert "default-src 'none'" in page


def test_hours_are_legible_on_every_ground() -> None:
    """WCAG 2.2, success criterion 1.4.3: contrast of 4.5 to 1 or more."""
    for percent in range(101):
        assert contrast(*colours_of(percent / 100)) >= 4.5, percent


def test_months_stand_in_words_on_a_narrow_page(garden: Scenario) -> None:
    page = sun_page(garden, sun_table(garden), Look(width=50))
    assert "near & dear, strip" in page
    assert "open ground\n  Jan 8, Feb 10, Mar 12" in page
    assert max(len(line) for line in page.splitlines()) <= 50


def test_spots_are_said_by_the_side_they_lie_on(garden: Scenario) -> None:
    spots = best_spots(garden, NewBed(200, 100, (6,)))
    assert all(spot.east % TIDY_CM == 0 and spot.north % TIDY_CM == 0 for spot in spots)
    page = spot_page(garden, spots, (6,), Look(width=100), tilted=False)
    assert " south" in page or " west" in page
    assert " -" not in "\n".join(page.splitlines()[3:13])


def test_a_place_tells_its_least_sun() -> None:
    places = [Place(planting=kale("long bed", (1, 2)), sun=PlaceSun(hours=6.25, month=4))]
    assert "at least 6.2 h of sun a day (April)" in " ".join(place_list(places, False, Look(width=200)))


def test_beds_are_said_to_lie_in_full_sun_part_shade_or_shade() -> None:
    beds = [bed(name, sun_hours=hours) for name, hours in (("a", 6), ("b", 5.9), ("c", 3), ("d", 2.9))]
    place = scenario((), beds)
    page = " ".join(sun_page(place, sun_table(place, (6,)), Look()).split())
    assert "In June: full sun (6 h a day or more): a; part shade (3 to 6 h): b, c; shade (less than 3 h): d." in page
