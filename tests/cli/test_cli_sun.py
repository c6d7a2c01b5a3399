"""``sun`` and ``spot``: what a grower sees, the drawings, JSON, and what is refused."""

from __future__ import annotations

import json
import xml.etree.ElementTree as ElementTree
from itertools import pairwise
from pathlib import Path

import pytest

from tests.cli.conftest import TINY, Run

PLACED = TINY.replace(
    "width: 1.2 m}",
    "width: 1.2 m, east: 0 m, north: 1 m}\n"
    "  - {name: new bed, length: 1.2 m, width: 1.2 m, east: 2 m, north: 1 m, bearing: 20}\n"
    "  - {name: far bed, length: 1.2 m, width: 1 m, sun_hours: 5}\n"
    "obstacles:\n"
    '  - {name: "fence <of> Ida & Co", kind: fence, east: -1 m, north: 0 m, length: 6 m, height: 1.8 m}\n'
    "  - {name: old pear, kind: tree, east: 4 m, north: 2 m, diameter: 3 m, height: 5 m, clear_below: 1.5 m}",
)


@pytest.fixture
def placed(tmp_path: Path) -> Path:
    file = tmp_path / "placed.yaml"
    file.write_text(PLACED, encoding="utf-8")
    return file


def words(text: str) -> str:
    return " ".join(text.split())


def test_sun_shows_hours_by_strip_and_month(run: Run, placed: Path) -> None:
    done = run("sun", placed)
    assert done.exit_code == 0, done.stderr
    assert all(len(line) <= 80 for line in done.stdout.splitlines())
    assert "Jan  Feb  Mar  Apr" in done.stdout
    lines = [line.split() for line in done.stdout.splitlines() if line.startswith("long bed")]
    # The fence stands on the equator side: strip 3 is the darkest in April and hardly touched in June.
    strips = [[int(cell) for cell in line[3:]] for line in lines]
    assert strips[-1][3] < strips[0][3]
    assert strips[-1][5] >= 12
    assert "Hours typed in for midsummer" in words(done.stdout)
    assert "Trees count as full of leaves all year" in words(done.stdout)


def test_one_month_shows_hours_and_beam(run: Run, placed: Path) -> None:
    done = run("sun", placed, "--month", "April")
    assert done.exit_code == 0, done.stderr
    assert "direct sun in April" in words(done.stdout)
    assert " h " in done.stdout
    assert "%" in done.stdout


def test_why_names_the_caster(run: Run, placed: Path) -> None:
    done = run("sun", placed, "--why", "long bed", "--strip", 3, "--month", "April", "--month", "June")
    assert done.exit_code == 0, done.stderr
    assert "fence <of> Ida & Co" in words(done.stdout)
    assert "at 12:00 the sun is at its highest" in words(done.stdout)
    told = run("sun", placed, "--why", "far bed")
    assert "were typed in" in words(told.stdout)
    open_ground = run("sun", placed, "--why", "long bed", "--month", "June", "--strip", 3, "--json")
    found = json.loads(open_ground.stdout)["strips"]
    assert [(one["bed"], one["strip"], one["month"]) for one in found] == [("long bed", 3, 6)]
    assert all(caster["hours"] > 0 for caster in found[0]["casters"])


def test_json_holds_every_strip_and_month(run: Run, placed: Path) -> None:
    done = run("sun", placed, "--json")
    answer = json.loads(done.stdout)
    assert answer["schema_version"] == 1
    # 3 strips of 60 cm, 2 of 60 cm, 2 of 60 cm, in 12 months.
    assert len(answer["strips"]) == (3 + 2 + 2) * 12
    assert all(0 <= one["hours"] <= one["open_hours"] and 0 <= one["beam_share"] <= 1 for one in answer["strips"])


def test_drawings_are_whole_and_escaped(run: Run, placed: Path, tmp_path: Path) -> None:
    svg, html = tmp_path / "sun.svg", tmp_path / "sun.html"
    done = run("sun", placed, "--svg", svg, "--html", html)
    assert done.exit_code == 0, done.stderr
    root = ElementTree.fromstring(svg.read_text("utf-8"))
    shapes = root.findall(".//{http://www.w3.org/2000/svg}path[{http://www.w3.org/2000/svg}title]")
    # 5 strips with a place and 2 obstacles in 12 maps.
    assert len(shapes) == 7 * 12
    page = html.read_text("utf-8")
    assert "fence &lt;of&gt; Ida &amp; Co" in page
    assert "<of>" not in page
    assert "://" not in page.replace("http://www.w3.org/2000/svg", "")
    assert "<script" not in page
    again = run("sun", placed, "--svg", svg)
    assert again.exit_code == 2
    assert "--force" in again.stderr
    assert run("sun", placed, "--svg", svg, "--force").exit_code == 0


