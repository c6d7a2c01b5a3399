"""A small catalogue and a small scenario for the tests of reading."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from rotasolve.domain.catalogue import Catalogue
from rotasolve.domain.scenario import Scenario
from rotasolve.errors import InputFault
from rotasolve.files.scenarios import read_scenario_text

GARDEN = """\
format: 1
title: Two beds
site:
  latitude: 52.5
  last_frost:
    half: 5 May
  first_frost:
    half: 15 October
first_year: 2027
years: 3
beds:
  - name: Bed 1
    length: 4 m
    width: 1.2 m
  - name: Bed 2
    length: 3 m
    width: 1 m
household:
  targets:
    - crop: tomato
      kg: 20
"""


def figure(value: float, unit: str) -> dict[str, Any]:
    return {"value": value, "unit": unit, "source": "memory"}


def crop(name: str, family: str, *also: str) -> dict[str, Any]:
    return {
        "name": name,
        "also": list(also),
        "species": f"Species of {name}",
        "family": family,
        "hardiness": {"level": "tender", "source": "memory"},
        "height": figure(120, "cm"),
        "spacing_in_row": figure(50, "cm"),
        "spacing_between_rows": figure(60, "cm"),
        "starts": [
            {
                "way": "set out",
                "earliest": figure(1, "weeks after last frost"),
                "latest": figure(6, "weeks after last frost"),
                "days_to_harvest": figure(70, "days"),
            }
        ],
        "harvest_weeks": figure(8, "weeks"),
        "yield_per_plant": figure(2, "kg per plant"),
    }


SMALL: dict[str, Any] = {
    "crops": [crop("tomato", "Solanaceae"), crop("zucchini", "Cucurbitaceae", "courgette")],
    "families": [
        {"name": "Solanaceae", "common_name": "nightshades", "source": "memory"},
        {"name": "Cucurbitaceae", "common_name": "gourds", "source": "memory"},
    ],
    "pathogens": [{"name": "wilt", "hosts": ["family:Solanaceae", "zucchini"], "closes": True, "source": "memory"}],
    "covers": [{"name": "open ground", "days_earlier": 0, "days_later": 0, "source": "memory"}],
    "sources": {"memory": {"title": "From memory"}},
}


@pytest.fixture
def garden() -> str:
    """Return a scenario text without a fault."""
    return GARDEN


@pytest.fixture
def small_data() -> dict[str, Any]:
    """Return the plain data of the small catalogue."""
    return SMALL


@pytest.fixture(scope="session")
def small() -> Catalogue:
    """Return a catalogue of two crops and one disease."""
    return Catalogue.model_validate(SMALL)


@pytest.fixture
def read(small: Catalogue) -> Callable[[str], Scenario]:
    """Return a reader of scenario texts under the name g.yaml."""
    return lambda text: read_scenario_text(text, "g.yaml", small)


@pytest.fixture
def faults(small: Catalogue) -> Callable[[str], list[str]]:
    """Return a reader that gives the faults as texts, none if the scenario is read."""

    def faults_in(text: str) -> list[str]:
        try:
            read_scenario_text(text, "g.yaml", small)
        except InputFault as refusal:
            return [str(fault) for fault in refusal.faults]
        return []

    return faults_in
