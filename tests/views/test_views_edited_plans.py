"""What a grower sees of a plan edited by hand: the referee's page, the changes, and no stale claim anywhere."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import replace
from datetime import date
from typing import Any

import pytest

from rotasolve.domain.catalogue import Catalogue
from rotasolve.domain.edits import WorkedOut, sealed
from rotasolve.domain.moves import Changes, Move, Why
from rotasolve.domain.plan import Harvest, Plan
from rotasolve.domain.scenario import Scenario
from rotasolve.domain.seasons import say_day
from rotasolve.domain.strips import say_strips
from rotasolve.views.answers.changes_page import against_page, changes_answer, changes_page, say_what_changes
from rotasolve.views.exports.plan_json import plan_answer
from rotasolve.views.pages.editing import Finding, refereed_answer, refereed_page, say_edits
from rotasolve.views.pages.page import plan_page
from rotasolve.views.words.layout import columns_of
from rotasolve.views.words.look import Look
from rotasolve.views.words.standing import standing_sentences
from rotasolve.views.words.worked_out import say_worked_out

Golden = Callable[[str, str], None]
WIDTHS = (50, 80)


@pytest.fixture
def edited(plan: Plan) -> Plan:
    """Return the plan with its first planting given fewer plants by hand, as it is once it was taken up."""
    first = plan.plantings[0].model_copy(update={"plants": 1})
    return sealed(plan).model_copy(update={"plantings": (first, *plan.plantings[1:]), "standing": None})


@pytest.fixture
def found(plan: Plan) -> list[Finding]:
    return [(plan.verdict.breaches[0], (0, 1)), *((breach, ()) for breach in plan.verdict.breaches[1:])]


PLACES = {0: "garden.plan.json:9:3", 1: "garden.plan.json:10:3"}
NOTES = ["garden.plan.json:9:3: kale in long bed: 0.5 kg, not 6"]


@pytest.mark.parametrize("width", WIDTHS)
def test_refereed(golden: Golden, plan: Plan, edited: Plan, found: list[Finding], width: int) -> None:
    before = plan.model_copy(update={"goals": (plan.goals[0].model_copy(update={"lost": 1}), *plan.goals[1:])})
    text = refereed_page(edited, found, PLACES, NOTES, before, Look(width))
    assert all(columns_of(line) <= width for line in text.splitlines())
    golden(f"refereed_{width}", text)


def test_what_was_worked_out_anew_is_said_field_by_field(plan: Plan) -> None:
    old = plan.plantings[0]
    new = old.model_copy(
        update={"rows": 9, "plants": 1, "first_harvest": None, "harvest": Harvest(low_kg=0, typical_kg=0.5, high_kg=1)}
    )
    where = f"{new.crop} in {new.bed}, {say_strips(new.strips)}, {say_day(new.start)}: "
    assert old.first_harvest is not None
    assert say_worked_out(WorkedOut(0, old, new, ("first_harvest", "rows", "harvest", "plants"))) == (
        f"{where}first picked never, not {say_day(old.first_harvest)}; 9 rows, not {old.rows}; "
        f"0.5 kg, not {old.harvest.typical_kg:g}; 1 plant; it is cleared before it is ripe and yields nothing"
    )
    # A day that the file did not say is new, not another one.
    assert (
        say_worked_out(WorkedOut(0, new, old, ("first_harvest",)))
        == f"{where}first picked {say_day(old.first_harvest)}"
    )


@pytest.mark.parametrize(
    ("decided", "said"),
    [
        ({}, "on offer can lose"),
        ({"keeps": 1}, "on offer that keeps this planting can lose"),
        (
            {"keeps": 2, "nothing_new_by": date(2027, 7, 17)},
            "on offer that keeps these 2 plantings and starts nothing else by 17 July 2027 can lose",
        ),
        ({"nothing_new_by": date(2027, 7, 17)}, "on offer that starts nothing else by 17 July 2027 can lose"),
        ({"around": "that keeps this bed"}, "on offer that keeps this bed can lose"),
    ],
)
def test_a_standing_says_what_was_decided_before(plan: Plan, decided: dict[str, Any], said: str) -> None:
    assert plan.standing is not None
    assert said in standing_sentences(plan.standing.model_copy(update=decided))[0]


@pytest.mark.parametrize("width", WIDTHS)
def test_changes(golden: Golden, plan: Plan, width: int) -> None:
    first, second, *_ = plan.plantings
    moves = (Move(before=first, after=first.model_copy(update={"plants": 1})), Move(before=second, after=None))
    after = plan.model_copy(update={"plantings": (first.model_copy(update={"kept": True}), *plan.plantings[1:])})
    changes = Changes(moves=moves, new=(second,), unchanged=3)
    why: tuple[Why, ...] = (plan.verdict.breaches[0], "fewer points")
    text = changes_page(plan, after, changes, False, Look(width), why)
    assert all(columns_of(line) <= width for line in text.splitlines())
    golden(f"changes_{width}", text)
    told = json.loads(json.dumps(changes_answer(plan, after, changes, why)))
    assert [move["why"].get("rule") for move in told["changed"]] == [plan.verdict.breaches[0].claim.rule, None]
    assert [move["what"] for move in told["changed"]] == ["cut back", "gone"]
    assert [planting["crop"] for planting in told["kept"]] == [first.crop]


def test_a_kept_crop_that_failed_counts_once(plan: Plan) -> None:
    first, *rest = [planting.model_copy(update={"kept": True}) for planting in plan.plantings]
    failed = first.model_copy(update={"clear": first.start})
    after = plan.model_copy(update={"plantings": (failed, *rest)})
    changes = Changes(moves=(Move(before=plan.plantings[0], after=failed),), new=(), unchanged=len(rest))
    text = " ".join(changes_page(plan, after, changes, False, Look(80)).split())
    assert f"{len(rest) + 1} plantings kept by you, 0 others as before, 1 planting changed or gone, 0 new" in text


def test_that_nothing_is_new_is_said_first(plan: Plan) -> None:
    changes = Changes(moves=(), new=(), unchanged=len(plan.plantings))
    text = " ".join(changes_page(plan, plan, changes, False, Look(80), nothing_new=True).split())
    assert "Nothing is new since the earlier plan was written: it stays as it is." in text


def test_every_reason_is_said(plan: Plan) -> None:
    whys: tuple[Why, ...] = ("failed", "not wanted", "in the past", "fewer points")
    moves = tuple(Move(before=plan.plantings[0], after=None) for _ in whys)
    text = changes_page(plan, plan, Changes(moves=moves, new=(), unchanged=0), False, Look(400), whys)
    said = [part.rpartition(": ")[2] for part in " ".join(text.split()).split(" - ")[-len(whys) :]]
    assert said == [
        "It failed, and its ground is free again.",
        "The scenario wants the crop no more.",
        "It would be started on a day gone by.",
        "Nothing is against it, but the plan loses fewer points so.",
    ]


def test_what_stands_against_the_kept_ones(golden: Golden, plan: Plan) -> None:
    golden("against_80", against_page([replace(plan.verdict.breaches[0], plantings=plan.plantings[:2])], Look(80)))


def test_every_change_has_its_word(plan: Plan) -> None:
    one = plan.plantings[0]
    sooner = one.model_copy(update={"clear": one.start})
    assert say_what_changes(Move(before=one, after=sooner)) == "cleared sooner"
    assert say_what_changes(Move(before=sooner, after=one)) == "cleared later"
    assert say_what_changes(Move(before=one, after=one.model_copy(update={"bed": "elsewhere"}))) == "moved"
    assert say_what_changes(Move(before=one, after=one.model_copy(update={"plants": 10_000}))) == "more of it"


def test_an_edited_plan_is_nowhere_shown_as_best(
    scenario: Scenario, catalogue: Catalogue, plan: Plan, edited: Plan
) -> None:
    assert plan.standing is not None
    text = plan_page(scenario, catalogue, edited, Look(80))
    assert "how near it is to the best is not known any more" in text
    assert "Good, not proven" not in text
    assert "Proven best" not in text
    assert (
        plan_answer(edited, scenario, catalogue)["outcome"],
        plan_answer(edited, scenario, catalogue)["edited"],
    ) == (
        "unknown",
        True,
    )
    whole = plan_answer(sealed(plan), scenario, catalogue)
    assert (whole["outcome"], whole["edited"]) == (plan.standing.outcome, False)
    assert plan_answer(plan, scenario, catalogue)["edited"] is None


def test_for_programs_each_breach_names_its_plantings(plan: Plan, edited: Plan, found: list[Finding]) -> None:
    told = json.loads(json.dumps(refereed_answer(edited, found, PLACES, NOTES, plan, scenario_matches=True)))
    assert (told["holds"], told["edited"]) == (False, True)
    assert [p["place"] for p in told["breaches"][0]["plantings"]] == list(PLACES.values())
    assert told["points_lost_in_file"] == sum(goal.lost for goal in plan.goals)


def test_plain_words_for_edits() -> None:
    assert say_edits(None) == ""
    assert say_edits(None, 2) == "in 2 plantings figures did not follow from the rest; they were worked out anew"
