"""Plan files edited by hand: each fault with its place, all at once, and what may be left out."""

from __future__ import annotations

import json
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rotasolve.domain.edits import sealed
from rotasolve.errors import InputFault
from rotasolve.files.document import TextPlace
from rotasolve.files.json_places import json_document
from rotasolve.files.plan_checks import checked_plan, sensible_part
from rotasolve.files.plans import plan_text, read_plan_text
from rotasolve.referee import blank_plan
from tests.helpers.tiny import CATALOGUE, bed, planting, scenario

PLACE = scenario(["lettuce", "kale"], [bed("gate bed", 2), bed("wall bed", 3)])
LETTUCE = planting("lettuce", (1,), "2027-05-08", "2027-07-31", "2027-07-07", bed="gate bed")
KALE = planting("kale", (1, 2), "2027-08-01", "2027-09-30", "2027-09-20", bed="wall bed")
PLAN = sealed(blank_plan(PLACE, (LETTUCE, KALE)))
TEXT = plan_text(PLAN)
LEAVES = st.none() | st.booleans() | st.integers() | st.text(max_size=5)


def faults(text: str) -> list[str]:
    with pytest.raises(InputFault) as refusal:
        checked_plan(read_plan_text(text, "p.json"), PLACE, CATALOGUE)
    return [str(fault) for fault in refusal.value.faults]


def changed(**plantings: dict[str, Any]) -> str:
    """Return the file with fields of plantings ``a`` and ``b`` changed, None taking one out."""
    data = json.loads(TEXT)
    for name, fields in plantings.items():
        record = data["plantings"]["ab".index(name)]
        record.update(fields)
        for key in [key for key, value in fields.items() if value is None]:
            del record[key]
    lines = ",\n".join(f"  {json.dumps(record)}" for record in data.pop("plantings"))
    return json.dumps(data)[:-1] + f',\n "plantings": [\n{lines}\n]}}\n'


def test_one_planting_stands_on_a_line_and_comes_back_the_same_to_the_byte() -> None:
    lines = TEXT.splitlines()
    assert lines[8].startswith('  {"bed": "gate bed", "strips": [1], "crop": "lettuce", "way": "sown in place"')
    assert lines[9].startswith('  {"bed": "wall bed"')
    assert plan_text(read_plan_text(TEXT, "p.json").plan) == TEXT


def test_an_old_file_with_a_value_a_line_is_read_and_stays_without_digests() -> None:
    old = PLAN.model_copy(update={"written": None})
    text = old.model_dump_json(indent=1) + "\n"
    assert read_plan_text(text, "p.json").plan == old
    assert "written" not in plan_text(read_plan_text(text, "p.json").plan)
    assert "kept" not in plan_text(old)


def test_all_that_the_scenario_has_no_room_for_is_told_at_once() -> None:
    text = changed(
        a={"bed": "gate bett", "crop": "letuce", "start": "2031-05-08"},
        b={"strips": [3, 4, 3], "way": "set out", "clear": "2027-07-01"},
    )
    told = faults(text)
    assert [fault.split(": ", 1)[1] for fault in told] == [
        "there is no bed 'gate bett' in this scenario - did you mean 'gate bed'?",
        "the crop 'letuce' is not known - did you mean 'lettuce'?",
        "8 May 2031 lies outside the planned years, 2027 to 2027 - write a day within them; what stood before belongs "
        "into the scenario's history",
        "cleared on 31 July 2027, before it is started on 8 May 2031 - write a later day, or take 'clear' out to have "
        "it worked out",
        "bed 'wall bed' has strips 1 to 3, not 4 - name strips of the bed, each once",
        "strip 3 is named twice - name strips of the bed, each once",
        "kale is never set out - write 'sown in place'",
        "cleared on 1 July 2027, before it is started on 1 August 2027 - write a later day, or take 'clear' out to "
        "have it worked out",
    ]
    lines = text.splitlines()
    for fault in told:
        _, line, column, _ = fault.split(":", 3)
        assert lines[int(line) - 1][int(column) - 1] in '"34'


