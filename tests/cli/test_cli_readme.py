"""What README and the pages of ``help`` show works as it stands there: scenarios, Python lines, commands, answers."""

from __future__ import annotations

import re
import shlex
from collections.abc import Callable
from pathlib import Path

import pytest
from pydantic import BaseModel
from typer.main import get_command
from typer.testing import CliRunner, Result

from rotasolve.cli.app import app
from rotasolve.domain.bed import Bed
from rotasolve.domain.climate import Climate
from rotasolve.domain.household import Eats, Household, MustHave, Target
from rotasolve.domain.obstacle import Obstacle
from rotasolve.domain.result import Good, ProvenBest
from rotasolve.domain.scenario import (
    ClosedBed,
    DiseaseSeen,
    PastPlanting,
    PinnedPlanting,
    RawManure,
    Rules,
    Scenario,
    Weighed,
)
from rotasolve.domain.site import Frost, Site
from rotasolve.files.crops import load_catalogue
from rotasolve.files.scenarios import read_scenario_text
from rotasolve.relations.household.wanted import with_targets
from rotasolve.rules import RULES
from rotasolve.solver.cpsat import Limits
from rotasolve.tasks.rotation import plan_rotation
from rotasolve.views.words.titles import TITLES

Run = Callable[..., Result]
ROOT = Path(__file__).parents[2]
README = (ROOT / "README.md").read_text(encoding="utf-8")
PAGES = {page.stem: page.read_text(encoding="utf-8") for page in sorted((ROOT / "rotasolve" / "help").glob("*.md"))}
EVERY = "\n".join((README, *PAGES.values()))


def block(page: str, language: str) -> str:
    found = re.search(rf"```{language}\n(.*?)```", PAGES[page], re.DOTALL)
    assert found is not None
    return found[1]


def test_readme_is_a_page() -> None:
    assert README.count("\n") <= 120
    first = README.split("\n\n")[1]
    assert first.startswith("rotasolve decides what to grow where, when and in what number")
    assert {f"rotasolve/help/{name}.md" for name in PAGES} == set(re.findall(r"\]\((rotasolve/help/\w+\.md)\)", README))


def test_pages_are_listed_and_shown(run: Run) -> None:
    listed = run("help").stdout
    for name, text in PAGES.items():
        assert re.search(rf"^{name} ", listed, re.MULTILINE)
        assert text.startswith("# ")
        assert run("help", name).stdout == text
    wrong = run("help", "wrods")
    assert (wrong.exit_code, wrong.stdout) == (2, "")
    assert "did you mean 'words'" in " ".join(wrong.stderr.split())


def test_the_page_of_the_scenario_file_can_be_read_and_names_every_key() -> None:
    page = PAGES["scenario"]
    text = "\n".join(re.findall(r"```yaml\n(.*?)```", page, re.DOTALL))
    catalogue = load_catalogue()
    scenario = with_targets(read_scenario_text(text, "scenario.md", catalogue), catalogue)
    records: list[type[BaseModel]] = [
        *(Scenario, Site, Climate, Frost, Bed, Obstacle, Household, Target, Eats, MustHave),
        *(PastPlanting, PinnedPlanting, RawManure, DiseaseSeen, ClosedBed, Weighed),
    ]
    # Said in prose, not only shown: its name stands in backticks, or it is a key that several records have.
    shared = {"crop", "bed", "east", "north", "height", "length", "width", "runs", "bearing", "name", "year", "kg"}
    fields = {field for record in records for field in record.model_fields} - shared
    assert {field for field in fields if not re.search(rf"\b{field}\b", page)} == set()
    assert {field for field in shared if not re.search(rf"\b{field}: ", text)} == set()
    assert len(scenario.beds) == 4


def test_the_page_of_rules_names_every_rule_setting_and_disease() -> None:
    page = " ".join(PAGES["rules"].split())
    for rule in RULES:
        assert f"* {TITLES[rule.key]} [{rule.key}]:" in page
    assert {field for field in Rules.model_fields if f"`{field}" not in page} == set()
    diseases = page.split("## Diseases")[1].split("##")[0]
    for disease in {pathogen.name for pathogen in load_catalogue().pathogens if pathogen.rotation_helps}:
        assert disease in diseases


def test_no_page_says_what_the_trade_does_not_say() -> None:
    unsaid = r"pole side|equator side|half[- ]months?\b|within reach|\bbeam\b|\bcasters?\b|bed-months"
    assert re.findall(unsaid, " ".join(EVERY.split()), re.IGNORECASE) == []


def test_the_small_scenario_is_read_and_planned() -> None:
    text = block("start", "yaml")
    assert len(text.splitlines()) < 20
    catalogue = load_catalogue()
    scenario = read_scenario_text(text, "README.md", catalogue)
    result = plan_rotation(scenario, catalogue, Limits(effort=3))
    assert isinstance(result, ProvenBest | Good)
    assert result.plan.plantings


def test_the_household_shown_is_read_as_it_stands() -> None:
    found = re.search(r"\n    household:\n(?:      .*\n)+", PAGES["household"])
    assert found is not None
    shown = re.sub(r"^    ", "", found[0].strip("\n"), flags=re.MULTILINE)
    garden = re.sub(r"household:\n(?:  .*\n)+", shown + "\n", block("start", "yaml"))
    catalogue = load_catalogue()
    scenario = with_targets(read_scenario_text(garden, "README.md", catalogue), catalogue)
    targets = {target.crop: target for target in scenario.household.targets}
    assert set(targets) == {"pea", "beetroot", "tomato", "carrot", "onion", "summer squash"}
    assert all(target.kg > 0 for target in targets.values())
    assert targets["summer squash"].kg == 4 * 2


def test_the_python_lines_plan_a_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    text = block("start", "yaml").replace("years: 3", "years: 1")
    (tmp_path / "garden.yaml").write_text(text, encoding="utf-8")
    code = block("scripts", "python").replace("catalogue)\n", "catalogue)\n").rstrip()
    assert code.endswith('plan_rotation(read_scenario(Path("garden.yaml"), catalogue), catalogue)')
    names: dict[str, object] = {}
    exec(code[:-1] + ", Limits(effort=1))", {"Limits": Limits}, names)
    assert isinstance(names["result"], ProvenBest | Good)


SHOWN = re.findall(r"(?:^ +|&& )(?:\S*/)?(rotasolve .+)$|`(?:\S*/)?(rotasolve [^`]+)`", EVERY, re.MULTILINE)
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
    section = PAGES["where"].split("## Where can the peppers go?")[1].split("\n## ")[0]
    shown = [line.removeprefix("    ") for line in re.findall(r"^(?:    .*)?$", section, re.MULTILINE)]
    command, *transcript = "\n".join(shown).strip("\n").splitlines()
    done = CliRunner().invoke(app, shlex.split(command)[1:])
    assert done.exit_code == 0
    excerpt = "\n".join(transcript).strip("\n")
    assert len(excerpt.splitlines()) > 10
    assert excerpt in done.stdout


def test_the_window_shown_for_carrots_is_the_answer(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "80")
    command, excerpt = re.findall(r"Part of\s+`(rotasolve\s+season .*)`:\n\n((?:    .*\n)+)", PAGES["season"])[0]
    shown = "\n".join(line.removeprefix("    ") for line in excerpt.splitlines())
    assert "% of a full crop" in shown
    done = CliRunner().invoke(app, shlex.split(command)[1:])
    assert done.exit_code == 0
    assert shown in done.stdout
