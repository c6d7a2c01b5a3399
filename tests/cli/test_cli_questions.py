"""``where``, ``clash`` and ``shortfall``: answers, exit status, JSON, files, and refusals that say how to mend."""

from __future__ import annotations

import json
import subprocess
from collections.abc import Callable
from pathlib import Path

import pytest
from typer.testing import Result

from rotasolve.errors import FileTrouble
from tests.cli.test_cli_program import loaded

Run = Callable[..., Result]
Program = Callable[..., "subprocess.CompletedProcess[str]"]
Environment = Callable[..., dict[str, str]]

OLD_KALE = "history:\n  - {bed: long bed, crop: kale, year: 2026}\n"


def spare(plan_file: Path) -> None:
    """Leave of the plan only its first planting, so that there is room."""
    plan = json.loads(plan_file.read_text())
    plan["plantings"] = plan["plantings"][:1]
    plan_file.write_text(json.dumps(plan))


def test_places_best_first(run: Run, tiny: Path) -> None:
    done = run("where", tiny, "KALE", "--plants", 3)
    assert (done.exit_code, done.stderr) == (0, "")
    assert "places for 3 plants of kale in 2027" in done.stdout
    assert "1. long bed: " in done.stdout
    answer = json.loads(run("where", tiny, "kale", "--plants", 3, "--json").stdout)
    assert answer["asked"]["plants"] == 3
    yields = [place["planting"]["harvest"]["typical_kg"] for place in answer["places"]]
    assert yields == sorted(yields, reverse=True)
    assert {place["planting"]["plants"] for place in answer["places"]} == {3}


def test_a_day_and_a_way_narrow_the_answer(run: Run, tiny: Path) -> None:
    answer = json.loads(run("where", tiny, "kale", "--on", "1 July 2027", "--way", "set out", "--json").stdout)
    assert {place["planting"]["start"] for place in answer["places"]} == {"2027-07-01"}
    assert {place["planting"]["way"] for place in answer["places"]} == {"set out"}


def test_no_place_is_a_finding_with_its_reason(run: Run, tiny: Path) -> None:
    tiny.write_text(tiny.read_text() + OLD_KALE)
    done = run("where", tiny, "kale")
    assert done.exit_code == 1
    assert "There is no place for kale in 2027." in done.stdout
    assert "rest of the family: Kale stood here in 2026; Brassicaceae may return in 2029." in " ".join(
        done.stdout.split()
    )
    answer = json.loads(run("where", tiny, "kale", "--json").stdout)
    assert answer["places"] == []
    assert answer["refusals"][0]["hindrances"][0]["until"] == "2028-12-31"


def test_all_shows_every_place(run: Run, tiny: Path) -> None:
    few, every = (run("where", tiny, "kale", "--plants", 3, *more).stdout for more in ((), ("--all",)))
    count = len(json.loads(run("where", tiny, "kale", "--plants", 3, "--json").stdout)["places"])
    assert f"{count}. long bed" in every
    assert len(every) > len(few)


def test_beside_a_plan_its_plantings_are_in_the_way(run: Run, tiny: Path, plan_file: Path) -> None:
    taken = json.loads(plan_file.read_text())["plantings"][0]

    def strips(*more: object) -> set[int]:
        asked = ("where", tiny, taken["crop"], "--on", taken["start"], "--json", *more)
        answer = json.loads(run(*asked).stdout)
        assert answer["scenario_matches"] is True
        return {strip for place in answer["places"] for strip in place["planting"]["strips"]}

    assert set(taken["strips"]) <= strips()
    assert not set(taken["strips"]) & strips("--plan", plan_file)


@pytest.mark.parametrize(
    ("arguments", "why"),
    [
        (("kael",), "did you mean 'kale'?"),
        (("kale", "--on", "1 July 2027", "--year", "2027"), "not both"),
        (("kale", "--on", "July"), "--on: 'July' is not a date"),
        (("kale", "--way", "thrown"), "--way is 'set out' or 'sown in place', not 'thrown'"),
        (("kale", "--plants", "0"), "--plants"),
        (("kale", "--move"), "give the plan with --plan"),
        (("kale", "-o", "new.json"), "-o goes with --move only"),
        (("kale", "--today", "today"), "--today goes with --move only"),
        (("kale", "--move", "--plan", "p.json", "--all"), "leave one of them out"),
        (("kale", "--move", "--plan", "p.json", "--today", "soon"), "p.json"),
        (("kale", "--year", "2031"), "2031 lies outside the planned years"),
        (("kale", "--plan", "none.json"), "none.json"),
        (("potato", "--way", "set out"), "never set out"),
    ],
)
def test_refusals_say_why(run: Run, tiny: Path, arguments: tuple[str, ...], why: str) -> None:
    done = run("where", tiny, *arguments)
    assert (done.exit_code, done.stdout) == (2, "")
    assert why in done.stderr


