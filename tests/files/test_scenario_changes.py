"""Changes told in lines: what the file then says, and that nothing else in it has moved."""

from __future__ import annotations

import difflib
from datetime import date
from typing import Any

import pytest

from rotasolve.domain.catalogue import Catalogue
from rotasolve.domain.scenario import Scenario
from rotasolve.errors import FileTrouble, GardenFault, InputFault, RotasolveError
from rotasolve.files.change_ground import KINDS
from rotasolve.files.crops import load_catalogue
from rotasolve.files.scenario_changes import TAKEN_OUT, WORDS, changed_by_lines
from rotasolve.files.scenarios import read_scenario_text
from rotasolve.files.yaml_edits import Add, Put, Take, edited

TODAY = date(2026, 11, 28)
BLOCK = """\
# My plot.
format: 1
title: Plot   # a name
site:
  latitude: 52.5
  last_frost: {half: 5 May}
  first_frost: {half: 15 October}
first_year: 2027
years: 3
beds:
  - name: gate bed   # by the gate
    length: 4 m
    width: 1.2 m
  # the long one
  - {name: long bed, length: 6 m, width: 1.2 m, diseases: [onion white rot]}
household:
  people: 2
  # what we like
  targets:
    - crop: kale
      kg: 3   # last year 2
    - {crop: potato, kg: 20, weight: 4}
history:
  - {bed: gate bed, crop: onion, year: 2026}
# the end
"""
BARE = """\
format: 1
title: Plot
site: {latitude: 52.5, last_frost: {half: 5 May}, first_frost: {half: 15 October}}
first_year: 2027
years: 3
beds: [{name: gate bed, length: 4 m, width: 1.2 m}, {name: long bed, length: 6 m, width: 1.2 m}]
household: {people: 2, targets: [{crop: kale, kg: 3}]}
"""


@pytest.fixture(scope="module")
def catalogue() -> Catalogue:
    return load_catalogue()


def changed(text: str, catalogue: Catalogue, *lines: str) -> tuple[str, Scenario]:
    after = changed_by_lines(text, "g.yaml", lines, catalogue, TODAY)
    return after, read_scenario_text(after, "g.yaml", catalogue)


CASES: tuple[tuple[str, Any, Any], ...] = (
    ("bed gate bed: 5 x 1.2 m, e-w, cold frame", lambda s: (s.beds[0].length, s.beds[0].runs, s.beds[0].cover), None),
    ("bed gate bed: cold frame", lambda s: (s.beds[0].length, s.beds[0].cover), (400, "cold frame")),
    ("bed herbs: 2 x 1 m, clubroot", lambda s: (s.beds[2].name, s.beds[2].diseases), ("herbs", ("clubroot",))),
    ("wish kale 5 kg", lambda s: s.household.targets[0].kg, 5),
    ("wish kale 12 plants", lambda s: [(t.crop, t.plants) for t in s.household.targets][-1], ("kale", 12)),
    ("wish kale October-March", lambda s: (s.household.targets[0].kg, s.household.targets[0].fresh_to), (3, 3)),
    ("wish carrot, a little leek", lambda s: [(e.crop, e.how_much) for e in s.household.eats], None),
    ("wish kale 4 kg weight 5", lambda s: (s.household.targets[0].kg, s.household.targets[0].weight), (4, 5)),
    ("wish pea 3 kg", lambda s: s.household.targets[-1].crop, "pea"),
    ("no wish kale", lambda s: [t.crop for t in s.household.targets].count("kale"), 0),
    ("grew long bed: 2026 potato; 2025 pea", lambda s: [(p.crop, p.year) for p in s.past_in("long bed")], None),
    ("must have 10 leek in gate bed", lambda s: (s.household.must_have[0].plants, s.household.must_have[0].bed), None),
    ("must have 2.5 kg kale in 2028", lambda s: (s.household.must_have[0].kg, s.household.must_have[0].year), None),
    ("allow phacelia, winter rye", lambda s: s.also_allowed, ("phacelia", "winter rye")),
    ("disease gate bed: clubroot", lambda s: s.beds[0].diseases, ("clubroot",)),
    ("manure gate bed: 12 October 2026", lambda s: s.manure[0].spread, date(2026, 10, 12)),
    ("closed gate bed: 1/5/2027 to 1 June 2027", lambda s: (s.closed[0].since, s.closed[0].until), None),
    (
        "stands gate bed: garlic since 15 October 2026 until 20 July 2027",
        lambda s: s.pinned[0].start,
        date(2026, 10, 15),
    ),
    ("place gate bed: east 2 m, north 0 m", lambda s: (s.beds[0].east, s.beds[0].north), (200, 0)),
    ("people 4", lambda s: s.household.people, 4),
    ("years 2", lambda s: s.years, 2),
    ("first year 2028", lambda s: s.first_year, 2028),
    ("risk cautious", lambda s: s.site.risk, "cautious"),
    ("units inches", lambda s: s.units, "inches"),
    ("surplus welcome", lambda s: s.household.surplus, "welcome"),
    ("count in meals", lambda s: s.household.count_in, "meals"),
    ("meet targets at low yield", lambda s: s.household.meet_targets_at, "low yield"),
    ("rule few plantings: much", lambda s: s.rules.few_plantings, "much"),
    ("rule family_gap 3", lambda s: s.rules.family_gap, 3),
    ("rule least_sun false", lambda s: s.rules.least_sun, False),
    ("hedge north: 10 x 0.6 m, 2 m high, e-w, east 0 m, north 8 m", lambda s: s.obstacles[0].breadth_cm, 1000),
    ("fence side: 10 x 0.1 m, 1.8 m high, n-s, east 9 m, north 0 m", lambda s: s.obstacles[0].depth_cm, 1000),
    ("wall back: 6 x 0.3 m, 2 m high, east 0 m, north 9 m", lambda s: s.obstacles[0].height, 200),
    ("shed tools: 3 x 2 m, 2.2 m high, east -4 m, north 0 m", lambda s: s.obstacles[0].east, -400),
    ("tree apple: 4 m across, 5 m high, east 3 m, north 9 m", lambda s: s.obstacles[0].diameter, 400),
    ("title The old plot: new", lambda s: s.title, "The old plot: new"),
)
VALUES: dict[str, Any] = {
    "bed gate bed: 5 x 1.2 m, e-w, cold frame": (500, "east-west", "cold frame"),
    "wish carrot, a little leek": [("carrot", "usual"), ("leek", "little")],
    "grew long bed: 2026 potato; 2025 pea": [("potato", 2026), ("pea", 2025)],
    "must have 10 leek in gate bed": (10, "gate bed"),
    "must have 2.5 kg kale in 2028": (2.5, 2028),
    "closed gate bed: 1/5/2027 to 1 June 2027": (date(2027, 5, 1), date(2027, 6, 1)),
}


