"""Plans edited by hand: read by every command, refereed with their lines, and planned on from."""

from __future__ import annotations

import json
from collections.abc import Callable
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest
from typer.testing import Result

Run = Callable[..., Result]


def edit(file: Path, change: Callable[[list[dict[str, Any]]], None]) -> None:
    """Change the lines of a plan file that hold a planting each, as an editor would."""
    lines = file.read_text(encoding="utf-8").split("\n")
    first = next(n for n, line in enumerate(lines) if line.startswith('  {"bed"'))
    last = next(n for n, line in enumerate(lines) if n > first and line == " ],")
    plantings = [json.loads(line.rstrip(",")) for line in lines[first:last]]
    change(plantings)
    lines[first:last] = ",\n".join(f"  {json.dumps(p)}" for p in plantings).split("\n")
    file.write_text("\n".join(lines), encoding="utf-8")


def fewer(plantings: list[dict[str, Any]]) -> None:
    plantings[0]["plants"] -= 1


def test_fewer_plants_are_taken_up_and_nothing_old_is_claimed(run: Run, tiny: Path, plan_file: Path) -> None:
    before = json.loads(plan_file.read_text())
    edit(plan_file, fewer)
    done = run("referee", tiny, plan_file)
    assert done.exit_code == 0
    assert "Every rule holds" in done.stdout
    assert "more are lost now" in done.stdout
    assert "edited by hand since it was written (1 planting changed or added, 1 gone or replaced)" in " ".join(
        done.stderr.split()
    )
    told = json.loads(run("referee", tiny, plan_file, "--json").stdout)
    assert (told["edited"], told["points_lost_in_file"]) == (True, before["standing"]["lost"])
    assert told["points_lost"] > told["points_lost_in_file"]
    assert len(told["worked_out"]) == 1
    shown = run("show", tiny, plan_file)
    assert shown.exit_code == 0
    assert "Proven best" not in shown.stdout
    assert "not known any more" in shown.stdout
    shown = json.loads(run("show", tiny, plan_file, "--json").stdout)
    assert (shown["outcome"], shown["plan"]["standing"]) == ("unknown", None)
    kg = shown["plan"]["plantings"][0]["harvest"]["typical_kg"]
    assert 0 < kg < before["plantings"][0]["harvest"]["typical_kg"]


@pytest.mark.parametrize(
    "command",
    [["calendar"], ["shopping"], ["supply"], ["shortfall"], ["show"]],
    ids=lambda command: str(command[0]),
)
def test_every_command_takes_the_edit_up(run: Run, tiny: Path, plan_file: Path, command: list[str]) -> None:
    quiet = run(*command, tiny, plan_file)
    edit(plan_file, lambda plantings: plantings.append(added(plantings)))
    done = run(*command, tiny, plan_file)
    assert done.exit_code == quiet.exit_code == 0
    assert "edited by hand" in done.stderr
    assert "edited by hand" not in quiet.stderr
    assert command == ["shortfall"] or done.stdout != quiet.stdout


def added(plantings: list[dict[str, Any]]) -> dict[str, Any]:
    """Return a planting with nothing but what must be said, on the strip of one that it comes after or before."""
    return {"bed": "long bed", "strips": plantings[0]["strips"], "crop": "radish", "start": "2027-03-25"}


def test_a_breach_names_lines_of_the_file(run: Run, tiny: Path, plan_file: Path) -> None:
    def crowd(plantings: list[dict[str, Any]]) -> None:
        plantings.append({**plantings[0], "crop": "leaf lettuce", "plants": 9999})

    edit(plan_file, crowd)
    done = run("referee", tiny, plan_file, "--details", COLUMNS="200")
    assert done.exit_code == 1
    last = next(n for n, line in enumerate(plan_file.read_text().split("\n"), 1) if "9999" in line)
    assert f"{plan_file}:{last}:3: leaf lettuce in long bed" in " ".join(done.stdout.split())
    assert "[spacing-capacity]" in done.stdout
    assert "[free-ground]" in done.stdout
    assert "Nothing is against the other" in done.stdout
    told = json.loads(run("referee", tiny, plan_file, "--json").stdout)
    ground = next(b for b in told["breaches"] if b["rule"] == "free-ground")
    assert [p["place"].rsplit(":", 2)[1] for p in ground["plantings"]][-1] == str(last)
    assert len(ground["plantings"]) == 2


