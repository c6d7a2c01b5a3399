"""Known diseases in a scenario: those that rest does nothing against are refused, and missing records are told."""

from __future__ import annotations

from typing import Any

import pytest

from rotasolve.domain.catalogue import Catalogue
from rotasolve.errors import InputFault
from rotasolve.files.scenarios import read_scenario_text, scenario_hash, warnings_of

PATHOGENS = [
    {"name": "rot", "hosts": ["tomato"], "gap_low": 3, "source": "memory"},
    {"name": "mould", "hosts": ["tomato"], "gap_high": 4, "source": "memory"},
    {"name": "blight", "hosts": ["tomato"], "rotation_helps": False, "source": "memory", "note": "It flies."},
    {"name": "eelworm", "hosts": ["tomato"], "source": "memory"},
]


@pytest.fixture
def sick(small_data: dict[str, Any]) -> Catalogue:
    return Catalogue.model_validate({**small_data, "pathogens": PATHOGENS})


def with_disease(garden: str, disease: str, more: str = "") -> str:
    return garden.replace("width: 1 m", f"width: 1 m\n    diseases: [{disease}]{more}")


@pytest.mark.parametrize(
    ("disease", "what"),
    [
        ("Blight", "rotation does not help against 'blight'"),
        ("eelworm", "no source says for how many years hosts of 'eelworm' must stay away"),
    ],
)
def test_a_disease_that_rest_does_nothing_against_is_refused(
    garden: str, sick: Catalogue, disease: str, what: str
) -> None:
    with pytest.raises(InputFault) as refusal:
        read_scenario_text(with_disease(garden, disease), "g.yaml", sick)
    (fault,) = refusal.value.faults
    assert what in str(fault)
    assert "take it off the bed, or give it a gap_low in a crop file of your own" in str(fault)
    assert ("(It flies.)" in str(fault)) == (disease == "Blight")


def told(garden: str, sick: Catalogue, disease: str, more: str = "", after: str = "") -> list[str]:
    text = with_disease(garden, disease, more) + after
    return [one for one in warnings_of(read_scenario_text(text, "g.yaml", sick), sick) if "closed to" in one]


def test_check_says_how_long_a_bed_is_closed_and_what_to_record(garden: str, sick: Catalogue) -> None:
    # The plan begins in 2027: 2024 to 2026 count for 3 years of rest, and 2026 + 3 = 2029 is the last year closed.
    assert told(garden, sick, "rot") == [
        "Bed 'Bed 2' is closed to hosts of rot up to and with 2029: the disease is known there, hosts must stay away "
        "for 3 complete years, and what grew in 2024, 2025, 2026 is not on record. Write it under 'history'; where "
        "nothing did, write 'history_since: 2024' in the bed."
    ]
    assert "2023, 2024, 2025, 2026 is not on record" in told(garden, sick, "mould")[0]
    assert "up to and with 2028" in told(garden, sick, "rot", "\n    history_since: 2026")[0]
    assert told(garden, sick, "rot", "\n    history_since: 2024") == []


def test_by_strip_the_strips_without_a_record_are_named(garden: str, sick: Catalogue) -> None:
    past = "".join(f"  - {{bed: Bed 2, crop: zucchini, year: {year}, strips: [1]}}\n" for year in (2024, 2025, 2026))
    found = told(garden, sick, "rot", after=f"history:\n{past}rules: {{rotation: strip}}\n")
    assert len(found) == 1
    assert found[0].startswith("Bed 'Bed 2', strips 2-")


def test_beds_without_a_year_keep_their_hash(garden: str, small: Catalogue) -> None:
    scenario = read_scenario_text(garden, "g.yaml", small)
    dated = read_scenario_text(garden.replace("width: 1 m", "width: 1 m\n    history_since: 2020"), "g.yaml", small)
    assert "history_since" not in scenario.model_dump()["beds"][1]
    assert scenario_hash(scenario) != scenario_hash(dated)
