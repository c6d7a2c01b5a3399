"""What the exit status says: 3 for a defect of ours and for nothing else, 1 for findings only."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from typer.testing import Result

from rotasolve.cli import exit_codes
from rotasolve.cli.app import main
from rotasolve.errors import InternalFault

Run = Callable[..., Result]
README = Path(__file__).parents[2] / "README.md"


def test_defect_is_called_ours(run: Run, tiny: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def break_down(*arguments: object) -> None:
        raise ZeroDivisionError("no reason")

    monkeypatch.setattr("rotasolve.files.scenarios.read_with_catalogue", break_down)
    done = run("check", tiny)
    assert done.exit_code == 3
    assert "defect of rotasolve" in done.stderr
    assert "Traceback" not in done.stderr
    assert "Traceback" in run("check", tiny, ROTASOLVE_DEBUG="1").stderr


def test_a_plan_the_referee_refuses_is_our_defect(run: Run, tiny: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*arguments: object, **options: object) -> None:
        raise InternalFault("the referee refuses our own plan: too close")

    monkeypatch.setattr("rotasolve.tasks.rotation.plan_garden", refuse)
    done = run("plan", tiny, "-q")
    assert (done.exit_code, done.stdout) == (3, "")
    assert "defect of rotasolve, not of your files" in done.stderr


def test_a_defect_outside_every_command_is_no_finding(monkeypatch: pytest.MonkeyPatch) -> None:
    def break_down(**options: object) -> int:
        raise ZeroDivisionError("no reason")

    monkeypatch.setattr("rotasolve.cli.app.app", break_down)
    with pytest.raises(SystemExit) as left:
        main()
    assert left.value.code == 3


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="a disk that is always full, as Linux has it")
def test_a_full_disk_is_no_defect(environment: Callable[..., dict[str, str]]) -> None:
    for asked in (["crops"], ["--help"], ["scenarios", "--json"]):
        with open("/dev/full", "w", encoding="utf-8") as full:
            done = subprocess.run(
                [sys.executable, "-m", "rotasolve", *asked], env=environment(), stdout=full, stderr=subprocess.PIPE
            )
        told = ["Error: No space left on device; make room, or choose another place"]
        assert (done.returncode, done.stderr.decode().splitlines()) == (2, told)


@pytest.mark.skipif(sys.platform == "win32", reason="a terminal as POSIX has it")
def test_leaving_an_interview_is_no_finding(environment: Callable[..., dict[str, str]], tmp_path: Path) -> None:
    import pty

    ours, theirs = pty.openpty()
    asked = [sys.executable, "-m", "rotasolve", "begin", "garden.yaml"]
    with subprocess.Popen(
        asked, env=environment(), cwd=tmp_path, stdin=theirs, stdout=theirs, stderr=theirs
    ) as process:
        os.write(ours, b"\x04")  # end of input, Ctrl-D; Ctrl-C comes the same way
        assert process.wait(60) == 130
    os.close(ours)
    os.close(theirs)
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("document", ["README.md", "rotasolve --help"])
def test_the_exit_statuses_are_told(run: Run, document: str) -> None:
    told = README.read_text(encoding="utf-8") if document == "README.md" else run("--help").stdout
    (sentence,) = re.findall(r"Exit status: .*? left with Ctrl-C\.", " ".join(told.split()))
    known = (exit_codes.FINE, exit_codes.FOUND, exit_codes.COULD_NOT_RUN, exit_codes.OUR_FAULT, exit_codes.LEFT)
    assert [int(number) for number in re.findall(r"\d+", sentence)] == list(known)
