"""The program as a process: what it loads, terminals of all kinds, signals and pipes."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

Program = Callable[..., "subprocess.CompletedProcess[str]"]
Environment = Callable[..., dict[str, str]]

HEAVY = {"ortools", "highspy", "networkx", "pandas", "numpy", "jinja2"}
_LOADED = """\
import sys
sys.argv = ["rotasolve", *sys.argv[1:]]
from rotasolve.cli.app import main
try:
    main()
except SystemExit:
    pass
print("LOADED", *sorted({name.split(".")[0] for name in sys.modules}), file=sys.stderr)
"""
# Long enough for a signal on any machine: seven crops in three beds over three years are not proven in seconds.
LONG = """\
format: 1
title: A longer search
site: {latitude: 52, last_frost: {half: 5 May}, first_frost: {half: 15 October}}
first_year: 2027
years: 3
beds:
  - {name: one, length: 3 m, width: 1.2 m}
  - {name: two, length: 3 m, width: 1.2 m}
  - {name: three, length: 3 m, width: 1.2 m}
household:
  targets:
    - {crop: carrot, kg: 6, fresh_from: June, fresh_to: October}
    - {crop: leaf lettuce, kg: 5, fresh_from: May, fresh_to: September}
    - {crop: kale, kg: 5}
    - {crop: beetroot, kg: 5}
    - {crop: radish, kg: 3, fresh_from: May, fresh_to: September}
    - {crop: spinach, kg: 3}
    - {crop: onion, kg: 5}
"""


def loaded(environment: Environment, *arguments: str) -> set[str]:
    done = subprocess.run(
        [sys.executable, "-c", _LOADED, *arguments],
        env=environment(),
        capture_output=True,
        encoding="utf-8",
        timeout=60,
        check=True,
    )
    return set(done.stderr.rsplit("LOADED", 1)[1].split())


def test_help_and_version_load_next_to_nothing(environment: Environment) -> None:
    light = HEAVY | {"pydantic", "yaml", "rich"}
    assert not loaded(environment, "--version") & light
    assert not loaded(environment, "--help") & light


def test_light_commands_load_no_solver(environment: Environment, tiny: Path) -> None:
    for arguments in (["crops", "kale"], ["scenarios"], ["season", str(tiny)]):
        assert not loaded(environment, *arguments) & HEAVY
    # How much ground the wishes need hangs on the rest of families, and so on their graph.
    assert not loaded(environment, "check", str(tiny)) & (HEAVY - {"networkx"})


def test_json_alone_on_stdout(program: Program, tiny: Path) -> None:
    done = program("plan", tiny, "--seconds", 5, "--json")
    assert done.returncode == 0, done.stderr
    assert json.loads(done.stdout)["schema_version"] == 1


@pytest.mark.parametrize("settings", [{"NO_COLOR": "1"}, {"TERM": "dumb"}, {}])
def test_pipes_get_no_terminal_codes(program: Program, tiny: Path, settings: dict[str, str]) -> None:
    done = program("check", tiny, **settings)
    assert done.returncode == 0
    assert "\x1b" not in done.stdout + done.stderr


def test_ascii_output_never_fails(program: Program, tiny: Path, plan_file: Path) -> None:
    tiny.write_text(tiny.read_text(encoding="utf-8").replace("Ida's", "Zoë's 白菜"), encoding="utf-8")
    for command in (["check", tiny], ["show", tiny, plan_file], ["crops", "kale"], ["season", tiny, "kale"]):
        done = program(*command, PYTHONUTF8="0", PYTHONIOENCODING="ascii:strict")
        assert done.returncode == 0, done.stderr
        assert done.stdout.isascii()


def test_forty_columns(program: Program, tiny: Path, plan_file: Path) -> None:
    for command in (["check", tiny], ["show", tiny, plan_file], ["crops"], ["crops", "kale"], ["scenarios"]):
        done = program(*command, COLUMNS="40")
        assert done.returncode == 0, done.stderr
        assert max(len(line) for line in done.stdout.splitlines()) <= 40


def test_a_pipe_that_breaks_ends_silently(environment: Environment) -> None:
    with subprocess.Popen(
        [sys.executable, "-m", "rotasolve", "crops", "--json"],
        env=environment(),
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
    ) as process:
        assert process.stdout is not None
        assert process.stderr is not None
        process.stdout.read(10)
        process.stdout.close()
        assert process.stderr.read() == b""
        assert process.wait(60) == 141


def start_long_search(folder: Path, environment: Environment, *options: str) -> subprocess.Popen[str]:
    scenario = folder / "long.yaml"
    scenario.write_text(LONG, encoding="utf-8")
    process = subprocess.Popen(
        [sys.executable, "-m", "rotasolve", "plan", str(scenario), "--seconds", "300", "--json", *options],
        env=environment(),
        cwd=folder,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        encoding="utf-8",
    )
    assert process.stderr is not None
    for line in process.stderr:
        if line.startswith("plan "):
            break
    return process


@pytest.mark.skipif(os.name == "nt", reason="signals are sent the POSIX way")
@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM])
def test_first_signal_keeps_the_best_plan(tmp_path: Path, environment: Environment, number: signal.Signals) -> None:
    output = tmp_path / "kept.json"
    with start_long_search(tmp_path, environment, "-o", str(output)) as process:
        process.send_signal(number)
        stdout, stderr = process.communicate(timeout=120)
    assert process.returncode == 0, stderr
    answer = json.loads(stdout)
    assert answer["stopped_early"] is True
    assert answer["plan"]["plantings"]
    assert "stopped early" in stderr
    assert json.loads(output.read_text())["format"] == 1


@pytest.mark.skipif(os.name == "nt", reason="signals are sent the POSIX way")
def test_second_signal_leaves_at_once(tmp_path: Path, environment: Environment) -> None:
    with start_long_search(tmp_path, environment) as process:
        for _ in range(50):
            process.send_signal(signal.SIGINT)
            try:
                process.wait(0.01)
            except subprocess.TimeoutExpired:
                continue
            break
        assert process.wait(30) == 130
