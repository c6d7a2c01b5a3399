"""Names that try to be markup, formulas, lines of a file or terminal codes are text in every form a plan is told in.

The outputs are read by parsers that are not ours: html.parser, ElementTree (expat), csv and icalendar; the report is
opened in a browser as well (tests/browser).
"""

from __future__ import annotations

import csv
import io
import re
import unicodedata
from collections.abc import Callable
from html.parser import HTMLParser
from xml.etree import ElementTree

import pytest

from rotasolve.relations.ground.garden import make_garden
from rotasolve.relations.household.hungry_gap import springs_of
from rotasolve.relations.work.jobs import jobs_of
from rotasolve.tasks.reporting import Findings, findings_of_plan
from rotasolve.views.drawings.drawing_files import drawing_files
from rotasolve.views.drawings.svg import drawing_style
from rotasolve.views.exports.calendar_files import calendar_csv, calendar_ics
from rotasolve.views.pages.calendar_page import calendar_page
from rotasolve.views.pages.editing import refereed_page
from rotasolve.views.pages.page import plan_page
from rotasolve.views.pages.supply import supply_page
from rotasolve.views.report.report_page import report_page
from rotasolve.views.report.report_parts import Told
from rotasolve.views.words.look import Look
from rotasolve.views.words.summary import summary_page
from rotasolve.views.words.wording import clean
from tests.helpers.hostile import (
    AT,
    BEDS,
    CROPS,
    FORMULA,
    PLACE,
    TITLE,
    hostile_catalogue,
    hostile_plan,
    hostile_scenario,
)
from tests.helpers.tiny import CATALOGUE, bed, catalogue, crop, planting, scenario

WIDE = Look(width=160)


@pytest.fixture(scope="module")
def found() -> Findings:
    return findings_of_plan(make_garden(hostile_scenario(), hostile_catalogue()), hostile_plan())


@pytest.fixture(scope="module")
def page(found: Findings) -> str:
    return report_page(Told(found.garden, found.plan, found.jobs, found.supplies, (2027,), Look()))


class Reader(HTMLParser):
    """Collect elements, attributes and text of a page as the standard library reads them."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.elements: set[str] = set()
        self.attributes: set[str] = set()
        self.texts: list[str] = []
        self.comments: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Note an element and its attributes."""
        self.elements.add(tag)
        self.attributes |= {name for name, _ in attrs}

    def handle_data(self, data: str) -> None:
        """Note a text."""
        self.texts.append(data)

    def handle_comment(self, data: str) -> None:
        """Note a comment."""
        self.comments.append(data)


def controls_in(text: str) -> set[str]:
    """Return signs that move the cursor, colour a terminal or turn a line round, but for the end of a line."""
    return {sign for sign in text if unicodedata.category(sign) in ("Cc", "Cf", "Zl", "Zp") and sign != "\n"}


def test_the_page_holds_no_element_or_attribute_of_a_name(page: str) -> None:
    reader = Reader()
    reader.feed(page)
    assert not reader.elements & {"script", "img", "iframe", "object", "embed", "link", "base", "form"}
    assert not [name for name in reader.attributes if name.startswith("on") or name in ("src", "srcdoc", "action")]
    assert reader.comments == []
    text = "".join(reader.texts)
    for name in (TITLE, PLACE, *CROPS, *BEDS):
        assert clean(name) in text
    assert controls_in(page) == set()


def test_the_page_would_hold_one_if_it_were_not_escaped(page: str) -> None:
    reader = Reader()
    reader.feed(page.replace("&lt;", "<").replace("&gt;", ">"))
    assert "script" in reader.elements


def test_no_template_runs_what_a_name_says(page: str) -> None:
    assert "{{ 7*7 }} {% raw %}" in page


def test_every_drawing_is_well_formed_and_holds_the_names_as_text(found: Findings) -> None:
    files = drawing_files(found.garden, found.plan, found.supplies, [2027], list(found.garden.beds))
    assert len(files) == 2 + 2 * len(BEDS)
    for file in files:
        assert re.fullmatch(r"[a-z0-9-]+\.svg", file.name)
        root = ElementTree.fromstring(file.drawing.standalone())
        names = {element.tag.rpartition("}")[2] for element in root.iter()}
        assert not names & {"script", "a", "image", "foreignObject", "set", "animate"}
        # Names are nowhere in the style sheet: it is the one all drawings have.
        assert [style.text for style in root.iter() if style.tag.endswith("}style")] == [drawing_style()]
        assert not [a for element in root.iter() for key, a in element.attrib.items() if "href" in key and a[:1] != "#"]
        assert not [a for element in root.iter() for a in element.attrib if a.lower().startswith("on")]
        assert controls_in(file.drawing.standalone()) == set()