def test_faults_are_told_at_once_with_places(run: Run, tiny: Path, plan_file: Path) -> None:
    def wrong(plantings: list[dict[str, Any]]) -> None:
        plantings[0]["bed"] = "lung bed"
        plantings[1]["strips"] = [99]

    edit(plan_file, wrong)
    for command in (["referee", tiny, plan_file], ["show", tiny, plan_file], ["plan", tiny, "--from", plan_file]):
        done = run(*command)
        assert (done.exit_code, done.stdout) == (2, "")
        assert "did you mean 'long bed'?" in done.stderr
        assert "not 99" in done.stderr
        assert f"{plan_file}:10:11:" in done.stderr
        assert "2 faults" in done.stderr


def test_planning_on_keeps_the_edit_and_says_what_changed(
    run: Run, tiny: Path, plan_file: Path, tmp_path: Path
) -> None:
    edit(plan_file, fewer)
    new = tmp_path / "new.json"
    done = run("plan", tiny, "--from", plan_file, "--effort", 2, "-o", new, "--details")
    assert done.exit_code == 0
    assert "What changed against the earlier plan" in done.stdout
    assert "1 planting kept by you" in done.stdout
    assert "start days and sizes of block on offer that keeps this planting can lose fewer" in " ".join(
        done.stdout.split()
    )
    data = json.loads(new.read_text())
    was = json.loads(plan_file.read_text())["plantings"][0]
    (kept,) = [p for p in data["plantings"] if p.get("kept")]
    decided = ("bed", "strips", "crop", "way", "start", "clear", "plants")
    assert {key: kept[key] for key in decided} == {key: was[key] for key in decided}
    judged = run("referee", tiny, new)
    assert (judged.exit_code, judged.stderr) == (0, "")
    # Kept once, kept again.
    again = json.loads(run("plan", tiny, "--from", new, "--effort", 2, "--json").stdout)
    assert [p["crop"] for p in again["from"]["kept"]] == [kept["crop"]]
    assert (again["outcome"], again["edited"]) == ("proven best", False)


def test_all_nothing_beds_and_days(run: Run, tiny: Path, plan_file: Path) -> None:
    count = len(json.loads(plan_file.read_text())["plantings"])

    def kept(*options: object) -> int:
        done = run("plan", tiny, "--from", plan_file, "--effort", 1, "--json", *options)
        assert done.exit_code == 0, done.stderr
        return len(json.loads(done.stdout)["from"]["kept"])

    assert kept() == kept("--keep", "nothing") == 0
    assert kept("--keep", "all") == kept("--keep", "long bed") == kept("--as-of", "31 December 2027") == count
    assert 0 < kept("--keep", "Kale") < count
    assert kept("--as-of", "2027-01-01") == 0


def test_a_crop_that_failed_is_cleared(run: Run, tiny: Path, plan_file: Path) -> None:
    kale = next(p for p in json.loads(plan_file.read_text())["plantings"] if p["crop"] == "kale")
    # In its first 30 days of the season it would be no host yet, and not be kept at all.
    day = (date.fromisoformat(kale["start"]) + timedelta(days=40)).isoformat()
    asked = ("plan", tiny, "--from", plan_file, "--effort", 1, "--as-of", day, "--failed", "kale in long bed")
    told = json.loads(run(*asked, "--json").stdout)
    (failed,) = [p for p in told["from"]["kept"] if p["crop"] == "kale"]
    assert (failed["clear"], failed["harvest"]["typical_kg"]) == (day, 0)
    assert "cleared sooner" in run(*asked, COLUMNS="120").stdout


