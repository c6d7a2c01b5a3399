"""Wishes that are not in kilograms, and files of wishes: what is accepted, and every fault with its place."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from rotasolve.domain.catalogue import Catalogue
from rotasolve.domain.scenario import Scenario
from rotasolve.errors import InputFault
from rotasolve.files.wishes import holds_wishes_alone, read_wishes

Faults = Callable[[str], list[str]]
Read = Callable[[str], Scenario]

EATS = "  people: 3\n  eats:\n    - "


@pytest.fixture
def rich(small_data: dict[str, Any]) -> Catalogue:
    """Return the small catalogue with figures for people, meals and jars of tomatoes."""
    amount = {"value": 9.0, "unit": "kg per person", "source": "memory"}
    meal = {"value": 0.1, "unit": "kg per meal", "source": "memory"}
    tomato, zucchini = small_data["crops"]
    crops = [{**tomato, "fresh_per_person": amount, "kg_per_meal": meal}, zucchini]
    return Catalogue.model_validate({**small_data, "crops": crops})


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        (
            "crop: tomato\n      meals: 4",
            "g.yaml:21:14: it is not known how many kilograms of 'tomato' make one of its ",
        ),
        ("crop: tomato\n      litres_of_jars: 4", "write kg, or give the crop a kg_per_litre_of_jars in a crop file"),
        ("crop: tomato\n      plants: 4", ""),
        ("crop: tomato", "says no amount - give kg, plants, meals, litres_of_jars or kg_a_week"),
        ("crop: tomato\n      plants: 4\n      meals: 4", "says its amount twice, as plants and meals"),
        ("crop: tomato\n      kg: 0", "'kg' must be more than 0"),
    ],
)
def test_targets_in_other_units(garden: str, faults: Faults, text: str, fault: str) -> None:
    found = faults(garden.replace("crop: tomato\n      kg: 20", text))
    assert any(fault in one for one in found) if fault else found == []


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        ("{crop: zucchini}", "g.yaml:24:14: no amount of 'zucchini' for one person is published - add kg_per_person"),
        ("{crop: zucchini, kg_per_person: 4}", ""),
        ("{crop: Courgette, kg_per_person: 4}", ""),
        # A target for the same crop goes first, so that no published amount is needed.
        ("{crop: tomato}", ""),
        ("{crop: tomatoe}", "g.yaml:24:14: the crop 'tomatoe' is not known - did you mean 'tomato'?"),
        (
            "{crop: zucchini, how_much: lots}",
            "'how_much': 'lots' does not say how much - write little, usual, much, or a",
        ),
        ("{crop: zucchini, keep: 2}", "'keep': 2 is not a share to keep - write published, or a share from 0 to 1"),
        (
            "{crop: zucchini, kg_per_person: 4}\n    - {crop: courgette, kg_per_person: 4}",
            "g.yaml:25:14: 'zucchini' stands under 'eats' already, in line 24 - write it once",
        ),
    ],
)
def test_what_is_eaten(garden: str, faults: Faults, text: str, fault: str) -> None:
    found = faults(garden + EATS + text + "\n")
    assert any(fault in one for one in found) if fault else found == []


def test_who_eats_must_be_counted(garden: str, faults: Faults) -> None:
    (fault,) = faults(garden + "  eats:\n    - {crop: zucchini, kg_per_person: 4}\n")
    assert "'eats' counts by the head - add people: the number of people who eat from the garden" in fault


def test_a_must_have_in_kilograms(garden: str, read: Read) -> None:
    (must,) = read(garden + "  must_have:\n    - {crop: tomato, kg: 3}\n").household.must_have
    assert (must.kg, must.plants) == (3, 0)


def _wishes(tmp_path: Path, text: str) -> Path:
    file = tmp_path / "wishes.yaml"
    file.write_text(text, encoding="utf-8")
    return file


def test_a_file_of_wishes_replaces_the_household(tmp_path: Path, garden: str, read: Read, rich: Catalogue) -> None:
    text = "format: 1\ntitle: Six at table\nhousehold:\n  people: 6\n  targets:\n    - {crop: Courgette, kg: 4}\n"
    file = _wishes(tmp_path, text)
    assert holds_wishes_alone(file)
    scenario = read(garden)
    found = read_wishes(file, scenario, rich)
    assert found.title == "Two beds: Six at table"
    assert (found.household.people, found.household.targets[0].crop) == (6, "zucchini")
    assert (found.beds, found.site) == (scenario.beds, scenario.site)
    assert not holds_wishes_alone(_wishes(tmp_path, garden))


def test_faults_of_a_file_of_wishes_come_all_at_once(tmp_path: Path, garden: str, read: Read, rich: Catalogue) -> None:
    file = _wishes(
        tmp_path,
        "household:\n  people: 2\n  targets:\n    - {crop: tomato, litres_of_jars: 3}\n    - {crop: tomatoe, kg: 1}\n"
        "  must_have:\n    - {crop: tomato, plants: 2, year: 2040}\n",
    )
    with pytest.raises(InputFault) as refusal:
        read_wishes(file, read(garden), rich)
    assert [fault.line for fault in refusal.value.faults] == [4, 5, 7]
    with pytest.raises(InputFault) as refusal:
        read_wishes(_wishes(tmp_path, "household: {people: 2}\nbed: 3\n"), read(garden), rich)
    assert "bed" in str(refusal.value.faults[0])
