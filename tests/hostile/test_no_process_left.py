"""Whatever ends the program, the process that proves bounds is gone within two seconds."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from tests.helpers.processes import PROC, children_of, state_of

LONG = """\
format: 1
title: A longer search
site: {latitude: 52, last_frost: {half: 5 May}, first_frost: {half: 15 October}}
first_year: 2027
years: 2
beds:
  - {name: one, length: 3 m, width: 1.2 m}
  - {name: two, length: 3 m, width: 1.2 m}
household:
  targets:
    - {crop: carrot, kg: 6, fresh_from: June, fresh_to: October}
    - {crop: leaf lettuce, kg: 5, fresh_from: May, fresh_to: September}
    - {crop: radish, kg: 3, fresh_from: May, fresh_to: September}
    - {crop: beetroot, kg: 5}
    - {crop: kale, kg: 5}
"""
"""Not proven in seconds, and soon begun."""
PATIENCE_SECONDS = 2.0
ROOT = Path(__file__).parents[2]


@pytest.mark.skipif(not (PROC / "self" / "stat").exists(), reason="processes are listed as Linux does")
@pytest.mark.parametrize("signals", [("SIGKILL",), ("SIGINT", "SIGINT"), ("SIGTERM",), ()], ids=" ".join)
def test_no_prover_outlives_the_program(tmp_path: Path, signals: tuple[str, ...]) -> None:
    (tmp_path / "long.yaml").write_text(LONG, encoding="utf-8")
    seconds = "300" if signals else "2"
    command = [sys.executable, "-m", "rotasolve", "plan", "long.yaml", "--seconds", seconds, "-q"]
    with subprocess.Popen(
        command,
        cwd=tmp_path,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        stdin=subprocess.DEVNULL,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    ) as process:
        end, provers = time.monotonic() + 60, set[int]()
        while not provers and time.monotonic() < end:
            time.sleep(0.2)
            provers = children_of(process.pid, "prover")
        assert provers
        for name in signals:
            process.send_signal(getattr(signal, name))
            time.sleep(0.3)
        process.wait(60)
    # A busy machine gives each process its share only.
    end = time.monotonic() + PATIENCE_SECONDS * max(1.0, os.getloadavg()[0] / (os.cpu_count() or 1))
    while any(state_of(prover) not in "XZ" for prover in provers):
        assert time.monotonic() < end
        time.sleep(0.05)
