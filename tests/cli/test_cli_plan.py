"""``plan``: exit status, files, JSON, and the referee's word on what it writes."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest
from typer.testing import Result

from rotasolve.errors import FileTrouble

Run = Callable[..., Result]


def test_plan_is_shown_and_found_best(run: Run, tiny: Path) -> None:
    done = run("plan", tiny, "--effort", 5)
    assert done.exit_code == 0
    assert "No better plan is possible" in done.stdout
    assert "Ida's [bold]corner[/bold]" in done.stdout  # no markup
    assert "The beds in 2027" in done.stdout
    assert "points" not in done.stdout
    whole = run("plan", tiny, "--effort", 5, "--details").stdout
    assert whole.startswith(done.stdout)
    assert "Proven best" in whole
    assert "Plantings begun in 2027" in whole
    assert "Note: No history given" in done.stderr


def test_json_is_all_there_is_on_stdout(run: Run, tiny: Path) -> None:
    done = run("plan", tiny, "--effort", 5, "--json")
    answer = json.loads(done.stdout)
    assert (done.exit_code, answer["schema_version"], answer["outcome"]) == (0, 1, "proven best")
    assert answer["plan"]["standing"]["limit"] == "effort 5"


def test_same_effort_and_seed_give_the_same_plan(run: Run, tiny: Path) -> None:
    first, second = (run("plan", tiny, "--effort", 1, "--seed", 3, "--json").stdout for _ in range(2))
    assert first == second


def test_impossible_wish_is_named(run: Run, tiny: Path) -> None:
    tiny.write_text(tiny.read_text() + "  must_have:\n    - {crop: kale, plants: 900}\n")
    done = run("plan", tiny, "--effort", 5)
    assert done.exit_code == 1
    assert "900 plants of kale" in done.stdout
    answer = json.loads(run("plan", tiny, "--effort", 5, "--json").stdout)
    assert answer["outcome"] == "impossible"
    # More sowings than one could bear them all: it takes the ground as well to rule them out.
    assert {claim["rule"] for claim in answer["clash"]} == {"free-ground", "must-have"}


def test_nothing_is_overwritten_without_force(run: Run, tiny: Path, tmp_path: Path) -> None:
    output = tmp_path / "old.json"
    output.write_text("old")
    done = run("plan", tiny, "--effort", 1, "-o", output)
    assert (done.exit_code, done.stdout, output.read_text()) == (2, "", "old")
    assert "--force" in done.stderr
    assert run("plan", tiny, "--effort", 1, "-o", output, "--force").exit_code == 0
    assert json.loads(output.read_text())["format"] == 1


def test_a_place_that_cannot_be_written_is_refused_before_the_search(run: Run, tiny: Path, tmp_path: Path) -> None:
    for output, why in ((tmp_path / "no" / "plan.json", "no folder"), (tmp_path, "a folder, not a file")):
        done = run("plan", tiny, "--seconds", 3000, "-o", output, "--force")
        assert (done.exit_code, done.stdout) == (2, "")
        assert why in done.stderr


def test_plan_is_shown_even_if_it_cannot_be_written(
    run: Run, tiny: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*arguments: object) -> None:
        raise FileTrouble("the disk is full")

    monkeypatch.setattr("rotasolve.files.plans.write_plan", refuse)
    done = run("plan", tiny, "--effort", 1, "-o", tmp_path / "plan.json")
    assert done.exit_code == 2
    assert "The beds in 2027" in done.stdout
    assert "the disk is full" in done.stderr


def test_quiet_says_nothing_but_the_answer(run: Run, tiny: Path) -> None:
    done = run("plan", tiny, "--effort", 1, "--quiet")
    assert done.exit_code == 0
    assert done.stderr == ""


@pytest.mark.parametrize(
    "wrong", [("--seconds", "0"), ("--seconds", "inf"), ("--seconds", "5", "--effort", "5"), ("--effort", "nan")]
)
def test_wrong_limits_are_refused(run: Run, tiny: Path, wrong: tuple[str, ...]) -> None:
    done = run("plan", tiny, *wrong)
    assert (done.exit_code, done.stdout) == (2, "")
    assert "Usage" in done.stderr


def test_broken_scenario_cannot_be_planned(run: Run, tiny: Path) -> None:
    tiny.write_text(tiny.read_text().replace("crop: carrot", "crop: carott"))
    done = run("plan", tiny)
    assert (done.exit_code, done.stdout) == (2, "")
    assert "tiny.yaml:14:14:" in done.stderr
    assert "did you mean 'carrot'?" in done.stderr


def test_plan_made_is_what_referee_and_show_read(run: Run, tiny: Path, plan_file: Path) -> None:
    judged = run("referee", tiny, plan_file)
    assert (judged.exit_code, judged.stderr) == (0, "")
    assert "Every rule holds" in judged.stdout
    assert json.loads(run("referee", tiny, plan_file, "--json").stdout)["holds"] is True
    shown = run("show", tiny, plan_file, "--details")
    assert (shown.exit_code, shown.stderr) == (0, "")
    assert "How good the plan is" in shown.stdout
    assert json.loads(run("show", tiny, plan_file, "--json").stdout)["scenario_matches"] is True


def test_breach_is_found_by_the_referee(run: Run, tiny: Path, plan_file: Path) -> None:
    plan = json.loads(plan_file.read_text())
    plan["plantings"][0]["plants"] = 9999
    plan_file.write_text(json.dumps(plan))
    done = run("referee", tiny, plan_file)
    assert done.exit_code == 1
    assert "[spacing-capacity]" not in done.stdout
    assert "[spacing-capacity]" in run("referee", tiny, plan_file, "--details").stdout


def test_plan_of_a_changed_scenario_is_told(run: Run, tiny: Path, plan_file: Path) -> None:
    tiny.write_text(tiny.read_text().replace("kg: 3", "kg: 2"))
    for command in ("referee", "show"):
        done = run(command, tiny, plan_file)
        assert "is not the one the plan was made for" in done.stderr
    assert json.loads(run("referee", tiny, plan_file, "--json").stdout)["scenario_matches"] is False


def test_show_narrows_to_year_and_bed(run: Run, tiny: Path, plan_file: Path) -> None:
    mapped = run("show", tiny, plan_file, "--year", 2027, "--bed", "long bed")
    assert mapped.exit_code == 0
    assert "How to read the maps" in mapped.stdout
    assert "How to read the maps" not in run("show", tiny, plan_file).stdout
    wrong_bed = run("show", tiny, plan_file, "--bed", "log bed")
    assert wrong_bed.exit_code == 2
    assert "did you mean 'long bed'?" in wrong_bed.stderr
    wrong_year = run("show", tiny, plan_file, "--year", 2031)
    assert wrong_year.exit_code == 2
    assert "no year 2031" in wrong_year.stderr


def test_plan_file_that_is_none(run: Run, tiny: Path) -> None:
    done = run("show", tiny, tiny)
    assert (done.exit_code, done.stdout) == (2, "")
    assert "not a whole plan" in done.stderr
