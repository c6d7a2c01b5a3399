"""The proving process by itself: it ends without a word when whoever asked is gone."""

from __future__ import annotations

import io
import json
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import numpy
import pytest

from rotasolve.files.crops import load_catalogue
from rotasolve.files.scenarios import read_scenario
from rotasolve.relations.ground.garden import make_garden
from rotasolve.solver import prover as prover_module
from rotasolve.solver.highs import arrays_of
from rotasolve.solver.program import build_program

PATIENCE = 60
"""Seconds after which a process that does not end counts as one that never would; it is told to go on for ten times."""


@pytest.fixture
def prover() -> Iterator[subprocess.Popen[bytes]]:
    """Return a process with a program that takes minutes."""
    catalogue = load_catalogue()
    place = read_scenario(Path(__file__).parents[2] / "scenarios" / "family-garden.yaml", catalogue)
    body = io.BytesIO()
    numpy.savez(body, **arrays_of(build_program(make_garden(place, catalogue, exact=False))))
    options = {"time_limit": 10.0 * PATIENCE, "threads": 1, "random_seed": 1, "mip_rel_gap": 0.0}
    head = json.dumps({"options": options, "bytes": body.getbuffer().nbytes}).encode()
    command = [sys.executable, "-P", prover_module.__file__]
    with subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE) as process:
        assert process.stdin is not None
        process.stdin.write(head + b"\n" + body.getvalue())
        process.stdin.flush()
        yield process
        process.kill()


def test_it_ends_when_nobody_asks_any_more(prover: subprocess.Popen[bytes]) -> None:
    assert prover.stdin is not None
    assert prover.stderr is not None
    prover.stdin.close()
    assert prover.wait(PATIENCE) == 0
    assert prover.stderr.read() == b""


def test_it_ends_when_nobody_listens_any_more(prover: subprocess.Popen[bytes]) -> None:
    assert prover.stdout is not None
    assert prover.stderr is not None
    assert prover.stdout.readline()
    prover.stdout.close()
    assert prover.wait(PATIENCE) == 0
    assert prover.stderr.read() == b""