def test_kept_plantings_that_break_rules_are_no_plan(run: Run, tiny: Path, plan_file: Path) -> None:
    def crowd(plantings: list[dict[str, Any]]) -> None:
        plantings[0]["plants"] = 9999

    edit(plan_file, crowd)
    done = run("plan", tiny, "--from", plan_file, "--effort", 1)
    assert done.exit_code == 1
    assert "What you keep breaks rules by itself" in done.stdout
    assert "9999 plants" in done.stdout
    assert "You keep" in done.stdout
    told = json.loads(run("plan", tiny, "--from", plan_file, "--effort", 1, "--json").stdout)
    assert told["outcome"] == "impossible"
    assert told["kept_against_rules"][0]["rule"] == "spacing-capacity"


def test_a_plan_of_other_years_and_beds_is_taken_over_where_it_makes_sense(
    run: Run, tiny: Path, plan_file: Path
) -> None:
    tiny.write_text(tiny.read_text().replace("years: 1", "years: 2").replace("kg: 3", "kg: 2"))
    edit(plan_file, lambda plantings: plantings.append({**plantings[0], "bed": "old bed"}))
    done = run("plan", tiny, "--from", plan_file, "--keep", "all", "--effort", 1, "--json")
    assert done.exit_code == 0
    notes = json.loads(done.stdout)["from"]["notes"]
    assert any("it has been changed since" in note for note in notes)
    assert any("left out" in note and "there is no bed 'old bed'" in note for note in notes)
    assert run("referee", tiny, plan_file).exit_code == 2


@pytest.mark.parametrize(
    ("options", "why"),
    [
        (("--keep", "all"), "give the plan with --from"),
        (("--as-of", "2027-06-01"), "give the plan with --from"),
        (("--from", "PLAN", "--keep", "nothing", "--keep", "all"), "cannot stand beside another"),
        (("--from", "PLAN", "--failed", "kale"), "give it with --as-of"),
        (("--from", "PLAN", "--as-of", "soon"), "is not a date"),
        (("--from", "PLAN", "--keep", "lung bed"), "did you mean 'long bed'?"),
        (("--from", "PLAN", "--keep", "leek"), "there is no leek in the earlier plan"),
        (("--from", "PLAN", "--as-of", "2027-01-02", "--failed", "kale"), "is in the ground on 2 January 2027"),
        (("--from", "nowhere.json"), "there is no such file"),
    ],
)
def test_options_that_cannot_be(run: Run, tiny: Path, plan_file: Path, options: tuple[str, ...], why: str) -> None:
    done = run("plan", tiny, "--effort", 1, *(plan_file if word == "PLAN" else word for word in options))
    assert (done.exit_code, done.stdout) == (2, "")
    assert why in " ".join(done.stderr.split())


def test_an_old_file_must_say_what_to_keep(run: Run, tiny: Path, plan_file: Path) -> None:
    data = json.loads(plan_file.read_text())
    del data["written"]
    plan_file.write_text(json.dumps(data, indent=1))
    for command in ("referee", "show"):
        done = run(command, tiny, plan_file)
        assert (done.exit_code, done.stderr) == (0, "")
    assert "Proven best" in run("show", tiny, plan_file, "--details").stdout
    done = run("plan", tiny, "--from", plan_file, "--effort", 1)
    assert (done.exit_code, done.stdout) == (2, "")
    assert "holds no record of how it was written" in done.stderr
    assert run("plan", tiny, "--from", plan_file, "--keep", "all", "--effort", 1).exit_code == 0


def test_a_narrow_terminal(run: Run, tiny: Path, plan_file: Path) -> None:
    edit(plan_file, fewer)
    for command in (["referee", tiny, plan_file], ["plan", tiny, "--from", plan_file, "--effort", 1]):
        done = run(*command, COLUMNS="40")
        assert done.exit_code == 0
        wide = [line for line in done.stdout.splitlines() if len(line) > 40 and str(plan_file) not in line]
        assert not wide
