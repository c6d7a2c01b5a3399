"""Files that lie beside a scenario from somebody else are never run, whatever they are called."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from rotasolve.errors import FileTrouble
from rotasolve.printing import find_browser

PLANTED = ("highspy", "numpy", "json", "io", "threading", "rotasolve", "ortools", "yaml", "sitecustomize")


@pytest.mark.parametrize(
    ("words", "more"),
    [
        (("plan", "family-garden", "--seconds", "4", "-q"), {}),
        # What a shell asks while a word is typed, and the script that makes it ask.
        ((), {"_ROTASOLVE_COMPLETE": "complete_bash", "COMP_WORDS": "rotasolve pl", "COMP_CWORD": "1"}),
        ((), {"_ROTASOLVE_COMPLETE": "source_bash"}),
    ],
    ids=["plan", "complete", "source"],
)
def test_no_child_takes_modules_from_the_folder_of_the_scenario(
    words: tuple[str, ...], more: dict[str, str], tmp_path: Path, environment: Callable[..., dict[str, str]]
) -> None:
    for name in PLANTED:
        (tmp_path / f"{name}.py").write_text(
            f"open({str(tmp_path / 'run')!r}, 'a').write({name!r})\n", encoding="utf-8"
        )
    # -P for ourselves: only what the program starts is on trial, as it is where the installed command is called.
    done = subprocess.run(
        [sys.executable, "-P", "-m", "rotasolve", *words],
        cwd=tmp_path,
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
