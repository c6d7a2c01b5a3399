"""Files that lie beside a scenario from somebody else are never run, whatever they are called."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from rotasolve.errors import FileTrouble
from rotasolve.printing import find_browser
from tests.helpers.many_plots import NO_DASK

PLANTED = (
    *("highspy", "numpy", "json", "io", "threading", "rotasolve", "ortools", "yaml", "sitecustomize"),
    *("multiprocessing", "subprocess", "distributed", "tornado", "pandas"),
)
START = "from rotasolve.cli.app import main\n\nif __name__ == '__main__':\n    main()\n"
"""The installed command: what lies in the current folder is no part of it."""


@pytest.mark.parametrize(
    ("words", "more"),
    [
        (("plan", "family-garden", "--seconds", "4", "-q"), {}),
        (("plots", "cold-frame", "-o", "plans", "--effort", "0.3", "-q"), {}),
        pytest.param(
            ("plots", "cold-frame", "-o", "plans", "--effort", "0.3", "-q", "--workers", "1", "--cluster", "local"),
            {},
            marks=pytest.mark.skipif(NO_DASK, reason="dask.distributed is an extra"),
        ),
        # What a shell asks while a word is typed, and the script that makes it ask.
        ((), {"_ROTASOLVE_COMPLETE": "complete_bash", "COMP_WORDS": "rotasolve pl", "COMP_CWORD": "1"}),
        ((), {"_ROTASOLVE_COMPLETE": "source_bash"}),
    ],
    ids=["plan", "pool", "cluster", "complete", "source"],
)
def test_no_child_takes_modules_from_the_folder_of_the_scenario(
    words: tuple[str, ...], more: dict[str, str], tmp_path: Path, environment: Callable[..., dict[str, str]]
) -> None:
    command, here = tmp_path / "bin" / "start.py", tmp_path / "here"
    for folder in (command.parent, here):
        folder.mkdir()
    command.write_text(START, encoding="utf-8")
    for name in PLANTED:
        (here / f"{name}.py").write_text(f"open({str(tmp_path / 'run')!r}, 'a').write({name!r})\n", encoding="utf-8")
    done = subprocess.run(
        [sys.executable, str(command), *words],
        cwd=here,
        env=environment(**more),
        stdin=subprocess.DEVNULL,
        capture_output=True,
        encoding="utf-8",
        timeout=120,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    assert "plan" in done.stdout or "rotasolve" in done.stdout
    assert not (tmp_path / "run").exists(), (tmp_path / "run").read_text(encoding="utf-8")


@pytest.mark.skipif(sys.platform == "win32", reason="a program is marked as one by its mode")
def test_no_browser_is_taken_from_the_current_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    planted = tmp_path / "chromium"
    planted.write_text("#!/bin/sh\n", encoding="utf-8")
    planted.chmod(0o755)
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("PATH", ".")
    with pytest.raises(FileTrouble, match="no browser was found"):
        find_browser()
