"""The shipped scenarios, read once, and plans made once with a small effort."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from typing import TYPE_CHECKING

import pytest

from rotasolve.domain.catalogue import Catalogue
from rotasolve.domain.result import Good, ProvenBest
from rotasolve.domain.scenario import Scenario
from rotasolve.files.crops import load_catalogue
from rotasolve.files.scenarios import read_scenario
from rotasolve.files.shipped import shipped_folder
from rotasolve.solver.cpsat import Limits
from rotasolve.tasks.rotation import plan_rotation

if TYPE_CHECKING:
    from importlib.resources.abc import Traversable

Planned = Callable[[str], ProvenBest | Good]
Read = Callable[[str], Scenario]
EFFORT = 4.0
"""Deterministic units: a few seconds for each scenario."""


@pytest.fixture(scope="session")
def catalogue() -> Catalogue:
    return load_catalogue()


@pytest.fixture(scope="session")
def folder() -> Traversable:
    return shipped_folder("scenarios")


@pytest.fixture(scope="session")
def read(catalogue: Catalogue, folder: Traversable) -> Read:
    """Return a reader of shipped scenarios by name."""
    return lambda name: read_scenario(folder / f"{name}.yaml", catalogue)


@pytest.fixture(scope="session")
def planned(catalogue: Catalogue, read: Read) -> Planned:
    """Return a planner of shipped scenarios by name; each is planned once."""

    @cache
    def plan(name: str) -> ProvenBest | Good:
        found = plan_rotation(read(name), catalogue, Limits(effort=EFFORT))
        assert isinstance(found, ProvenBest | Good)
        return found

    return plan
