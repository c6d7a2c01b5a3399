"""Every helper that model and referee share is held to facts worked out by hand: see tests/helpers/golden.py."""

from __future__ import annotations

import pytest

from rotasolve.files.shipped import shipped_folder
from tests.helpers.golden import ASK, FOLDER, facts_about, named_crops, shipped, untrue

HELPERS = sorted(file.stem for file in FOLDER.glob("*.yaml"))
SCENARIOS = sorted(
    file.name.removesuffix(".yaml") for file in shipped_folder("scenarios").iterdir() if file.name.endswith(".yaml")
)


@pytest.mark.parametrize("helper", HELPERS)
def test_facts_worked_out_by_hand_hold(helper: str) -> None:
    assert untrue(helper) == []


def test_every_question_has_facts() -> None:
    assert sorted(ASK) == HELPERS


@pytest.mark.parametrize("helper", HELPERS)
def test_every_fact_shows_its_sum_and_every_shipped_scenario_has_one(helper: str) -> None:
    whole = facts_about(helper)
    assert all(str(fact["sum"]).strip() for fact in whole["facts"])
    # How high a crop stands on a day, and how much of it there is, has nothing to do with the garden.
    if helper not in ("standing_heights", "shares", "yields"):
        told = {fact["scenario"] for fact in whole["facts"] if "scenario" in fact} | set(whole.get("scenarios", ()))
        assert told == set(SCENARIOS)


@pytest.mark.parametrize("name", SCENARIOS)
def test_the_height_of_every_crop_of_a_shipped_scenario_is_among_the_facts(name: str) -> None:
    assert shipped(name).rules.height_steps_cm == (45, 100)
    assert named_crops(shipped(name)) <= {fact["crop"] for fact in facts_about("height_classes")["facts"]}
