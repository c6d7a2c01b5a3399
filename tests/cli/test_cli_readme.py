"""What README shows works as it stands there: its scenario, its Python lines, its commands' names."""

from __future__ import annotations

import re
import shlex
from pathlib import Path

import pytest
from typer.main import get_command
from typer.testing import CliRunner

from rotasolve.cli.app import app
from rotasolve.domain.result import Good, ProvenBest
from rotasolve.files.crops import load_catalogue
from rotasolve.files.scenarios import read_scenario_text
from rotasolve.relations.household.wanted import with_targets
from rotasolve.solver.cpsat import Limits
from rotasolve.tasks.rotation import plan_rotation

README = (Path(__file__).parents[2] / "README.md").read_text(encoding="utf-8")


def block(language: str) -> str:
    found = re.search(rf"```{language}\n(.*?)```", README, re.DOTALL)
    assert found is not None
    return found[1]


def test_the_small_scenario_is_read_and_planned() -> None:
    text = block("yaml")
    assert len(text.splitlines()) < 20
    catalogue = load_catalogue()
    scenario = read_scenario_text(text, "README.md", catalogue)
    result = plan_rotation(scenario, catalogue, Limits(effort=3))
    assert isinstance(result, ProvenBest | Good)
    assert result.plan.plantings


def test_the_household_shown_is_read_as_it_stands() -> None:
    found = re.search(r"\n    household:\n(?:      .*\n)+", README)
    assert found is not None
    shown = re.sub(r"^    ", "", found[0].strip("\n"), flags=re.MULTILINE)
    garden = re.sub(r"household:\n(?:  .*\n)+", shown + "\n", block("yaml"))
    catalogue = load_catalogue()
    scenario = with_targets(read_scenario_text(garden, "README.md", catalogue), catalogue)
    targets = {target.crop: target for target in scenario.household.targets}
    assert set(targets) == {"pea", "beetroot", "tomato", "carrot", "onion", "summer squash"}
    assert all(target.kg > 0 for target in targets.values())
    assert targets["summer squash"].kg == 4 * 2


def test_the_python_lines_plan_a_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    text = block("yaml").replace("years: 3", "years: 1")
    (tmp_path / "garden.yaml").write_text(text, encoding="utf-8")
    code = block("python").replace("catalogue)\n", "catalogue)\n").rstrip()
    assert code.endswith('plan_rotation(read_scenario(Path("garden.yaml"), catalogue), catalogue)')
    names: dict[str, object] = {}
    exec(code[:-1] + ", Limits(effort=1))", {"Limits": Limits}, names)
    assert isinstance(names["result"], ProvenBest | Good)


SHOWN = re.findall(r"(?:^ +|&& )(?:\S*/)?(rotasolve .+)$|`(?:\S*/)?(rotasolve [^`]+)`", README, re.MULTILINE)
COMMANDS = get_command(app).commands  # type: ignore[attr-defined]


def faults_of(line: str) -> list[str]:
    """Return what there is not of a command line: the command, or options of it."""
    _, name, *words = shlex.split(line, comments=True)
    if name not in COMMANDS:
        return [name]
    known = {option for given in COMMANDS[name].params for option in (*given.opts, *given.secondary_opts)}
    return [word for word in words if word.startswith("-") and word.partition("=")[0] not in known]


def test_every_command_and_option_shown_exists() -> None:
    shown = [indented or inline for indented, inline in SHOWN]
    assert len(shown) > 30
    assert {line: faults_of(line) for line in shown if faults_of(line)} == {}


def test_a_command_or_an_option_that_does_not_exist_is_seen() -> None:
    assert faults_of("rotasolve prune garden.yaml") == ["prune"]
    assert faults_of("rotasolve plan garden.yaml --sometime 3 -o out.json  # --never") == ["--sometime"]


def test_every_command_is_told_of() -> None:
    told = {shlex.split(indented or inline, comments=True)[1] for indented, inline in SHOWN}
    assert set(COMMANDS) - told == set()


def test_the_answer_shown_for_the_peppers_is_the_answer(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "80")
    section = README.split("## Where can the peppers go?")[1].split("\n## ")[0]
    shown = [line.removeprefix("    ") for line in re.findall(r"^(?:    .*)?$", section, re.MULTILINE)]
    command, *transcript = "\n".join(shown).strip("\n").splitlines()
    done = CliRunner().invoke(app, shlex.split(command)[1:])
    assert done.exit_code == 0
    excerpt = "\n".join(transcript).strip("\n")
    assert len(excerpt.splitlines()) > 10
    assert excerpt in done.stdout


def test_the_window_shown_for_carrots_is_the_answer(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "80")
    command, excerpt = re.findall(r"Part of `(rotasolve season .*)`:\n\n((?:    .*\n)+)", README)[0]
    shown = "\n".join(line.removeprefix("    ") for line in excerpt.splitlines())
    assert "% of a full crop" in shown
    done = CliRunner().invoke(app, shlex.split(command)[1:])
    assert done.exit_code == 0
    assert shown in done.stdout