def test_a_day_of_today_that_is_none(run: Run, tiny: Path, plan_file: Path) -> None:
    done = run("where", tiny, "kale", "--move", "--plan", plan_file, "--today", "soon")
    assert (done.exit_code, done.stdout) == (2, "")
    assert "--today: 'soon' is not a date" in done.stderr


def test_room_is_made_and_written_and_holds(run: Run, tiny: Path, plan_file: Path, tmp_path: Path) -> None:
    new = tmp_path / "new.json"
    asked = ("where", tiny, "kale", "--plants", 4, "--plan", plan_file, "--move", "--today", "2027-01-01")
    done = run(*asked, "-o", new)
    assert done.exit_code == 0, done.stderr
    assert "room for 4 plants of kale in 2027" in done.stdout
    assert "Nothing started on or before 1 January 2027 is changed." in done.stdout
    assert f"Written: {new}" in done.stderr
    assert run("referee", tiny, new).exit_code == 0
    answer = json.loads(run(*asked, "--json").stdout)
    room = answer["room"]
    assert room["placed"]["plants"] == 4
    assert room["plan"]["plantings"] == json.loads(new.read_text())["plantings"]
    before = json.loads(plan_file.read_text())["plantings"]
    assert room["moves"]
    kept = [planting for planting in before if planting in room["plan"]["plantings"]]
    assert len(before) - len(kept) == len(room["moves"])
    assert all(
        move["before"] in before and move["change"] in ("moved", "cut back", "given up") for move in room["moves"]
    )


def test_a_file_is_not_replaced_without_force(run: Run, tiny: Path, plan_file: Path, tmp_path: Path) -> None:
    new = tmp_path / "new.json"
    new.write_text("old")
    asked = ("where", tiny, "kale", "--plan", plan_file, "--move", "--today", "2027-01-01", "-o", new)
    refused = run(*asked)
    assert (refused.exit_code, refused.stdout, new.read_text()) == (2, "", "old")
    assert "--force" in refused.stderr
    assert run(*asked, "--force").exit_code == 0
    assert json.loads(new.read_text())["format"] == 1


def test_the_change_is_shown_even_if_it_cannot_be_written(
    run: Run, tiny: Path, plan_file: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*arguments: object) -> None:
        raise FileTrouble("the disk is full")

    monkeypatch.setattr("rotasolve.files.plans.write_plan", refuse)
    asked = ("where", tiny, "kale", "--plan", plan_file, "--move", "--today", "2027-01-01")
    done = run(*asked, "-o", tmp_path / "new.json")
    assert done.exit_code == 2
    assert "room for kale" in done.stdout
    assert "the disk is full" in done.stderr


def test_no_way_to_make_room(run: Run, tiny: Path, plan_file: Path, tmp_path: Path) -> None:
    new = tmp_path / "new.json"
    asked = ("where", tiny, "kale", "--plan", plan_file, "--move", "--today", "2027-12-31")
    done = run(*asked, "-o", new)
    assert done.exit_code == 1
    assert "No way was found to make room" in done.stdout
    assert "was not written" in done.stderr
    assert not new.exists()
    assert json.loads(run(*asked, "--json").stdout)["room"] is None


def test_clash_and_no_clash(run: Run, tiny: Path) -> None:
    fine = run("clash", tiny)
    assert (fine.exit_code, fine.stderr) == (0, "")
    assert "No clash found" in fine.stdout
    assert json.loads(run("clash", tiny, "--json").stdout)["clashes"] is False
    tiny.write_text(tiny.read_text() + "  must_have:\n    - {crop: kale, plants: 3}\n" + OLD_KALE)
    done = run("clash", tiny)
    assert done.exit_code == 1
    assert "These cannot all be had at once:" in done.stdout
    assert "[rest]" not in done.stdout
    assert "[rest]" in run("clash", tiny, "--details").stdout.split("Giving up")[0]
    answer = json.loads(run("clash", tiny, "--json").stdout)
    assert {reason["rule"] for reason in answer["clash"]} == {"rest", "must-have"}
    # The grower's own wish is given up last.
    assert [reason["rule"] for reason in answer["ways_out"][0]] == ["rest"]
    planned = run("plan", tiny, "--effort", 5, "-q")
    assert planned.exit_code == 1
    assert planned.stdout == done.stdout
    assert json.loads(run("plan", tiny, "--effort", 5, "-q", "--json").stdout)["ways_out"] == answer["ways_out"]


