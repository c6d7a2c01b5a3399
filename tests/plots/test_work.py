"""Orders: plain data in and out, other versions told, nothing of a user's text run, troubles told in the answer."""

from __future__ import annotations

import json
from dataclasses import asdict
from pathlib import Path
from typing import Any

import pytest

from rotasolve.errors import InternalFault
from rotasolve.files.crops import load_catalogue
from rotasolve.files.plans import plan_text, read_plan_text
from rotasolve.files.scenarios import read_scenario_text, read_text_with_catalogue, scenario_hash
from rotasolve.plots.work import NOT_ALIKE, plan_order
from rotasolve.solver.cpsat import Limits
from rotasolve.tasks.rotation import plan_rotation
from tests.files.test_own_crops import OCA
from tests.helpers.many_plots import EFFORT, garden_text, orders


def answered(**changes: object) -> dict[str, Any]:
    order = {**json.loads(orders(1)[0].text), **changes}
    answer = json.loads(plan_order(json.dumps(order)))
    assert isinstance(answer, dict)
    return answer


def test_an_order_gets_the_plan_that_the_plan_command_makes() -> None:
    catalogue, text = load_catalogue(), garden_text(0)
    scenario = read_scenario_text(text, "plot-00", catalogue)
    limits = Limits(seconds=None, effort=EFFORT)
    found = plan_rotation(scenario, catalogue, limits, fingerprint=scenario_hash(scenario))
    answer = answered()
    assert answer["outcome"] == "plan"
    assert answer["plan"] == plan_text(found.plan)  # type: ignore[union-attr]
    assert answer["seconds"] > 0


def test_crop_files_travel_as_text(tmp_path: Path) -> None:
    wishes = garden_text(0) + "    - {crop: oca, kg: 1}\ncrop_files: [../roots/oca.yaml]\n"
    here = tmp_path / "oca.yaml"
    here.write_text(OCA, encoding="utf-8")
    scenario, catalogue = read_text_with_catalogue(wishes, "plot-00", [here])
    limits = Limits(seconds=None, effort=EFFORT)
    found = plan_rotation(scenario, catalogue, limits, fingerprint=scenario_hash(scenario))
    there = answered(scenario=wishes, crop_files=[OCA])
    assert there["plan"] == plan_text(found.plan)  # type: ignore[union-attr]
    assert '"oca"' in there["plan"]
    told = answered(scenario=wishes)
    assert (told["outcome"], "'oca'" in told["what"]) == ("faults", True)
    assert answered(scenario=wishes, crop_files=["crops: [\n"])["outcome"] == "faults"


def test_other_crops_there_are_told() -> None:
    assert answered(digest="0" * 64)["outcome"] == NOT_ALIKE


def test_faults_and_clashes_are_told() -> None:
    told = answered(scenario="format: 1\ntitle: x\n")
    assert told["outcome"] == "faults"
    assert "plot-00:1:1: " in told["what"]
    told = answered(scenario=garden_text(0) + "  must_have:\n    - {crop: kale, plants: 900}\n")
    assert told["outcome"] == "impossible"
    assert answered(limits={**asdict(Limits()), "effort": None, "seconds": 0.01})["outcome"] in (
        "no plan in time",
        "plan",
    )


def test_a_users_text_is_read_and_never_run() -> None:
    told = answered(scenario="!!python/object/apply:os._exit [3]\n")
    assert told["outcome"] == "faults"


def test_a_defect_is_told_and_raises_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    assert answered(limits={"no": 1})["outcome"] == "failed"

    def refuse(*given: object, **named: object) -> None:
        raise InternalFault("the referee refuses our own plan")

    monkeypatch.setattr("rotasolve.tasks.rotation.plan_rotation", refuse)
    told = answered()
    assert (told["outcome"], told["what"]) == ("failed", "the referee refuses our own plan")
    assert json.loads(plan_order("no JSON"))["outcome"] == "failed"


def test_an_answer_holds_a_whole_plan_file() -> None:
    plan = read_plan_text(answered()["plan"], "answer").plan
    assert plan.plantings
    assert plan.scenario_title == "Plot 0"
