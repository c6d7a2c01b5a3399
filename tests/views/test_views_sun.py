"""Sun maps: every strip and obstacle named and to scale, numbers legible, names harmless."""

from __future__ import annotations

from xml.etree import ElementTree

import pytest

from rotasolve.domain.place import Place
from rotasolve.domain.scenario import Scenario
from rotasolve.domain.sun import PlaceSun
from rotasolve.relations.site_sun import sun_table
from rotasolve.relations.spots import TIDY_CM, NewBed, best_spots
from rotasolve.views.look import Look
from rotasolve.views.place_list import place_list
from rotasolve.views.sun_drawing import colours_of, sun_svg
from rotasolve.views.sun_page import spot_page, sun_page
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
    root = ElementTree.fromstring(sun_svg(garden, sun_table(garden, (4, 6))))
    texts = [text.text for text in root.iter(f"{SVG}text")]
    assert texts.count("near & dear") == texts.count("<script>") == 2
    assert [text for text in texts if text and text.endswith("north up")] == ["April, north up", "June, north up"]
    # The map is 300 wide for 6 m, so a bar of at most a third of it is 2 m, 100 long from the margin at 14.
    assert texts.count("2 m") == 2
    bars = [path.attrib["d"] for path in root.iter(f"{SVG}path")]
    assert len(bars) == 2
    assert all("H114.0" in bar for bar in bars)


def _luminance(colour: str) -> float:
    """Return the relative luminance of WCAG 2.2 (W3C), of a colour such as #fcd65a."""
    values = (int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5))
    red, green, blue = (v / 12.92 if v <= 0.04045 else ((v + 0.055) / 1.055) ** 2.4 for v in values)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def test_hours_are_legible_on_every_ground() -> None:
    """WCAG 2.2, success criterion 1.4.3: contrast of 4.5 to 1 or more."""
    for percent in range(101):
        low, high = sorted(_luminance(colour) for colour in colours_of(percent / 100))
        assert (high + 0.05) / (low + 0.05) >= 4.5, percent


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
