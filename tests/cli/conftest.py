"""A tiny garden, and two ways to run the command line: in this process, and as a program."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from typer.testing import CliRunner, Result

from rotasolve.cli.app import app

TINY = """\
# A tiny garden for tests.
format: 1
title: "Ida's [bold]corner[/bold]"
site:
  latitude: 52
  last_frost: {half: 5 May}
  first_frost: {half: 15 October}
first_year: 2027
years: 1
beds:
  - {name: long bed, length: 1.8 m, width: 1.2 m}
household:
  targets:
    - {crop: carrot, kg: 4, weight: 5}
    - {crop: leaf lettuce, kg: 1}
    - {crop: kale, kg: 3, weight: 5}
"""

Run = Callable[..., Result]
Program = Callable[..., "subprocess.CompletedProcess[str]"]


@pytest.fixture
def tiny(tmp_path: Path) -> Path:
    file = tmp_path / "tiny.yaml"
    file.write_text(TINY, encoding="utf-8")
    return file


@pytest.fixture
def run(monkeypatch: pytest.MonkeyPatch) -> Run:
    """Return a runner of commands in this process, 80 columns wide and without colour."""
    monkeypatch.setenv("COLUMNS", "80")

    def invoke(*arguments: object, **options: str) -> Result:
        return CliRunner().invoke(app, [str(argument) for argument in arguments], env=options)

    return invoke


def clean_environment(**more: str) -> dict[str, str]:
    kept = {
        name: value for name, value in os.environ.items() if not name.startswith(("PYTHON", "ROTASOLVE", "COLUMNS"))
    }
    root = str(Path(__file__).parents[2])
    return {**kept, "PYTHONPATH": root, "PYTHONUTF8": "1", **more}


@pytest.fixture
def environment() -> Callable[..., dict[str, str]]:
    """Return a maker of environments for subprocesses."""
    return clean_environment


@pytest.fixture
def program(tmp_path: Path) -> Program:
    """Return a runner of the program in a process of its own, in an empty folder."""

    def call(*arguments: object, **more: str) -> subprocess.CompletedProcess[str]:
        return subprocess.run(
            [sys.executable, "-m", "rotasolve", *(str(argument) for argument in arguments)],
            cwd=tmp_path,
            env=clean_environment(**more),
            stdin=subprocess.DEVNULL,
            capture_output=True,
            encoding="utf-8",
            timeout=120,
            check=False,
        )

    return call


@pytest.fixture
def plan_file(run: Run, tiny: Path, tmp_path: Path) -> Path:
    """Return the file of a plan for the tiny garden."""
    file = tmp_path / "tiny.plan.json"
    done = run("plan", tiny, "--effort", 2, "-q", "-o", file)
    assert done.exit_code == 0, done.stderr
    return file
