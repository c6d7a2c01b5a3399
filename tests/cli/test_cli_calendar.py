"""``rotasolve calendar`` and ``rotasolve shopping`` as somebody types them."""

from __future__ import annotations

import json
from collections.abc import Callable
from datetime import date, timedelta
from pathlib import Path

import pytest
from icalendar import Calendar
from typer.testing import Result

Run = Callable[..., Result]


def test_the_list_by_week_and_by_day(run: Run, tiny: Path, plan_file: Path) -> None:
    by_week = run("calendar", tiny, plan_file, "--details")
    assert by_week.exit_code == 0, by_week.stderr
    assert "Week " in by_week.stdout
    assert "[ ] " in by_week.stdout
    by_day = run("calendar", tiny, plan_file, "--by", "day", "--details")
    assert by_day.stdout.count("[ ]") == by_week.stdout.count("[ ]") > 5


def test_two_weeks_are_listed_unless_more_is_asked_for(run: Run, tiny: Path, plan_file: Path) -> None:
    """The first jobs that are due on or after a day; before the plan its first ones, after it these again."""
    days = [
        date.fromisoformat(job["day"]) for job in json.loads(run("calendar", tiny, plan_file, "--json").stdout)["jobs"]
    ]
    every = run("calendar", tiny, plan_file, "--details").stdout

    def listed(today: date) -> str:
        return run("calendar", tiny, plan_file, "--today", today.isoformat()).stdout

    first = listed(days[0] - timedelta(days=200))
    assert first == listed(days[0]) == listed(days[-1] + timedelta(days=1))
    soon = sum(day < days[0] + timedelta(days=14) for day in days)
    assert f"{soon} job" in first
    assert f" of {len(days)}; --details lists all" in first
    assert len(first.splitlines()) < len(every.splitlines())
    # From a week before the last job on there is nothing but the last week.
    last = sum(day >= days[-1] - timedelta(days=7) for day in days)
    assert f"{last} job" in listed(days[-1] - timedelta(days=7))


def test_json_and_choices_of_days_beds_and_crops(run: Run, tiny: Path, plan_file: Path) -> None:
    every = json.loads(run("calendar", tiny, plan_file, "--json").stdout)["jobs"]
    crops = {job["crop"] for job in every}
    one = sorted(crops)[0]
    found = json.loads(run("calendar", tiny, plan_file, "--json", "--crop", one.upper()).stdout)["jobs"]
    assert found == [job for job in every if job["crop"] == one]
    begin, end = every[1]["day"], every[-2]["day"]
    some = json.loads(run("calendar", tiny, plan_file, "--json", "--from", begin, "--to", end).stdout)["jobs"]
    assert some == [job for job in every if begin <= job["day"] <= end]
    assert run("calendar", tiny, plan_file, "--bed", "long bed").exit_code == 0


def test_files_are_written_and_a_second_export_updates(run: Run, tiny: Path, plan_file: Path, tmp_path: Path) -> None:
    ics, csv = tmp_path / "garden.ics", tmp_path / "garden.csv"
    done = run("calendar", tiny, plan_file, "--ics", ics, "--csv", csv)
    assert done.exit_code == 0, done.stderr
    assert f"Written: {ics}" in done.stderr
    jobs = json.loads(run("calendar", tiny, plan_file, "--json").stdout)["jobs"]
    first = ics.read_bytes()
    events = Calendar.from_ical(first).walk("VEVENT")
    assert {str(event["uid"]) for event in events} == {job["uid"] for job in jobs}
    assert len(csv.read_text(encoding="utf-8").splitlines()) == len(jobs) + 1
    refused = run("calendar", tiny, plan_file, "--ics", ics)
    assert refused.exit_code == 2
    assert "--force" in refused.stderr
    assert run("calendar", tiny, plan_file, "--ics", ics, "--force").exit_code == 0
    assert ics.read_bytes() == first


def test_a_file_that_is_no_calendar_is_left_alone(run: Run, tiny: Path, plan_file: Path, tmp_path: Path) -> None:
    ics = tmp_path / "notes.ics"
    ics.write_text("dear diary", encoding="utf-8")
    refused = run("calendar", tiny, plan_file, "--ics", ics, "--force")
    assert refused.exit_code == 2
    assert str(ics) in refused.stderr.replace("\n", "")
    assert ics.read_text(encoding="utf-8") == "dear diary"


@pytest.mark.parametrize(
    ("options", "said"),
    [
        (["--from", "soon"], "is not a date"),
        (["--from", "2027-06-01", "--to", "2027-05-01"], "lies before"),
        (["--by", "month"], "neither week nor day"),
        (["--bed", "long bid"], "did you mean 'long bed'"),
        (["--crop", "carot"], "carrot"),
    ],
)
def test_bad_options_say_what_to_write(run: Run, tiny: Path, plan_file: Path, options: list[str], said: str) -> None:
    refused = run("calendar", tiny, plan_file, *options)
    assert refused.exit_code == 2
    assert said in " ".join(refused.stderr.split())
    assert refused.stdout == ""


def test_shopping_by_year_and_as_json(run: Run, tiny: Path, plan_file: Path) -> None:
    page = run("shopping", tiny, plan_file)
    assert page.exit_code == 0, page.stderr
    assert "For 2027" in page.stdout
    assert "carrot" in page.stdout
    answer = json.loads(run("shopping", tiny, plan_file, "--year", "2027", "--json", "--sill", "12 in").stdout)
    assert answer["schema_version"] == 1
    assert answer["sill_depth_cm"] == pytest.approx(30.48)
    seeds = {p["what"]: p["amount"] for p in answer["years"][0]["purchases"] if p["ware"] == "seed"}
    assert seeds["carrot"] > 0


@pytest.mark.parametrize(
    ("options", "said"),
    [
        (["--year", "1999"], "years in which something is: 2027"),
        (["--sill", "20"], "is not a length"),
        (["--sill", "1 cm"], "5 cm to 5 m"),
    ],
)
def test_bad_shopping_options(run: Run, tiny: Path, plan_file: Path, options: list[str], said: str) -> None:
    refused = run("shopping", tiny, plan_file, *options)
    assert refused.exit_code == 2
    assert said in " ".join(refused.stderr.split())


@pytest.mark.parametrize("command", ["calendar", "shopping"])
def test_narrow_and_plain_terminals(run: Run, tiny: Path, plan_file: Path, command: str) -> None:
    done = run(command, tiny, plan_file, COLUMNS="50")
    assert done.exit_code == 0
    assert max(map(len, done.stdout.splitlines())) <= 50
