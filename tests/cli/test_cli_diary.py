"""``rotasolve diary``, ``history``, ``yields`` and ``resow`` as somebody types them."""

from __future__ import annotations

import json
from collections.abc import Callable
from datetime import date, timedelta
from pathlib import Path

import pytest
from typer.testing import Result

from rotasolve.files.crops import load_catalogue
from rotasolve.files.scenarios import read_scenario

Run = Callable[..., Result]


def diary_of(tiny: Path) -> list[str]:
    text = (tiny.parent / "tiny.diary.txt").read_text(encoding="utf-8")
    return [line for line in text.splitlines() if not line.startswith("#")]


def test_lines_are_entered_and_shown(run: Run, tiny: Path) -> None:
    done = run("diary", tiny, "picked", "1.2", "kg", "carrot")
    assert done.exit_code == 0, done.stderr
    today = date.today()
    assert done.stdout == f"{today.isoformat()} picked 1.2 kg carrot\n"
    assert "Entered in" in done.stderr
    assert run("diary", tiny, "yesterday sown kale: moist soil").exit_code == 0
    assert run("diary", tiny, "frost", "-2", "C", "--day", "2027-04-03").exit_code == 0
    assert diary_of(tiny) == [
        f"{today.isoformat()} picked 1.2 kg carrot",
        f"{(today - timedelta(days=1)).isoformat()} sown kale, long bed: moist soil",
        "2027-04-03 frost -2 C",
    ]
    shown = run("diary", tiny, "--from", "2027-04-01", "--to", "2027-04-30")
    assert shown.stdout.splitlines()[3:] == ["April 2027", "3 frost -2 degrees C", "", "1 line."]
    told = json.loads(run("diary", tiny, "--json").stdout)["happenings"]
    assert [one["kind"] for one in told if one["kind"] != "frost"] == ["sown", "picked"]
    assert next(one for one in told if one["kind"] == "picked")["kg"] == 1.2


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["piked", "1 kg carrot"], "did you mean 'picked'?"),
        (["picked 1 kg carot"], "did you mean 'carrot'?"),
        (["frost", "--merg", "x"], "no such option: --merg"),
        (["frost", "-q"], "no such option: -q"),
        (["frost", "--day", "soon"], "--day: 'soon' is not a date"),
        (["frost", "--into-scenario"], "not both at once"),
        (["--merge", "other"], "give its file with -o"),
        (["-o", "other"], "-o goes with either"),
    ],
)
def test_what_cannot_be_understood_enters_nothing(run: Run, tiny: Path, words: list[str], said: str) -> None:
    refused = run("diary", tiny, *words)
    assert refused.exit_code == 2
    assert said in " ".join(refused.stderr.split())
    assert not (tiny.parent / "tiny.diary.txt").exists()


def test_a_worked_example_has_no_diary_beside_it(run: Run, tmp_path: Path) -> None:
    refused = run("diary", "cold-frame", "frost")
    assert refused.exit_code == 2
    assert "copy it first" in refused.stderr
    assert run("diary", "cold-frame", "frost", "--diary", tmp_path / "d.txt").exit_code == 0


def test_broken_lines_are_told_and_all_others_shown(run: Run, tiny: Path) -> None:
    file = tiny.parent / "tiny.diary.txt"
    file.write_text("2027-05-01 frost\n2027-05-02 frosst\n2027-05-03 frost\n", encoding="utf-8")
    shown = run("diary", tiny)
    assert shown.exit_code == 1
    assert "2 lines." in shown.stdout
    assert "tiny.diary.txt:2:12: 'frosst' is nothing that a diary tells - did you mean 'frost'?" in shown.stderr
    assert "1 fault; all other lines were read." in shown.stderr


def test_two_diaries_become_a_new_one(run: Run, tiny: Path, tmp_path: Path) -> None:
    mine, other, both = tiny.parent / "tiny.diary.txt", tmp_path / "other.txt", tmp_path / "both.txt"
    mine.write_text("2027-05-01 frost\n2027-05-03 sown kale\n", encoding="utf-8")
    other.write_text("2027-05-02 frost\n2027-05-03 sown kale, long bed\n", encoding="utf-8")
    done = run("diary", tiny, "--merge", other, "-o", both)
    assert done.exit_code == 0, done.stderr
    assert both.read_text(encoding="utf-8") == "2027-05-01 frost\n2027-05-02 frost\n2027-05-03 sown kale\n"
    assert done.stdout.splitlines()[-2:] == ["In both, and now there once (1):", "2027-05-03 sown kale in long bed"]
    assert run("diary", tiny, "--merge", other, "-o", both).exit_code == 2
    assert mine.read_text(encoding="utf-8").count("\n") == 2


def test_a_failure_says_what_may_be_started(run: Run, tiny: Path) -> None:
    done = run("diary", tiny, "2027-06-20", "failed", "carrot")
    assert done.exit_code == 0, done.stderr
    assert "long bed, strips 1-3, from 20 June 2027" in done.stdout
    assert "- Carrot: sown in place from 20 June 2027 until " in done.stdout
    chances = json.loads(run("diary", tiny, "2027-06-20", "failed", "carrot", "--json").stdout)["resow"]["chances"]
    alone = run("resow", tiny, "long bed", "--on", "2027-06-20", "--json")
    assert json.loads(alone.stdout)["chances"] == chances
    assert run("resow", tiny, "long bed", "--on", "2027-12-20").exit_code == 1
    assert "has the strips 1 to 3, not 4" in run("resow", tiny, "long bed", "--strip", "4").stderr


