"""Every command answers on one screen unless more is asked for, in words of the trade."""

from __future__ import annotations

import gzip
import json
import re
import shlex
from collections.abc import Callable
from pathlib import Path

import pytest
from typer.testing import Result

from rotasolve.cli.app import app
from rotasolve.views.words.layout import columns_of
from rotasolve.views.words.screen import LINES, on_one_screen

Run = Callable[..., Result]
ROOT = Path(__file__).parents[2]
GARDEN, PLAN = "allotment", "plan.json"
SCREENS = {
    "check": f"check {GARDEN}",
    "scenarios": "scenarios",
    "show": f"show {GARDEN} {PLAN}",
    "show a bed": f"show {GARDEN} {PLAN} --bed tunnel",
    "referee": f"referee {GARDEN} {PLAN}",
    "where": f"where {GARDEN} 'sweet pepper'",
    "where beside a plan": f"where {GARDEN} potato --plan {PLAN}",
    "clash": "clash cold-frame",
    "shortfall": "shortfall family-garden family.json",
    "exchange": "exchange cold-frame --crop radish --kg 1,2 --effort 2 -q",
    "supply": f"supply {GARDEN} {PLAN}",
    "season": f"season {GARDEN}",
    "season of a crop": f"season {GARDEN} tomato",
    "crops": "crops",
    "crop": "crops potato",
    "sun": f"sun {GARDEN} --month June",
    "spot": f"spot {GARDEN} --length '1 m' --width '60 cm' --from June --to June",
    "calendar": f"calendar {GARDEN} {PLAN} --today 2027-05-01",
    "shopping": f"shopping {GARDEN} {PLAN}",
    "water": f"water {GARDEN} {PLAN}",
    "resow": f"resow {GARDEN} tunnel --on 2027-06-01",
    "compare": f"compare {GARDEN} {PLAN} {PLAN}",
    "yields": "yields garden.yaml family.json",
    "diary": "diary garden.yaml",
    "draw": f"draw {GARDEN} {PLAN} -o drawings --year 2027",
    "report": f"report {GARDEN} {PLAN} -o garden.html --year 2027",
    "next": f"next {GARDEN} {PLAN} -o next.yaml",
    "history": "history garden.yaml old.csv -o new.yaml",
    "begin": "begin new.yaml --latitude 52 --last-frost '5 May' --first-frost '15 October' "
    "--bed 'b,4 m,1 m' --crop kale,1 --yes --force",
    "plan": "plan cold-frame --effort 5 -q",
    "change": "change garden.yaml 'wish carrots 20 kg' -o changed.yaml --force",
    "plots": "plots frame.yaml -o planned --effort 1 -q",
    "share": "share garden.yaml --plans .",
    "help": "help",
}
"""A call of every command on a large garden; those that search on a small one."""
UNSAID = re.compile(
    r"pole side|equator side|half[- ]months?\b|within reach|\bbeam\b|\bcasters?\b|water for that of grass|bed-months",
    re.IGNORECASE,
)
"""What the trade does not say."""
CODE = re.compile(r"\[[a-z]+(?:-[a-z]+)+\]")


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    there = tmp_path_factory.mktemp("screens")
    data = ROOT / "tests" / "data"
    (there / PLAN).write_bytes(gzip.decompress((data / "allotment.plan.json.gz").read_bytes()))
    (there / "family.json").write_bytes((data / "plans" / "family-garden.json").read_bytes())
    (there / "garden.yaml").write_bytes((ROOT / "scenarios" / "family-garden.yaml").read_bytes())
    (there / "garden.plan.json").write_bytes((there / "family.json").read_bytes())
    (there / "frame.yaml").write_bytes((ROOT / "scenarios" / "cold-frame.yaml").read_bytes())
    (there / "old.csv").write_text("bed,crop,year\npear bed,kale,2020\n", encoding="utf-8")
    days = [
        f"2027-{month:02d}-{day:02d} picked 1 kg potato, gate bed" for month in range(6, 10) for day in range(1, 29)
    ]
    (there / "garden.diary.txt").write_text("\n".join(days) + "\n", encoding="utf-8")
    return there


def test_every_command_has_a_screen() -> None:
    assert {command.name for command in app.registered_commands} == {line.split()[0] for line in SCREENS.values()}


@pytest.mark.parametrize("name", SCREENS)
def test_a_screen_is_short_and_in_words_of_the_trade(
    name: str, run: Run, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(folder)
    done = run(*shlex.split(SCREENS[name]))
    assert done.exit_code in (0, 1), done.stderr
    lines = done.stdout.splitlines()
    assert len(lines) <= LINES
    assert max(map(columns_of, lines), default=0) <= 80
    assert UNSAID.findall(done.stdout + done.stderr) == []
    assert CODE.findall(done.stdout) == []


@pytest.mark.parametrize("name", sorted(command.name or "" for command in app.registered_commands))
def test_help_of_a_command_is_in_words_of_the_trade(name: str, run: Run) -> None:
    text = run(name, "--help").stdout
    assert "Options of most commands" in text
    assert UNSAID.findall(" ".join(text.split())) == []


def test_commands_stand_in_groups(run: Run) -> None:
    text = run("--help").stdout
    groups = ["Begin and check:", "Plan and change:", "Ask:", "Through the season:", "Records:", "Drawings:"]
    assert sorted(text.index(group) for group in groups) == [text.index(group) for group in groups]
    shown = re.findall(r"^  ([a-z]+) {2,}\S", text, flags=re.MULTILINE)
    assert sorted(shown) == sorted(command.name or "" for command in app.registered_commands)


def test_what_is_left_out_is_counted_and_can_be_had(run: Run, folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(folder)
    short = run("diary", "garden.yaml").stdout
    told = re.search(r"(\d+) more lines left out: --details shows all", short)
    assert told is not None
    whole = run("diary", "garden.yaml", "--details").stdout
    assert "left out" not in whole
    # Instead of what is left out stands a blank line and the sentence.
    assert len(whole.splitlines()) == len(short.splitlines()) - 2 + int(told[1])


def test_codes_are_shown_with_details(run: Run, folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(folder)
    assert CODE.findall(run("where", GARDEN, "sweet pepper", "--all").stdout)
    plan = json.loads((folder / PLAN).read_text(encoding="utf-8"))
    plan["plantings"][0]["plants"] = 9999
    (folder / "broken.json").write_text(json.dumps(plan), encoding="utf-8")
    assert CODE.findall(run("referee", GARDEN, "broken.json", "--details").stdout)


@pytest.mark.parametrize("lines", [LINES - 1, LINES, LINES + 1, 3 * LINES])
def test_a_page_is_folded_at_a_screen(lines: int) -> None:
    page = "\n".join(["head", "====", *(f"row {n}" for n in range(lines - 5)), "", "a caution", "and its end"]) + "\n"
    shown = on_one_screen(page, 80, "--details shows all")
    assert len(shown.splitlines()) == min(lines, LINES)
    assert shown.endswith("a caution\nand its end\n")
    if lines <= LINES:
        assert shown == page


def test_no_heading_ends_a_folded_page() -> None:
    rows = [f"row {n}" for n in range(LINES - 7)]
    page = "\n".join(["head", *rows, "", "A heading", *rows, "", "end"]) + "\n"
    shown = on_one_screen(page, 80, "--details shows all").splitlines()
    assert "A heading" not in shown
    assert shown[-1] == "end"
