"""Answers for programs."""

from __future__ import annotations

import json

from rotasolve.domain.catalogue import Catalogue
from rotasolve.domain.fault import Fault
from rotasolve.domain.plan import Plan, Verdict
from rotasolve.domain.scenario import Scenario
from rotasolve.files.plans import read_plan_text
from rotasolve.rules.free_ground import GroundClaim
from rotasolve.views.exports import as_json, plan_json
from rotasolve.views.words.cautions import cautions_of

CLASH = (GroundClaim("long bed"),)


def test_every_answer_is_plain_json_with_a_version(scenario: Scenario, catalogue: Catalogue, plan: Plan) -> None:
    answers = [
        plan_json.plan_answer(plan, scenario, catalogue),
        plan_json.no_plan_answer("impossible", CLASH, ways_out=[CLASH]),
        as_json.check_answer(scenario, (), ()),
        as_json.check_answer(None, [Fault("f.yaml", 3, 5, "wrong", "mend it")], ()),
        as_json.crops_answer(catalogue.crops, catalogue),
    ]
    for answer in answers:
        assert json.loads(json.dumps(answer, allow_nan=False))["schema_version"] == 1


def test_plan_in_the_answer_can_be_read_back(scenario: Scenario, catalogue: Catalogue, plan: Plan) -> None:
    answer = json.loads(json.dumps(plan_json.plan_answer(plan, scenario, catalogue)))
    # What a file says of breaches is never taken over; the referee counts anew.
    goals = tuple(goal.model_copy(update={"sentence": "1 of 2 yearly targets met in full"}) for goal in plan.goals)
    read = read_plan_text(json.dumps(answer["plan"]), "answer.json").plan
    assert read == plan.model_copy(update={"verdict": Verdict(), "goals": goals})
    assert answer["plan"]["verdict"]["breaches"] == [
        {
            "claim": {"rule": "free-ground", "about": ["long bed"]},
            "sentence": "each strip of long bed holds one crop at a time, but strip 1 holds kale from 1 May 2027 to "
            "31 August 2027 and garlic from 1 August 2027 to 30 September 2027",
        }
    ]


def test_crops_bring_the_sources_they_name(catalogue: Catalogue) -> None:
    answer = as_json.crops_answer([catalogue.crop("garlic")], catalogue)
    assert sorted(answer["sources"]) == ["memory", "trial"]


def test_a_caution_is_said_once_for_all_its_crops(scenario: Scenario, catalogue: Catalogue, plan: Plan) -> None:
    told = cautions_of(plan, catalogue, scenario)
    assert told[0] == "kale, summer squash: Wash before eating raw."
    assert told[1] == "cold frame: Open it on sunny days."
    # The site gives no climate, which is told between what concerns this plan and what concerns all.
    assert told[2].startswith("Climate: an estimate from latitude and frost dates, 1.4")
    assert len(told) == 5
