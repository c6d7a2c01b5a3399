"""A plan file by itself: every command that asks for a scenario and its plan finds the scenario from the plan."""

from __future__ import annotations

import json
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest
from typer.testing import Result

from rotasolve.cli.app import app
from rotasolve.errors import FileTrouble
from rotasolve.files.plans import plan_text, read_plan
from tests.helpers.in_process import call

Run = Callable[..., Result]
BOTH = [
    ("show",),
    ("report", "-o", "-"),
    ("calendar",),
    ("shopping",),
    ("referee",),
    ("shortfall", "carrot"),
    ("supply",),
    ("water",),
    ("yields",),
    ("draw", "-o", "new"),
    ("next", "-o", "next.yaml"),
]
BESIDE = [("where", "kale"), ("resow", "long bed", "--on", "2027-06-01"), ("sun", "--month", "June")]


@pytest.fixture
def folder(tiny: Path, plan_file: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tiny.parent)
    return tiny.parent


def test_the_plan_keeps_the_way_to_its_scenario_and_no_more(folder: Path) -> None:
    told = json.loads((folder / "tiny.plan.json").read_text(encoding="utf-8"))
    assert told["scenario_file"] == "tiny.yaml"
    assert str(folder) not in (folder / "tiny.plan.json").read_text(encoding="utf-8")


@pytest.mark.parametrize("words", BOTH, ids=lambda words: words[0])
def test_a_plan_alone_answers_as_the_two_together(words: tuple[str, ...], folder: Path) -> None:
    name, *more = words
    alone = call(name, "tiny.plan.json", *more)
    shutil.rmtree("new", ignore_errors=True)
    Path("next.yaml").unlink(missing_ok=True)
    both = call(name, "tiny.yaml", "tiny.plan.json", *more)
    # What the garden lacks (a climate, a diary) is told of its file in both ways.
    assert alone == both
    assert "changed since" not in alone.stderr


@pytest.mark.parametrize("words", BESIDE, ids=lambda words: words[0])
def test_where_only_a_scenario_is_asked_for_the_plan_is_taken_beside_it(words: tuple[str, ...], folder: Path) -> None:
    name, *more = words
    alone = call(name, "tiny.plan.json", *more)
    both = call(name, "tiny.yaml", *more, "--plan", "tiny.plan.json")
    assert alone == both


def test_every_command_with_a_plan_is_asked_here(folder: Path) -> None:
    from typer.main import get_command

    group = get_command(app)
    found = set()
    for name, command in group.commands.items():  # type: ignore[attr-defined]
        arguments = {one.name for one in command.params if one.param_type_name == "argument"}
        found |= {name} if {"scenario", "plan"} <= arguments else set()
    assert found == {words[0] for words in BOTH}


def test_two_plans_are_compared_by_themselves(folder: Path) -> None:
    both = call("compare", "tiny.yaml", "tiny.plan.json", "tiny.plan.json")
    assert call("compare", "tiny.plan.json", "tiny.plan.json") == both


def test_the_two_the_wrong_way_round(folder: Path) -> None:
    assert call("show", "tiny.plan.json", "tiny.yaml") == call("show", "tiny.yaml", "tiny.plan.json")


def test_both_moved_together_or_called_from_elsewhere(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    told = call("show", "tiny.plan.json").stdout
    (folder / "moved" / "plans").mkdir(parents=True)
    plan = read_plan(folder / "tiny.plan.json").plan.model_copy(update={"scenario_file": "../tiny.yaml"})
    (folder / "moved" / "plans" / "p.json").write_text(plan_text(plan), encoding="utf-8")
    shutil.copy(folder / "tiny.yaml", folder / "moved")
    monkeypatch.chdir(folder.parent)
    assert call("show", folder / "moved" / "plans" / "p.json").stdout == told


def test_a_change_of_the_scenario_is_told(folder: Path) -> None:
    text = (folder / "tiny.yaml").read_text(encoding="utf-8")
    (folder / "tiny.yaml").write_text(text.replace("kg: 4", "kg: 5"), encoding="utf-8")
    assert "it has been changed since" in " ".join(call("show", "tiny.plan.json").stderr.split())


def test_a_scenario_that_is_gone_or_was_never_told(folder: Path) -> None:
    (folder / "tiny.yaml").rename(folder / "renamed.yaml")
    told = call("show", "tiny.plan.json")
    assert (told.status, told.stdout) == (2, "")
    assert "was made for tiny.yaml, which is not there any more; name the scenario before it" in told.stderr
    assert call("show", "renamed.yaml", "tiny.plan.json").status == 0
    text = (folder / "tiny.plan.json").read_text(encoding="utf-8")
    (folder / "old.json").write_text(text.replace(' "scenario_file": "tiny.yaml",\n', ""), encoding="utf-8")
    told = call("show", "old.json")
    assert (told.status, told.stdout) == (2, "")
    assert "does not say which scenario it was made for" in told.stderr


def test_a_plan_of_a_shipped_scenario_knows_it_by_name(run: Run, tmp_path: Path) -> None:
    from rotasolve.cli.inputs import knowing
    from rotasolve.cli.plan_alone import scenario_of
    from tests.files.test_reading_plans import PLAN

    file = tmp_path / "p.json"
    known = knowing(PLAN, file, "cold-frame")
    file.write_text(plan_text(known), encoding="utf-8")
    assert (known.scenario_file, scenario_of(file)) == ("cold-frame", "cold-frame")
    file.write_text(plan_text(PLAN), encoding="utf-8")
    with pytest.raises(FileTrouble, match="does not say"):
        scenario_of(file)