@pytest.mark.parametrize("text", [BLOCK, BARE, BLOCK.replace("\n", "\r\n")], ids=["block", "brackets", "crlf"])
@pytest.mark.parametrize(("line", "of", "value"), CASES, ids=[case[0] for case in CASES])
def test_a_line_says_what_the_file_then_says(text: str, line: str, of: Any, value: Any, catalogue: Catalogue) -> None:
    after, scenario = changed(text, catalogue, line)
    assert of(scenario) == VALUES.get(line, value)
    lost = [one[2:] for one in difflib.ndiff(text.splitlines(), after.splitlines()) if one.startswith("- ")]
    assert len(lost) <= 2, lost
    comments = [one.partition("#")[2] for one in text.splitlines() if "#" in one and "kg: 3" not in one]
    assert [one for one in comments if one not in after] == []


def test_every_word_has_a_case() -> None:
    told = [case[0] for case in CASES]
    assert {word for word in WORDS if not any(line.startswith(word) for line in told)} == set()


def test_what_was_told_can_be_taken_out(catalogue: Catalogue) -> None:
    assert set(TAKEN_OUT) == {"wish", "grew", "bed", *KINDS}
    tree = "tree old apple: 4 m across, 5 m high, east 3 m, north 9 m"
    assert changed(BLOCK, catalogue, tree, "no tree old apple")[1].obstacles == ()
    _, scenario = changed(BLOCK, catalogue, "no grew gate bed: 2026 onion", "no bed gate bed", "no wish potato")
    assert scenario.history == ()
    assert [bed.name for bed in scenario.beds] == ["long bed"]
    assert [target.crop for target in scenario.household.targets] == ["kale"]
    with pytest.raises(GardenFault, match="named under 'history'"):
        changed(BLOCK, catalogue, "no bed gate bed")
    with pytest.raises(GardenFault, match="there is no wish for leek"):
        changed(BLOCK, catalogue, "no wish leek")


def test_a_change_and_its_reverse_leave_the_text_as_it_was(catalogue: Catalogue) -> None:
    for there, back in (("people 4", "people 2"), ("wish kale 5 kg", "wish kale 3 kg"), ("years 1", "years 3")):
        assert changed(BLOCK, catalogue, there, back)[0] == BLOCK
    there, back = "grew gate bed: 2025 pea", "no grew gate bed: 2025 pea"
    assert changed(BLOCK, catalogue, there, back)[0] == BLOCK


@pytest.mark.parametrize(
    ("line", "error", "words"),
    [
        ("wsh kale 5 kg", GardenFault, "did you mean 'wish'"),
        ("bed gate bd: cold frame", GardenFault, "needs a name and its size"),
        ("wish carott 5 kg, leeek 2 kg", GardenFault, "'carrot'.*\n?.*'leek'"),
        ("disease gate bed: rot", InputFault, "the disease 'rot' is not known"),
        ("years 30", InputFault, "at most 10"),
        ("closed gate bed: whenever", GardenFault, "names no day"),
        ("rule few plantngs: much", GardenFault, "did you mean 'few plantings'"),
        ("tree apple: 4 m high", GardenFault, "4 m across, 5 m high"),
        ("risk daring", InputFault, "cautious"),
        ("grew far bed: pea", GardenFault, "there is no bed 'far bed'"),
    ],
)
def test_what_cannot_be_is_refused(line: str, error: type[RotasolveError], words: str, catalogue: Catalogue) -> None:
    with pytest.raises(error, match=f"(?s){words}"):
        changed(BLOCK, catalogue, line)


def test_an_unusual_text_is_left_alone_and_the_message_says_what_to_do() -> None:
    with pytest.raises(FileTrouble, match="by hand: set people of household to 4"):
        edited("household: {}\n", "g.yaml", [Put(("household", "people"), 4)])
    assert (
        edited("a: [1, 2]\n", "g", [Add(("a",), "three words here"), Take(("a",), 0)]) == "a: [2, three words here]\n"
    )