def test_shortfalls(run: Run, tiny: Path, plan_file: Path) -> None:
    spare(plan_file)
    done = run("shortfall", tiny, plan_file)
    assert done.exit_code == 0
    assert "targets out of reach" in done.stdout
    answer = json.loads(run("shortfall", tiny, plan_file, "--json").stdout)
    first = answer["shortfalls"][0]
    assert first["missing_kg"] == pytest.approx(first["wanted_kg"] - first["got_kg"])
    assert [gain["kg"] for gain in first["gains"]] == sorted((gain["kg"] for gain in first["gains"]), reverse=True)
    named = json.loads(run("shortfall", tiny, plan_file, first["crop"].upper(), "--json").stdout)
    assert {short["crop"] for short in named["shortfalls"]} == {first["crop"]}


def test_shortfall_refuses_what_has_no_target(run: Run, tiny: Path, plan_file: Path) -> None:
    for word, why in (("onion", "onion has no target"), ("kael", "did you mean 'kale'?")):
        done = run("shortfall", tiny, plan_file, word)
        assert (done.exit_code, done.stdout) == (2, "")
        assert why in done.stderr


def test_where_loads_no_solver(environment: Environment, tiny: Path) -> None:
    assert not loaded(environment, "where", str(tiny), "kale") & {"ortools", "highspy", "pandas", "numpy"}


def test_narrow_and_ascii(program: Program, tiny: Path, plan_file: Path) -> None:
    spare(plan_file)
    for command in (
        ["where", tiny, "kale", "--plants", "3"],
        ["where", tiny, "kale", "--plan", plan_file, "--move", "--today", "2027-01-01"],
        ["clash", tiny],
        ["shortfall", tiny, plan_file],
    ):
        done = program(*command, COLUMNS="40", PYTHONUTF8="0", PYTHONIOENCODING="ascii:strict")
        assert done.returncode == 0, done.stderr
        assert done.stdout.isascii()
        assert max(len(line) for line in done.stdout.splitlines()) <= 40


def lettuce_behind_kale(plan_file: Path) -> None:
    """Let kale stand on the sunny side of lettuce all summer: 75 cm is a class above 23 cm."""
    plan = json.loads(plan_file.read_text())
    kale = {"bed": "long bed", "strips": [2], "crop": "kale", "way": "set out", "start": "2027-06-16"}
    lettuce = {"bed": "long bed", "strips": [1], "crop": "leaf lettuce", "start": "2027-06-16"}
    plan["plantings"] = [{**kale, "clear": "2027-10-15"}, {**lettuce, "clear": "2027-08-15"}]
    plan_file.write_text(json.dumps(plan))


def test_the_rules_sentences_are_said_in_inches(run: Run, tiny: Path, plan_file: Path) -> None:
    lettuce_behind_kale(plan_file)
    metric, inches = (" ".join(run("referee", tiny, plan_file, *more).stdout.split()) for more in ((), ("--inches",)))
    # 75 cm = 29.5 in = 2 ft 5.5 in, 22.86 cm = 9 in (1 in = 2.54 cm).
    assert "kale (middle, 75 cm) on the sunny side of leaf lettuce (low, 23 cm)" in metric
    assert "kale (middle, 2 ft 5.5 in) on the sunny side of leaf lettuce (low, 9 in)" in inches
    asked = ("where", tiny, "kale", "--on", "16 June 2027", "--plan", plan_file)
    metric, inches = (" ".join(run(*asked, *more).stdout.split()) for more in ((), ("--inches",)))
    assert "it (middle, 75 cm) would stand south of leaf lettuce (low, 23 cm)" in metric
    assert "it (middle, 2 ft 5.5 in) would stand south of leaf lettuce (low, 9 in)" in inches
    # For programs all lengths are metric, with plain blanks.
    found = json.loads(run("referee", tiny, plan_file, "--json", "--inches").stdout)["breaches"]
    assert "kale (middle, 75 cm)" in " ".join(breach["sentence"] for breach in found)
    told = run("where", tiny, "kale", "--plan", plan_file, "--move", "--inches").stderr
    assert "before anything is moved, the first: " in " ".join(told.split())


def test_a_clash_and_targets_missed_are_told_in_inches_too(run: Run, tiny: Path, plan_file: Path) -> None:
    assert run("clash", tiny, "--inches").exit_code == 0
    empty = json.loads(plan_file.read_text())
    empty["plantings"] = []
    plan_file.write_text(json.dumps(empty))
    metric, inches = (" ".join(run("shortfall", tiny, plan_file, *more).stdout.split()) for more in ((), ("--inches",)))
    assert "one more bed, 1.8 m by 1.2 m, in open ground" in metric
    assert "one more bed, 5 ft 10.9 in by 3 ft 11.2 in, in open ground" in inches