@pytest.mark.parametrize(
    ("old", "new", "what"),
    [
        ('"plants": 4', '"plants": "four"', "plantings[0].plants: 'plants' must be a whole number, not 'four'"),
        ('"plants": 4', '"plants": 0', "plantings[0].plants: 'plants' must be at least 1, not 0"),
        ('"strips": [1]', '"strips": 1', "plantings[0].strips: 'strips' must be a list, not"),
        ('"strips": [1]', '"strips": []', "plantings[0].strips"),
        ('"start": "2027-05-08"', '"start": "2027-02-30"', "plantings[0].start: 'start': '2027-02-30' is not a date"),
        ('"bed": "gate bed", ', "", "plantings[0].bed is missing"),
        ('"crop": "lettuce"', '"corp": "lettuce"', "plantings[0].crop is missing"),
    ],
)
def test_a_value_that_cannot_be_is_told_with_its_place(old: str, new: str, what: str) -> None:
    told = faults(TEXT.replace(old, new, 1))
    assert told[0].startswith("p.json:9:")
    assert what in told[0]


@pytest.mark.parametrize(
    ("old", "new", "place", "what"),
    [
        # The last planting was taken out and the comma before it stayed.
        (TEXT.splitlines()[9] + "\n", "", "", "something is missing or too much here"),
        ('},\n  {"bed": "wall bed"', '}\n  {"bed": "wall bed"', "10:3", "a comma is missing before this place"),
        ('"crop": "kale"', '"crop" "kale"', "10:48", "a colon is missing before this place"),
        ('"crop": "kale"', '"crop": "kale', "10:", "a comma is missing before this place"),
        ("\n}\n", "\n", "20:1", "it ends too soon"),
        ("\n}\n", "\n}}\n", "20:2", "it goes on behind its last bracket"),
    ],
)
def test_broken_json_says_what_an_editor_may_have_done(old: str, new: str, place: str, what: str) -> None:
    (told,) = faults(TEXT.replace(old, new))
    assert told.startswith(f"p.json:{place}")
    assert what in told


def test_two_plantings_run_into_one_are_told() -> None:
    (told, *_) = faults(TEXT.replace('},\n  {"bed": "wall bed"', ',\n  "bed": "wall bed"'))
    assert told == (
        "p.json:10:3: 'bed' is written twice - keep one of the two; a planting of its own needs braces of its own"
    )


def test_the_same_planting_twice_is_told() -> None:
    told = faults(TEXT.replace('  {"bed": "wall bed"', TEXT.splitlines()[8] + '\n  {"bed": "wall bed"'))
    assert told == ["p.json:10:3: the same planting stands in line 9 already - remove one of them"]


def test_what_follows_may_be_left_out_in_a_file() -> None:
    text = changed(b={"way": None, "clear": None, "rows": None, "plants": None, "harvest": None})
    file = checked_plan(read_plan_text(text, "p.json"), PLACE, CATALOGUE)
    assert file.left_out == {1: {"way", "clear", "rows", "plants", "harvest"}}
    assert file.place_of(1) == "p.json:4:3"


def test_of_another_scenario_what_makes_sense_is_taken_over() -> None:
    other = scenario(["kale"], [bed("wall bed", 2)], 2)
    file, told = sensible_part(read_plan_text(TEXT, "p.json"), other, CATALOGUE)
    assert [p.crop for p in file.plan.plantings] == ["kale"]
    assert (file.plan.first_year, file.plan.years) == (2027, 2)
    assert told == ("left out, p.json:9:11: there is no bed 'gate bed' in this scenario",)
    with pytest.raises(InputFault, match="the plan covers 1 years from 2027, the scenario 2 from 2027"):
        checked_plan(read_plan_text(TEXT, "p.json"), other, CATALOGUE)


@settings(max_examples=200, deadline=None, derandomize=True, database=None)
@given(st.recursive(LEAVES, lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=4), inner)))
def test_every_value_of_any_json_is_found_at_its_place(data: Any) -> None:
    text = json.dumps(data, indent=1, ensure_ascii=False)
    document = json_document(text, "x.json")
    starts = [0]
    for line in text.split("\n"):
        starts.append(starts[-1] + len(line) + 1)
    for path, place in document.values.items():
        at = starts[place.line - 1] + place.column - 1
        assert json.JSONDecoder().raw_decode(text, at)[0] == document.at(path)
    assert document.values[()] == TextPlace(1, 1)
