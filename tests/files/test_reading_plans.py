from __future__ import annotations

import re
from datetime import date
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rotasolve.domain.plan import GoalScore, Harvest, Plan, Planting
from rotasolve.errors import FileTrouble, InputFault
from rotasolve.files.plans import plan_text, read_plan, read_plan_text, write_plan
from rotasolve.goals.household_yield import TargetsMet
from tests.helpers.words import said

PLAN = Plan(
    made_by="rotasolve 0",
    scenario_title="Übung",
    scenario_hash="0123456789abcdef",
    first_year=2027,
    years=1,
    plantings=(
        Planting(
            bed="Bed 1",
            strips=(1, 2),
            crop="tomato",
            way="set out",
            start=date(2027, 5, 20),
            clear=date(2027, 10, 15),
            rows=2,
            plants=8,
            harvest=Harvest(low_kg=10, typical_kg=16.5, high_kg=20),
        ),
    ),
)


def refused(text: str) -> list[str]:
    with pytest.raises(InputFault) as refusal:
        read_plan_text(text, "p.json")
    return [str(fault) for fault in refusal.value.faults]


def test_plan_comes_back_equal_and_the_same_to_the_byte(tmp_path: Path) -> None:
    file = tmp_path / "p.json"
    write_plan(PLAN, file, overwrite=False)
    first = file.read_bytes()
    assert read_plan(file).plan == PLAN
    write_plan(read_plan(file).plan, file, overwrite=True)
    assert file.read_bytes() == first
    assert first.endswith(b"}\n")
    assert first.startswith(b'{\n "format": 1,\n "made_by"')


SCORE = GoalScore(goal="household-yield", lost=1204, reached=TargetsMet(1, 2, in_a_poor_year=False))


def test_what_goals_reach_is_kept_in_figures_and_said_when_read() -> None:
    text = plan_text(PLAN.model_copy(update={"goals": (SCORE,)}))
    told = '{"goal": "household-yield", "lost": 1204, "reached": {"met": 1, "targets": 2, "in_a_poor_year": false}}'
    assert told in text
    (read,) = read_plan_text(text, "p.json").plan.goals
    assert read == SCORE
    assert said(read) == "1 of 2 yearly targets met in full"
    (unknown,) = read_plan_text(text.replace("household-yield", "of-later"), "p.json").plan.goals
    assert (unknown.lost, unknown.reached, said(unknown)) == (1204, None, "")
    assert refused(text.replace('"met": 1', '"met": "most"'))[0].endswith("the figures are not those of the goal")


def test_a_file_of_before_says_what_goals_reach_in_its_own_words() -> None:
    text = plan_text(PLAN).replace('"goals": []', '"goals": [{"goal": "empty-ground", "lost": 3, "sentence": "bare"}]')
    plan = read_plan_text(text, "p.json").plan
    assert [said(goal) for goal in plan.goals] == ["bare"]
    assert read_plan_text(plan_text(plan), "p.json").plan == plan


def test_plan_is_not_overwritten_unasked(tmp_path: Path) -> None:
    file = tmp_path / "p.json"
    write_plan(PLAN, file, overwrite=False)
    with pytest.raises(FileTrouble, match="is there already"):
        write_plan(PLAN, file, overwrite=False)


def test_broken_json_names_line_and_column() -> None:
    assert refused('{"format": 1,\n "made_by" "x"}') == [
        "p.json:2:12: the file is not a whole plan: a colon is missing before this place - or a quote or bracket is"
    ]
    assert refused(plan_text(PLAN)[:-20])[0].startswith("p.json:")


def test_newer_format_names_what_is_needed() -> None:
    assert refused(plan_text(PLAN).replace('"format": 1', '"format": 7')) == [
        "p.json:2:12: this plan is written in format 7; this rotasolve reads format 1 - use a newer rotasolve"
    ]


def test_wrong_fields_come_all_at_once_with_their_path() -> None:
    text = plan_text(PLAN).replace('"rows": 2', '"rows": "2"').replace('"crop": ', '"corp": ')
    assert refused(text) == [
        "p.json:9:3: plantings[0].crop is missing - add 'crop' to it",
        "p.json:9:38: plantings[0].corp is not a field known here - did you mean 'crop'?",
        "p.json:9:193: plantings[0].rows: 'rows' must be a whole number, not '2' - write 2 without quotes",
    ]


@pytest.mark.parametrize(
    ("text", "place"),
    [
        ("[]", (1, 1)),
        ("1", (1, 1)),
        ("null", (1, 1)),
        ('"x"', (1, 1)),
        ("[" * 100_000, (1, 31)),
        ('{"plantings": ' + "[" * 900 + "]" * 900 + "}", (1, 44)),
        ("1" * 5000, (1, 1)),
        ('{"years":\n ' + "1" * 5000 + "}", (2, 2)),
    ],
)
def test_other_json_is_no_plan(text: str, place: tuple[int, int]) -> None:
    assert re.match(rf"p\.json:{place[0]}:{place[1]}: .* plan\b", refused(text)[0])


@given(st.text(max_size=100) | st.recursive(st.none() | st.integers(), st.lists).map(str))
def test_any_text_is_refused(text: str) -> None:
    assert refused(text)