def test_no_cell_of_the_spreadsheet_is_a_formula(found: Findings) -> None:
    text = calendar_csv(found.garden, found.jobs)
    rows = list(csv.reader(io.StringIO(text, newline=""), strict=True))
    assert len(rows) == len(found.jobs) + 1
    assert {len(row) for row in rows} == {len(rows[0])}
    for row in rows[1:]:
        for cell in row:
            assert not cell.lstrip().startswith(("=", "+", "-", "@", "\t", "\r")), cell
    cells = {cell for row in rows for cell in row}
    assert {f"'{FORMULA}", f"'{AT}"} <= cells
    assert text.count("\r\n") == len(rows)
    assert controls_in(text.replace("\r\n", "\n")) == set()


@pytest.mark.parametrize(
    ("name", "cell"),
    [
        ("-5", "-5"),
        ("-2.5", "-2.5"),
        ("-", "'-"),
        ("-5-5", "'-5-5"),
        ("- 5", "'- 5"),
        ("+5", "'+5"),
        (" =1", "'=1"),
        ("\u00a0=1", "'=1"),
        ("a=1", "a=1"),
        ("\uff1d1", "'\uff1d1"),
    ],
)
def test_a_number_below_nothing_is_left_alone(name: str, cell: str) -> None:
    crops = catalogue((crop(name, "cabbages"), *CATALOGUE.crops), pathogens=[], neighbours=[])
    written = scenario([name], beds=[bed()])
    garden = make_garden(written, crops)
    plan = hostile_plan().model_copy(
        update={"plantings": (planting(name, (1,), "2027-05-08", "2027-07-31", "2027-07-07"),)}
    )
    first = calendar_csv(garden, jobs_of(garden, plan)).splitlines()[1]
    assert next(csv.reader([first]))[3] == cell


def test_the_calendar_file_has_an_event_for_each_job_and_no_line_of_a_name(found: Findings) -> None:
    from icalendar import Calendar

    text = calendar_ics(found.garden, found.jobs)
    assert text.count(b"BEGIN:VEVENT\r\n") == len(found.jobs)
    assert b"\n" not in text.replace(b"\r\n", b"")
    assert b"\r" not in text.replace(b"\r\n", b"")
    unfolded = text.replace(b"\r\n ", b"").decode("utf-8").split("\r\n")
    allowed = r"(BEGIN|END|PRODID|VERSION|UID|DTSTART|DTEND|SUMMARY|DESCRIPTION|LOCATION|CATEGORIES|TRANSP|STATUS|"
    assert [line for line in unfolded if line and not re.match(allowed + r"SEQUENCE|DTSTAMP)[:;]", line)] == []
    events = Calendar.from_ical(text).walk("VEVENT")
    assert {str(event["LOCATION"]) for event in events} == {clean(name).strip() for name in BEDS}
    assert controls_in(text.decode("utf-8").replace("\r\n", "\n")) == set()


TERMINAL: dict[str, Callable[[Findings, Look], str]] = {
    "plan": lambda f, look: plan_page(f.garden.scenario, f.garden.catalogue, f.plan, look),
    "verdict": lambda f, look: refereed_page(f.plan, [], {}, [*BEDS, *CROPS], f.plan, look),
    "summary": lambda f, look: summary_page(f.garden.scenario, look),
    "supply": lambda f, look: supply_page(
        f.garden.scenario, f.garden.catalogue, f.supplies, springs_of(f.garden, f.supplies), "typical", look
    ),
    "calendar": lambda f, look: calendar_page(f.garden, f.jobs, look),
}


@pytest.mark.parametrize("width", [40, 80, 160])
@pytest.mark.parametrize("name", TERMINAL)
def test_no_page_sends_a_code_to_the_terminal(found: Findings, name: str, width: int) -> None:
    text = TERMINAL[name](found, Look(width=width))
    assert controls_in(text) == set()
    assert "[31m" in text or "1+1" in text
