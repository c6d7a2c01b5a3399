"""Calendar and shopping pages, whole screens as a reader sees them, and the files for other programs."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable
from datetime import date

import pytest
from icalendar import Calendar

from rotasolve.domain.catalogue import Catalogue
from rotasolve.domain.plan import Plan
from rotasolve.domain.scenario import Rules, Scenario
from rotasolve.errors import FileTrouble
from rotasolve.files.scenarios import warnings_of
from rotasolve.referee import blank_plan
from rotasolve.relations.ground.garden import Garden, make_garden
from rotasolve.relations.work.jobs import chosen, jobs_of
from rotasolve.relations.work.seedlings import seedling_room
from rotasolve.relations.work.shopping import purchases_of
from rotasolve.views.exports.calendar_files import calendar_csv, calendar_ics, uid_of
from rotasolve.views.exports.jobs_json import calendar_answer, shopping_answer
from rotasolve.views.pages.calendar_page import By, calendar_page
from rotasolve.views.pages.shopping_page import shopping_page
from rotasolve.views.words.cautions import cautions_of
from rotasolve.views.words.layout import columns_of
from rotasolve.views.words.look import Look
from tests.helpers.tiny import SOURCE, bed, crop, figure, planting, scenario, start
from tests.helpers.tiny import catalogue as tiny_catalogue

Golden = Callable[[str, str], None]
EVIL = '=1+1 <b>"x", y; z\\n'


@pytest.fixture(scope="module")
def garden(scenario: Scenario, catalogue: Catalogue) -> Garden:
    raising = {"first_pot": figure(4, "cm"), "hardening": figure(1, "weeks"), "least_night": figure(7, "degC")}
    more = {
        "raising": raising,
        "germination": figure(75, "%"),
        "seeds_per_gram": figure(300, "seeds per g"),
        "sowing_depth": figure(1.5, "cm"),
        "water_at_base": {"how": "wet leaves invite mildew", "source": SOURCE},
        "mesh": {"how": "against butterflies", "source": SOURCE},
    }
    crops = tuple(type(one).model_validate({**one.model_dump(), **more}) for one in catalogue.crops)
    return make_garden(scenario, catalogue.model_copy(update={"crops": crops}))


@pytest.mark.parametrize("width", [50, 80, 120])
@pytest.mark.parametrize("by", ["week", "day"])
def test_calendar_page(golden: Golden, garden: Garden, plan: Plan, width: int, by: By) -> None:
    text = calendar_page(garden, jobs_of(garden, plan), Look(width), by)
    assert all(columns_of(line) <= width for line in text.splitlines())
    golden(f"calendar_{by}_{width}", text)


@pytest.mark.parametrize("width", [50, 80])
def test_shopping_page(golden: Golden, garden: Garden, plan: Plan, width: int) -> None:
    text = shopping_page(garden, purchases_of(garden, plan), seedling_room(garden, plan), Look(width), 20)
    assert all(columns_of(line) <= width for line in text.splitlines())
    golden(f"shopping_{width}", text)


def test_pages_in_ascii_and_inches(garden: Garden, plan: Plan) -> None:
    look = Look(80, plain=True, inches=True)
    text = calendar_page(garden, jobs_of(garden, plan), look)
    text += shopping_page(garden, purchases_of(garden, plan), seedling_room(garden, plan), look, 20)
    assert text.isascii()
    assert " cm" not in text
    assert "11.8 in apart in the row" in text


def test_pages_without_jobs_say_so(garden: Garden) -> None:
    assert "No jobs" in calendar_page(garden, (), Look(80))
    assert "Nothing is begun" in shopping_page(garden, {}, (), Look(80), 20)


def events_of(text: bytes) -> dict[str, tuple[int, str, date, str]]:
    found: dict[str, tuple[int, str, date, str]] = {}
    for event in Calendar.from_ical(text).walk("VEVENT"):
        said = int(event.decoded("sequence")), str(event["status"]), event.decoded("dtstart"), str(event["summary"])
        found[str(event["uid"])] = said
    return found


def test_the_calendar_file_is_the_same_for_the_same_plan(garden: Garden, plan: Plan) -> None:
    jobs = jobs_of(garden, plan)
    first = calendar_ics(garden, jobs)
    assert first == calendar_ics(garden, jobs)
    assert first == calendar_ics(garden, jobs, jobs, first)
    found = events_of(first)
    assert found.keys() == {uid_of(job) for job in jobs}
    assert {entry[:2] for entry in found.values()} == {(0, "CONFIRMED")}
    assert all(len(line) <= 75 for line in first.split(b"\r\n"))  # RFC 5545, section 3.1


def test_a_moved_day_updates_the_event_and_a_dropped_planting_cancels_it(garden: Garden, plan: Plan) -> None:
    before = calendar_ics(garden, jobs_of(garden, plan))
    squash, kale, lone, garlic = plan.plantings
    later = squash.model_copy(update={"start": date(2027, 5, 20)})
    jobs = jobs_of(garden, plan.model_copy(update={"plantings": (later, kale, lone)}))
    after = calendar_ics(garden, jobs, jobs, before)
    old, new = events_of(before), events_of(after)
    assert old.keys() == new.keys()
    changed = {uid: new[uid] for uid in new if new[uid] != old[uid]}
    assert {entry[0] for entry in changed.values()} == {1}
    titles = {entry[3].split(":")[0]: entry[1] for entry in changed.values()}
    assert titles["set out summer squash"] == "CONFIRMED"
    assert titles["sow garlic"] == titles["clear garlic"] == "CANCELLED"
    assert not [entry for entry in changed.values() if "kale" in entry[3]]
    # What is cancelled stays cancelled, and a planting that comes back is confirmed once more.
    again = jobs_of(garden, plan)
    assert calendar_ics(garden, jobs, jobs, after) == after
    back = events_of(calendar_ics(garden, again, again, after))
    assert {back[uid_of(job)][:2] for job in again if job.planting == garlic} == {(2, "CONFIRMED")}


def test_a_later_version_has_a_later_stamp(garden: Garden, plan: Plan) -> None:
    stamps = []
    jobs = jobs_of(garden, plan)
    before = calendar_ics(garden, jobs[:1])
    moved = [type(jobs[0])(date(2027, 4, 30), jobs[0].kind, jobs[0].planting, jobs[0].year)]
    for text in (before, calendar_ics(garden, moved, moved, before)):
        (event,) = Calendar.from_ical(text).walk("VEVENT")
        stamps.append(event.decoded("dtstamp"))
    assert stamps[0] < stamps[1]


def test_an_export_of_some_jobs_keeps_the_others(garden: Garden, plan: Plan) -> None:
    jobs = jobs_of(garden, plan)
    before = calendar_ics(garden, jobs)
    after = calendar_ics(garden, chosen(jobs, crops=["kale"]), jobs, before)
    assert events_of(after) == events_of(before)


def test_events_before_the_plan_are_history(garden: Garden, plan: Plan) -> None:
    jobs = jobs_of(garden, plan)
    before = calendar_ics(garden, jobs)
    next_year = make_garden(garden.scenario.model_copy(update={"first_year": 2028, "years": 1}), garden.catalogue)
    after = events_of(calendar_ics(next_year, (), (), before))
    assert {entry[1] for entry in after.values() if entry[2] < date(2028, 1, 1)} == {"CONFIRMED"}
    assert {entry[1] for entry in after.values() if entry[2] >= date(2028, 1, 1)} == {"CANCELLED"}


FOREIGN = (
    b"BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:x\r\nBEGIN:VEVENT\r\nUID:dentist\r\nDTSTAMP:20270101T000000Z\r\n"
    b"DTSTART;VALUE=DATE:20270301\r\nEND:VEVENT\r\nEND:VCALENDAR\r\n"
)


@pytest.mark.parametrize(
    ("before", "said"),
    [
        (FOREIGN, "holds more than rotasolve wrote"),
        (b"not a calendar", "cannot be read"),
        (b"", "cannot be read"),
        (FOREIGN.replace(b"UID:dentist\r\n", b""), "cannot be read"),
        (FOREIGN.replace(b"VEVENT", b"VTODO"), "holds more than rotasolve wrote"),
        (FOREIGN.replace(b"20270301", b"2027March"), "that is there already"),
    ],
)
def test_a_calendar_of_somebody_else_is_not_written_over(garden: Garden, before: bytes, said: str) -> None:
    with pytest.raises(FileTrouble, match=said):
        calendar_ics(garden, (), (), before)


def evil_garden() -> tuple[Garden, Plan]:
    name = EVIL.replace("\\n", "")
    one = crop(name, "cabbages", starts=[start(1, 60)])
    written = scenario([name], beds=[bed("=1+1"), bed("@sum(a1);b,c")])
    garden = make_garden(written, tiny_catalogue((one,), pathogens=[], neighbours=[]))
    plantings = [planting(name, (1,), "2027-05-08", "2027-07-31", bed=place) for place in garden.beds]
    return garden, blank_plan(written, tuple(plantings))


def test_names_that_look_like_formulas_are_harmless_in_csv() -> None:
    garden, plan = evil_garden()
    rows = list(csv.DictReader(io.StringIO(calendar_csv(garden, jobs_of(garden, plan)))))
    assert len(rows) == len(jobs_of(garden, plan))
    for row in rows:
        assert all(not cell.lstrip().startswith(("=", "+", "-", "@")) for cell in row.values())
        assert row["bed"] in ("'=1+1", "'@sum(a1);b,c")
        assert row["crop"] == "'" + EVIL.replace("\\n", "")


@pytest.mark.parametrize("name", ["+1", "-1+1", " =1", "＝1", "＋1", "－1", "＠x"])  # noqa: RUF001 - full-width signs are meant
def test_other_signs_of_formulas(name: str) -> None:
    written = scenario(beds=[bed("b").model_copy(update={"name": name})])
    garden = make_garden(written, tiny_catalogue())
    plan = blank_plan(written, (planting("kale", (1,), "2027-07-17", "2027-09-30").model_copy(update={"bed": name}),))
    (row, *_) = csv.DictReader(io.StringIO(calendar_csv(garden, jobs_of(garden, plan))))
    assert row["bed"] == f"'{name}"


def test_csv_is_read_back_as_it_was(garden: Garden, plan: Plan) -> None:
    text = calendar_csv(garden, jobs_of(garden, plan))
    assert text.endswith("\r\n")
    first, *_ = csv.DictReader(io.StringIO(text))
    assert (first["day"], first["week_from"], first["job"]) == ("2027-04-18", "2027-04-12", "sow indoors")
    assert (first["seeds"], first["seed_grams"]) == ("32", "0.11")  # 24 pots / 0.75 = 32 seeds of 300 to the gram


def test_json_has_the_version_and_the_same_jobs(garden: Garden, plan: Plan) -> None:
    jobs = jobs_of(garden, plan)
    answer = calendar_answer(garden, jobs, scenario_matches=True)
    assert answer["schema_version"] == 1
    assert [entry["uid"] for entry in answer["jobs"]] == [uid_of(job) for job in jobs]
    bought = shopping_answer(
        purchases_of(garden, plan), seedling_room(garden, plan), sill_depth_cm=20, scenario_matches=True
    )
    assert [year["garden_year"] for year in bought["years"]] == [2027]
    assert bought["seedlings"][0]["pots"] == [{"pot_cm": 4, "count": 24}]


def test_raw_manure_comes_with_a_caution(scenario: Scenario, catalogue: Catalogue, plan: Plan) -> None:
    spread = Scenario.model_validate({**scenario.model_dump(), "manure": [{"bed": "frame", "spread": "2027-03-01"}]})
    told = [text for text in cautions_of(plan, catalogue, spread) if "manure" in text]
    assert len(told) == 1
    assert "food-safety authority" in told[0]
    assert not [text for text in cautions_of(plan, catalogue, scenario) if "manure" in text]


def test_shorter_manure_intervals_than_the_published_are_warned_about(scenario: Scenario, catalogue: Catalogue) -> None:
    short = scenario.model_copy(update={"rules": Rules(manure_days_touching=60)})
    assert [told for told in warnings_of(short, catalogue) if "60 (touching soil)" in told and "120" in told]
    assert not [told for told in warnings_of(scenario, catalogue) if "manure" in told]
