"""Calendar files before two outside parsers: libical (Debian) and ical.js (npm); both must refuse broken ones.

RFC 5545. Elsewhere these tests are skipped where a parser is missing; with ROTASOLVE_CI set that is a failure.
"""

from __future__ import annotations

import ctypes
import ctypes.util
import json
import os
import re
import shutil
import subprocess
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from rotasolve.referee import blank_plan
from rotasolve.relations.ground.garden import make_garden
from rotasolve.relations.work.jobs import jobs_of
from rotasolve.views.exports.calendar_files import calendar_ics, uid_of
from tests.helpers.tiny import CATALOGUE, bed, catalogue, crop, planting, scenario

ROOT = Path(__file__).parents[2]
ICAL_JS = ROOT / ".ci" / "parsers" / "node_modules" / "ical.js" / "dist" / "ical.es5.cjs"
_READ = """\
const ICAL = require(process.argv[1]);
const text = require("fs").readFileSync(0, "utf8");
const root = new ICAL.Component(ICAL.parse(text));
const told = root.getAllSubcomponents("vevent").map(one => {
  const event = new ICAL.Event(one);
  if (!event.uid) throw new Error("no uid");
  if (!event.startDate || !event.startDate.isDate) throw new Error("no day");
  return {uid: event.uid, day: event.startDate.toString(), summary: event.summary, location: event.location,
          sequence: event.sequence, description: event.description};
});
console.log(JSON.stringify(told));
"""


def missing(what: str) -> None:
    """Skip, or fail where every parser must be there."""
    if os.environ.get("ROTASOLVE_CI"):
        pytest.fail(f"{what} is missing, and ROTASOLVE_CI asks for it")
    pytest.skip(f"{what} is not installed; .ci/run installs it")


@pytest.fixture(scope="module")
def libical() -> Any:
    found = ctypes.util.find_library("ical")
    if found is None:
        missing("libical3, a Debian package,")
    library = ctypes.CDLL(found)
    library.icalparser_parse_string.restype = ctypes.c_void_p
    library.icalparser_parse_string.argtypes = [ctypes.c_char_p]
    for name in ("icalrestriction_check", "icalcomponent_count_errors", "icalcomponent_free"):
        getattr(library, name).argtypes = [ctypes.c_void_p]
    return library


def libical_takes(library: Any, text: bytes) -> bool:
    """Return whether libical reads a text without errors and finds every restriction of RFC 5546 and 5545 kept."""
    root = library.icalparser_parse_string(text)
    if not root:
        return False
    try:
        return bool(library.icalrestriction_check(root) == 1 and library.icalcomponent_count_errors(root) == 0)
    finally:
        library.icalcomponent_free(root)


@pytest.fixture(scope="module")
def ical_js() -> Callable[[bytes], list[dict[str, Any]] | None]:
    node = shutil.which("node")
    if node is None or not ICAL_JS.is_file():
        missing("ical.js, an npm package, in .ci/parsers")

    def read(text: bytes) -> list[dict[str, Any]] | None:
        done = subprocess.run(
            [str(node), "-e", _READ, str(ICAL_JS)], input=text, capture_output=True, timeout=60, check=False
        )
        return json.loads(done.stdout) if done.returncode == 0 else None

    return read


def calendar() -> tuple[bytes, dict[str, tuple[str, str]]]:
    """Return a calendar with names that need escaping, and what should be read: UID to day and bed."""
    name = 'kale; "curly", blue <b>\\n'
    crops = catalogue((crop(name, "cabbages"), *CATALOGUE.crops), pathogens=[], neighbours=[])
    beds = [bed("=1+1"), bed("a;b,c\\d:e"), bed("Beet für Grünkohl und noch viel längere Namen 菜園")]
    written = scenario([name, "tomato"], beds=beds)
    garden = make_garden(written, crops)
    plantings = [
        planting(one, (1,), "2027-05-08", "2027-07-31", "2027-07-07", bed=place)
        for place in garden.beds
        for one in (name, "tomato")
    ]
    jobs = jobs_of(garden, blank_plan(written, tuple(plantings)))
    return calendar_ics(garden, jobs), {uid_of(job): (job.day.isoformat(), job.planting.bed) for job in jobs}


def without(text: bytes, name: bytes) -> bytes:
    return b"".join(line + b"\r\n" for line in text.split(b"\r\n") if line and not line.startswith(name))


def broken_files() -> dict[str, bytes]:
    """Return files that each break RFC 5545 in one place."""
    text, _ = calendar()
    day = re.search(rb"DTSTART;VALUE=DATE:\d+\r\n", text)
    assert day is not None
    return {
        "not closed": text.replace(b"END:VCALENDAR\r\n", b"").replace(b"END:VEVENT", b"END:VTODO", 1),
        "a day that is none": text.replace(day[0], b"DTSTART;VALUE=DATE:soon\r\n", 1),
        "two starts": text.replace(day[0], day[0] * 2, 1),
        "no UID": without(text, b"UID"),
        "no colon": text.replace(b"STATUS:CONFIRMED", b"STATUS CONFIRMED", 1),
        "prose": b"a plan",
        "empty": b"",
    }


BY_LIBICAL = ["not closed", "a day that is none", "two starts", "no colon", "prose", "empty"]
"""Libical lets an event without UID pass where no METHOD is given."""
BY_ICAL_JS = ["not closed", "a day that is none", "no UID", "no colon", "prose", "empty"]
"""ical.js takes the first of two starts."""


def test_libical_reads_the_file_and_finds_nothing_wrong(libical: Any) -> None:
    assert libical_takes(libical, calendar()[0])


@pytest.mark.parametrize("name", BY_LIBICAL)
def test_libical_refuses_broken_files(libical: Any, name: str) -> None:
    assert not libical_takes(libical, broken_files()[name])


def test_ical_js_reads_every_event_with_its_names(ical_js: Callable[[bytes], list[dict[str, Any]] | None]) -> None:
    text, wanted = calendar()
    events = ical_js(text)
    assert events is not None
    assert {event["uid"]: (event["day"], event["location"]) for event in events} == wanted
    assert {event["sequence"] for event in events} == {0}
    assert any(event["summary"] == 'sow kale; "curly", blue <b>\\n: a;b,c\\d:e, strip 1' for event in events)


@pytest.mark.parametrize("name", BY_ICAL_JS)
def test_ical_js_refuses_broken_files(ical_js: Callable[[bytes], list[dict[str, Any]] | None], name: str) -> None:
    assert ical_js(broken_files()[name]) is None