def test_a_disease_is_told_and_obeyed(run: Run, tiny: Path, plan_file: Path) -> None:
    done = run("diary", tiny, "2027-03-01", "seen clubroot", "--plan", plan_file)
    assert done.exit_code == 0, done.stderr
    # UCONN 7, CLUB-FS 5, OSU-CLUB 6 complete years: the median is 6, from 2027 on.
    said = " ".join(done.stdout.split())
    assert "Clubroot keeps its hosts away from long bed for 6 complete years, so not before 2034: kale." in said
    lost = json.loads(run("diary", tiny, "2027-03-01 seen clubroot", "--plan", plan_file, "--json").stdout)["disease"]
    kale = [one for one in json.loads(plan_file.read_text("utf-8"))["plantings"] if one["crop"] == "kale"]
    assert [one["start"] for one in lost["lost"]] == [one["start"] for one in kale]
    before = tiny.read_text(encoding="utf-8")
    assert run("diary", tiny, "--into-scenario", "--force").exit_code == 0
    assert tiny.read_text(encoding="utf-8") == (
        before + 'seen:\n  - {bed: long bed, disease: clubroot, since: "2027-03-01"}\n'
    )
    again = run("diary", tiny, "--into-scenario", "--force")
    assert again.stdout == "Added to the scenario: nothing, it tells all of it already.\n"
    judged = run("referee", tiny, plan_file)
    assert judged.exit_code == (1 if kale else 0)


def test_the_week_is_ticked_off(run: Run, tiny: Path, plan_file: Path) -> None:
    jobs = json.loads(run("calendar", tiny, plan_file, "--json").stdout)["jobs"]
    job = next(one for one in jobs if one["job"] == "sow" and one["way"] == "sown in place")
    day = date.fromisoformat(job["day"])
    strips = f"strips {job['strips'][0]}-{job['strips'][-1]}"
    assert run("diary", tiny, job["day"], "sown", job["crop"], "in long bed,", strips).exit_code == 0
    shown = run("calendar", tiny, plan_file, "--this-week", "--today", job["day"])
    assert f"sow {job['crop']}" in shown.stdout
    assert "[x]" in shown.stdout
    later = (day + timedelta(days=7)).isoformat()
    told = json.loads(run("calendar", tiny, plan_file, "--this-week", "--today", later, "--json").stdout)
    assert job["uid"] not in [one["uid"] for one in told["overdue"]]
    every = json.loads(run("calendar", tiny, plan_file, "--json").stdout)["jobs"]
    ticked = {one["uid"]: one["diary"] for one in every}
    assert ticked[job["uid"]] == {"state": "done", "day": job["day"]}
    assert "give either --this-week, or" in run("calendar", tiny, plan_file, "--this-week", "--to", later).stderr
    assert "give either --today, or" in run("calendar", tiny, plan_file, "--today", later, "--to", later).stderr


def test_what_was_weighed_counts_when_it_is_asked_to(run: Run, tiny: Path, plan_file: Path) -> None:
    plantings = json.loads(plan_file.read_text("utf-8"))["plantings"]
    carrots = [one for one in plantings if one["crop"] == "carrot"]
    published = sum(one["harvest"]["typical_kg"] for one in carrots)
    assert run("yields", tiny, plan_file).exit_code == 2
    for one in carrots:
        kg = one["harvest"]["typical_kg"] / 2
        strips = f"strips {one['strips'][0]}-{one['strips'][-1]}"
        line = f"{one['last_harvest']} picked {kg:.4f} kg carrot in long bed, {strips}"
        assert run("diary", tiny, line).exit_code == 0
    told = json.loads(run("yields", tiny, plan_file, "--today", "2029-01-01", "--json").stdout)
    assert told["weighed"][0]["published_kg"] == pytest.approx(published)
    # Half of the published yield in one season, counted by a third: 1 - 0.5 / 3.
    assert told["yields"][0]["factor"] == pytest.approx(1 - 0.5 / 3, abs=1e-3)
    assert read_scenario(tiny, load_catalogue()).weighed == ()
    assert run("yields", tiny, plan_file, "--today", "2029-01-01", "--use", "--force").exit_code == 0
    assert [one.crop for one in read_scenario(tiny, load_catalogue()).weighed] == ["carrot"]
    shown = " ".join(run("crops", "carrot", "--in", tiny).stdout.split())
    assert "yield counted: 83 % of the published yield (1 season weighed gave 50 %, counted by 33 %)" in shown
    assert "Counted by what you weighed: carrot 83 %" in " ".join(run("check", tiny).stdout.split())


def test_old_records_are_taken_over(run: Run, tiny: Path, tmp_path: Path) -> None:
    table = tmp_path / "old.csv"
    table.write_text("Plot,Sort,Season\nlong bed,kale,2025\nlong bed,kail,2026\n", encoding="utf-8")
    refused = run("history", tiny, table)
    assert refused.exit_code == 2
    assert "no column is known to hold the crop; the columns are: Plot, Sort, Season" in refused.stderr
    refused = run("history", tiny, table, "--column", "crop=Sort", "--force")
    assert refused.exit_code == 2
    assert "old.csv:3:10: the crop 'kail' is not known" in refused.stderr
    before = tiny.read_text(encoding="utf-8")
    done = run("history", tiny, table, "--column", "crop=Sort", "--means", "kail=kale", "--force")
    assert done.exit_code == 0, done.stderr
    assert tiny.read_text(encoding="utf-8") == before + (
        "history:\n  - {bed: long bed, crop: kale, year: 2025}\n  - {bed: long bed, crop: kale, year: 2026}\n"
    )
    again = run("history", tiny, table, "--column", "crop=Sort", "--means", "kail=kale")
    assert "0 plantings; 2 rows told nothing new" in again.stdout
    assert "no column 'crops'" in run("history", tiny, table, "--column", "crops=Sort").stderr
    assert "written as one=other" in run("history", tiny, table, "--means", "kail").stderr