def test_the_crops_of_a_plan_cast_shade(run: Run, placed: Path, tmp_path: Path) -> None:
    plan = tmp_path / "placed.plan.json"
    assert run("plan", placed, "--effort", 2, "-q", "-o", plan).exit_code == 0
    open_sun = json.loads(run("sun", placed, "--json", "--month", "July").stdout)
    done = run("sun", placed, "--plan", plan, "--json", "--month", "July")
    assert done.exit_code == 0, done.stderr
    beside = json.loads(done.stdout)
    assert beside["plan_year"] == 2027
    pairs = list(zip(open_sun["strips"], beside["strips"], strict=True))
    assert all(here["hours"] <= free["hours"] + 1e-9 for free, here in pairs)
    assert any(" in long bed" in caster["name"] for one in beside["strips"] for caster in one["casters"])
    assert run("sun", placed, "--plan", plan, "--year", 2031).exit_code == 2


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["--why", "lnog bed"], "did you mean 'long bed'"),
        (["--why", "long bed", "--strip", 4], "has strips 1 to 3, not 4"),
        (["--month", "Junne"], "not a month"),
    ],
)
def test_what_sun_refuses(run: Run, placed: Path, arguments: list[object], said: str) -> None:
    done = run("sun", placed, *arguments)
    assert done.exit_code == 2
    assert done.stdout == ""
    assert said in words(done.stderr)


def test_sun_needs_a_place(run: Run, tiny: Path) -> None:
    done = run("sun", tiny)
    assert done.exit_code == 2
    assert "give beds east and north, or sun_hours" in words(done.stderr)


def test_narrow_terminals_get_blocks(run: Run, placed: Path) -> None:
    done = run("sun", placed, "--month", "May", COLUMNS="50")
    assert done.exit_code == 0
    assert all(len(line) <= 50 for line in done.stdout.splitlines())
    assert "  of full sun: " in done.stdout


def test_spots_keep_clear_of_beds_and_shade(run: Run, placed: Path) -> None:
    done = run("spot", placed, "--length", "1.5 m", "--width", "80 cm", "--from", "March", "--to", "April", "--json")
    assert done.exit_code == 0, done.stderr
    answer = json.loads(done.stdout)
    assert answer["months"] == [3, 4]
    shares = [spot["beam_share"] for spot in answer["spots"]]
    # Ranked by shares of a thousandth: what differs less goes by the hours.
    assert all(before > after - 0.0011 for before, after in pairwise(shares))
    # South of the fence nothing shades; close behind it, up to 1.8 x tan 52 = 2.3 m, much is lost.
    assert answer["spots"][0]["middle_north_cm"] < 0
    assert shares[-1] < 0.8
    for spot in answer["spots"]:
        east, north = spot["middle_east_cm"], spot["middle_north_cm"]
        assert not (0 < east < 120 and 100 < north < 280)


def test_a_tilted_pane_faces_the_sun(run: Run, placed: Path) -> None:
    spot = ["--length", "1.2 m", "--width", "60 cm", "--at", "2 m", "-9 m", "--tilt", 20, "--to", "April"]
    north = json.loads(run("spot", placed, *spot, "--json").stdout)["spots"]
    # The pane falls away to the right of the bearing: a long side pointing east, 90 degrees, looks south.
    assert north[0]["bearing"] == 90
    assert north[-1]["bearing"] == 270
    assert north[0]["beam_share"] > 1 > north[-1]["beam_share"]
    page = run("spot", placed, *spot)
    assert "Glass breaks and hurts" in words(page.stdout)


def test_a_tall_row_darkens_one_side_or_both(run: Run, placed: Path) -> None:
    spot = ["--length", "4 m", "--width", "1.2 m", "--row", "1 m", "--at", "2 m", "-9 m", "--json"]
    spots = json.loads(run("spot", placed, *spot).stdout)["spots"]
    by_bearing = {one["bearing"]: one["darker_side_beam_share"] for one in spots}
    # Rows from north to south spread the loss, rows from east to west put it all on the pole side.
    assert by_bearing[0] > by_bearing[45] > by_bearing[90]
    assert by_bearing[45] == pytest.approx(by_bearing[135], abs=0.01)


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["--length", "1 m", "--width", "2 m"], "exchange 1 m and 2 m"),
        (["--length", "1", "--width", "50 cm"], "--length: '1' is not a length"),
        (["--length", "200 m", "--width", "50 cm"], "must lie between 20 cm and 100 m"),
        (["--length", "2 m", "--width", "50 cm", "--from", "Mai"], "not a month"),
    ],
)
def test_what_spot_refuses(run: Run, placed: Path, arguments: list[str], said: str) -> None:
    done = run("spot", placed, *arguments)
    assert done.exit_code == 2
    assert said in words(done.stderr)
