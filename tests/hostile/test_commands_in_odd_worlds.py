"""Every command in every odd world: the exit status, answers alone on stdout, JSON that parses, nothing changed."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from rotasolve.cli.app import app
from rotasolve.domain.signs import LONGEST_LINE
from tests.helpers.in_process import Told, call

G, P = "garden.yaml", "plan.json"
BEGUN = ("--latitude", "52", "--last-frost", "5 May", "--first-frost", "15 October", "--bed", "b,4 m,1 m")
COMMANDS: dict[str, tuple[str, ...]] = {
    "begin": ("new.yaml", *BEGUN, "--crop", "kale,1", "--yes"),
    "check": (G,),
    "change": (G, "wish leek 1 kg", "-o", "new.yaml"),
    "plan": (G, "--effort", "0.1", "-q"),
    "plots": (G, "-o", "new", "--effort", "0.1", "-q"),
    "share": (G, "--plans", "."),
    "show": (G, P),
    "report": (G, P, "-o", "-"),
    "calendar": (G, P),
    "shopping": (G, P),
    "draw": (G, P, "-o", "new"),
    "referee": (G, P),
    "where": (G, "kale", "--plan", P),
    "clash": (G,),
    "shortfall": (G, P, "carrot"),
    "supply": (G, P),
    "compare": (G, P, P),
    "exchange": (G, "--people", "2", "--effort", "1", "-q"),
    "crops": ("kale",),
    "scenarios": (),
    "season": (G, "kale"),
    "water": (G, P),
    "sun": (G, "--month", "June"),
    "diary": (G,),
    "resow": (G, "long bed", "--on", "2027-06-01"),
    "yields": (G, P),
    "history": (G, "old.csv", "-o", "new.yaml"),
    "next": (G, P, "-o", "new.yaml"),
    "help": ("words",),
    "spot": (G, "--length", "1 m", "--width", "50 cm", "--from", "June", "--to", "June"),
}
"""A call of each command that ends well, in a folder with a garden and a plan of it."""
NEEDS_NO_FILE = ("begin", "crops", "help", "scenarios")
TAKES_FOLDERS = ("plots", "share")
NO_JSON = ("begin",)
WRITES = ("begin", "change", "draw", "history", "next", "plots")
"""Those that make something new."""


@pytest.fixture
def folder(kept: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    shutil.copytree(kept, tmp_path, dirs_exist_ok=True)
    monkeypatch.chdir(tmp_path)
    return tmp_path


def contents(folder: Path) -> dict[str, bytes]:
    return {str(file.relative_to(folder)): file.read_bytes() for file in folder.rglob("*") if file.is_file()}


def asked(name: str, *, as_json: bool = False) -> tuple[str, ...]:
    words = COMMANDS[name]
    if as_json and "-" in words:  # a page and JSON cannot both go to stdout
        words = ("page.html" if word == "-" else word for word in words)  # type: ignore[assignment]
    return (name, *words, *(("--json",) if as_json else ()))


def refused(told: Told, *words: str) -> None:
    """Ask that a call could not run: no answer, and what stands against it in plain words."""
    assert (told.status, told.stdout) == (2, ""), told
    assert told.stderr.startswith(("Error: ", *words)), told.stderr
    assert "defect" not in told.stderr


def test_every_command_is_in_the_table() -> None:
    assert set(COMMANDS) == {command.name for command in app.registered_commands}


@pytest.mark.parametrize("name", [name for name in COMMANDS if name not in NEEDS_NO_FILE])
def test_files_that_are_not_there_or_are_folders(name: str, folder: Path) -> None:
    before, words = contents(folder), asked(name)
    refused(call(*("missing.yaml" if word == G else word for word in words)))
    if name not in TAKES_FOLDERS:
        refused(call(*("." if word == P or (word == G and P not in words) else word for word in words)))
    assert contents(folder) == before


@pytest.mark.parametrize("words", [("check", G), ("show", G, P), ("check", G, "--own-crops", P)])
def test_names_that_no_system_takes(words: tuple[str, ...], folder: Path) -> None:
    before = contents(folder)
    (folder / "loop").symlink_to("loop")
    for given in ("x" * 5000, "y/" * 3000, "loop", "loop/x", "a\x1b[31m\u202e\x07b", ""):
        told = call(*words[:-1], given)
        refused(told)
        assert max(map(len, told.stderr.splitlines())) <= LONGEST_LINE
        assert not set("\x1b\x07\u202e") & set(told.stderr)
    assert contents(folder) == before


@pytest.mark.parametrize("given", ["loop", "x" * 300, "no/such/folder", ".", "/dev/full", "loop/x"])
@pytest.mark.parametrize(
    "words",
    [
        ("plan", G, "--seconds", "60", "-q", "-o"),
        ("report", G, P, "-o"),
        ("calendar", G, P, "--ics"),
        ("calendar", G, P, "--csv"),
        ("sun", G, "--svg"),
        ("share", G, "--plans", ".", "--csv"),
        ("scenarios", "cold-frame", "--copy"),
        ("begin", *BEGUN, "--crop", "kale,1", "--yes"),
    ],
    ids=lambda words: " ".join(words[:1]),
)
def test_places_where_nothing_can_be_written(
    words: tuple[str, ...], given: str, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def search(*arguments: object) -> None:
        raise AssertionError("searched before it was known that the plan cannot be written")

    monkeypatch.setattr("rotasolve.cli.plan.wait_for", search)
    (folder / "loop").symlink_to("loop")
    before = contents(folder)
    refused(call(*words, given))
    assert contents(folder) == before
    assert (folder / "loop").is_symlink()


@pytest.mark.parametrize("name", COMMANDS)
def test_no_right_to_read_or_write(name: str, folder: Path) -> None:
    words = asked(name)
    call(*words)  # what is imported and read on the way is there before the rights go
    for new in ("new", "new.yaml"):
        shutil.rmtree(folder / new, ignore_errors=True)
        (folder / new).unlink(missing_ok=True)
    before = contents(folder)
    (folder / G).chmod(0)
    with somebody_else(folder):
        told = call(*words)
    if name in ("crops", "help", "scenarios"):
        assert told.status == 0
    else:
        refused(told)
    (folder / G).chmod(0o644)
    assert contents(folder) == before


@contextmanager
def somebody_else(folder: Path) -> Iterator[None]:
    """Be one who may not write into a folder; the administrator, who may do all, becomes nobody for a while."""
    folder.chmod(0o555)
    administrator = hasattr(os, "geteuid") and os.geteuid() == 0
    ways = [above for above in folder.parents if above.stat().st_uid == 0 and administrator]
    modes = [above.stat().st_mode for above in ways]
    for above, mode in zip(ways, modes, strict=True):
        above.chmod(mode | 0o011)
    if administrator:
        os.seteuid(65534)
    try:
        yield
    finally:
        if administrator:
            os.seteuid(0)
        for above, mode in zip(ways, modes, strict=True):
            above.chmod(mode)
        folder.chmod(0o755)


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="a disk that is always full, as Linux has it")
@pytest.mark.parametrize("name", [name for name in COMMANDS if name not in WRITES])
def test_the_answer_goes_to_a_full_disk_or_nowhere(name: str, folder: Path) -> None:
    before = contents(folder)
    with open("/dev/full", "w", encoding="utf-8") as full:
        told = call(*asked(name), stdout=full)
    refused(told, "Note: ")
    assert "No space left on device; make room" in told.stderr
    told = call(*asked(name), stdout=None)
    refused(told)
    assert "standard output is closed" in told.stderr
    assert contents(folder) == before


LOOKS: tuple[tuple[str, dict[str, str]], ...] = (
    ("ascii", {}),
    ("latin-1", {"COLUMNS": "20"}),
    ("utf-16", {"COLUMNS": "500", "TERM": "dumb"}),
    ("utf-8", {"COLUMNS": "0", "HOME": "", "NO_COLOR": "1"}),
)


@pytest.mark.parametrize("name", COMMANDS)
def test_odd_terminals_get_whole_answers(name: str, folder: Path) -> None:
    before = contents(folder)
    for number, (encoding, environment) in enumerate(LOOKS):
        as_json = name not in NO_JSON and number % 2 == 0
        words = [f"{word}{number}" if word in ("new", "new.yaml") else word for word in asked(name, as_json=as_json)]
        if "page.html" in words:
            words.append("--force")
        told = call(*words, encoding=encoding, environment=environment)
        assert told.status == 0, told
        assert "Traceback" not in told.stderr
        assert "\x1b" not in told.stdout
        if as_json:
            assert json.loads(told.answer)["schema_version"] == 1
    after = contents(folder)
    assert {file: after[file] for file in before} == before
    if name not in (*WRITES, "report"):
        assert after == before


@pytest.mark.parametrize("name", COMMANDS)
def test_wrong_use_has_no_answer_and_no_signs(name: str, folder: Path) -> None:
    before = contents(folder)
    told = call(name, "--\x1b[31mno\u202e-such-option")
    assert (told.status, told.stdout) == (2, "")
    assert "Error: " in told.stderr
    assert not set("\x1b\u202e") & set(told.stderr)
    assert contents(folder) == before


@pytest.mark.skipif(sys.platform == "win32", reason="streams are closed the POSIX way")
def test_no_stream_at_all(folder: Path) -> None:
    before = contents(folder)
    closed = ["sh", "-c", 'exec "$@" >&- 2>&- <&-', "sh", sys.executable, "-m", "rotasolve"]
    root = str(Path(__file__).parents[2])
    for words in (asked("crops"), asked("show")):
        assert subprocess.run([*closed, *words], env={**os.environ, "PYTHONPATH": root}, check=False).returncode == 2
    assert contents(folder) == before
