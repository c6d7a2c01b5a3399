"""Each search is run once, and every benchmark tells its figures in one line."""

from __future__ import annotations

import sys
from collections.abc import Callable
from functools import cache
from typing import TYPE_CHECKING

import pytest

from rotasolve.domain.plan import Plan
from rotasolve.domain.result import Good, ProvenBest
from rotasolve.files.crops import load_catalogue
from rotasolve.files.scenarios import read_scenario
from rotasolve.files.shipped import shipped_folder
from rotasolve.solver.cpsat import Limits
from rotasolve.tasks.rotation import plan_rotation

if TYPE_CHECKING:
    from rotasolve.domain.scenario import Scenario
    from tests.benchmarks.registry import SearchBenchmark

Tell = Callable[[str], None]
Searched = Callable[["SearchBenchmark"], Plan]


def shipped(name: str) -> Scenario:
    return read_scenario(shipped_folder("scenarios") / f"{name}.yaml", load_catalogue())


@pytest.fixture
def tell(capsys: pytest.CaptureFixture[str]) -> Tell:
    """Return a writer of one line, past pytest's capture: for README.md beside this file."""

    def write(line: str) -> None:
        with capsys.disabled():
            sys.stdout.write(f"\nBENCH {line}\n")

    return write


@pytest.fixture(scope="session")
def searched() -> Searched:
    """Return a searcher; each benchmark is searched once in a session."""

    @cache
    def search(benchmark: SearchBenchmark) -> Plan:
        found = plan_rotation(shipped(benchmark.scenario), load_catalogue(), Limits(seconds=benchmark.seconds))
        assert isinstance(found, ProvenBest | Good)
        return found.plan

    return search


@pytest.fixture(scope="session")
def scenario_of() -> Callable[[str], Scenario]:
    return shipped
