from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rotasolve.domain.catalogue import Catalogue
from rotasolve.files.first_scenario import Answers, BedAnswer, CropAnswer, scenario_text
from rotasolve.files.scenarios import read_scenario_text, warnings_of

ANSWERS = Answers(
    title="My garden",
    latitude=-37.75,
    last_frost="10 October",
    first_frost="25 April",
    first_year=2027,
    years=2,
    people=3,
    beds=(BedAnswer("Bed 1", "4 m", "1.2 m"), BedAnswer("Frame", "6 ft 6 in", '4"', "east-west", "cold frame")),
    crops=(CropAnswer("tomato", 20), CropAnswer("zucchini", 2.5)),
)
ODD = [
    "No",
    "#x",
    "a: b",
    "it's",
    'a "b"',
    "<script>",
    "- x",
    "*x",
    "&x",
    "!x",
    "%x",
    "0123",
    "12:30",
    "~",
    "null",
    "é畑",
]
ODD += [
    "true",
    "1.5",
    "{a}",
    "[b]",
    "x #y",
    "\\n",
    "|",
    ">",
    "@x",
    "`x",
    "?",
    "a:",
    "=",
    "<<",
    "...",
    "---",
    "\U0001f955",
]


def test_first_scenario_is_read_as_answered(small: Catalogue) -> None:
    answers = replace(ANSWERS, beds=(ANSWERS.beds[0], ANSWERS.beds[1]._replace(width="50 cm")))
    scenario = read_scenario_text(scenario_text(answers), "g.yaml", small)
    assert scenario.title == "My garden"
    assert scenario.site.latitude == -37.75
    assert scenario.site.last_frost is not None
    assert scenario.site.last_frost.half == (10, 10)
    assert scenario.beds[1].length == pytest.approx(198.12)
    assert scenario.beds[1].cover == "cold frame"
    assert scenario.household.people == 3
    assert [(target.crop, target.kg) for target in scenario.household.targets] == [("tomato", 20), ("zucchini", 2.5)]


def test_first_scenario_without_people_and_crops_is_read(small: Catalogue) -> None:
    answers = replace(ANSWERS, people=None, crops=(), beds=ANSWERS.beds[:1])
    assert read_scenario_text(scenario_text(answers), "g.yaml", small).household.targets == ()


def names(most: int) -> st.SearchStrategy[str]:
    """Return odd names, stripped as a scenario strips them, without control characters and surrogates."""
    letters = st.characters(exclude_categories=["Cc", "Cs"])
    return (st.sampled_from(ODD) | st.text(letters, min_size=1, max_size=most)).map(str.strip).filter(bool)


@given(title=names(120), bed=names(60))
def test_odd_names_survive(small: Catalogue, title: str, bed: str) -> None:
    answers = replace(ANSWERS, title=title, beds=(BedAnswer(bed, "4 m", "1 m"),))
    scenario = read_scenario_text(scenario_text(answers), "g.yaml", small)
    assert (scenario.title, scenario.beds[0].name) == (title, bed)


@pytest.mark.parametrize("name", ODD)
def test_each_odd_name_survives(small: Catalogue, name: str) -> None:
    answers = replace(ANSWERS, title=name, beds=(BedAnswer(name, "4 m", "1 m"),))
    assert read_scenario_text(scenario_text(answers), "g.yaml", small).beds[0].name == name


def test_warnings(small: Catalogue) -> None:
    text = scenario_text(replace(ANSWERS, beds=(BedAnswer("A", "1.2 m", "1.3 m"),))).replace("-37.75", "-9")
    text = text.replace("    cover: open", "    diseases: [wilt]\n    cover: open")
    assert list(warnings_of(read_scenario_text(text, "g.yaml", small), small)) == [
        "Bed 'A' is wider (1.3 m) than long (1.2 m): its length runs north-south; check that the two are not "
        "exchanged.",
        "Bed 'A' is closed to Solanaceae, zucchini, because wilt is in its soil.",
        "No history given: the first year is free, as if every bed had rested before.",
        "How much the last frost varies from year to year is not given: a spread (standard deviation) of 14 days is "
        "assumed.",
        "How much the first frost varies from year to year is not given: a spread (standard deviation) of 14 days is "
        "assumed.",
        "Between the tropics (latitude -9) shade falls to both sides in the course of the year: crops are not ordered "
        "by height.",
    ]


def test_wide_bed_and_years_without_history_are_told(small: Catalogue, garden: str) -> None:
    text = garden.replace("1.2 m", "1.26 m").replace("half: 5 May", "half: 5 May\n    spread_days: 9")
    text = text.replace("half: 15 October", "half: 15 October\n    safe: 1 October")
    text += "history:\n  - {bed: Bed 1, crop: tomato, year: 2026}\n  - {bed: Bed 1, crop: tomato, year: 2025}\n"
    assert warnings_of(read_scenario_text(text, "g.yaml", small), small) == (
        "Bed 'Bed 1' is 1.26 m wide: more than can be reached from both sides (1.25 m) without stepping on it.",
        "No history given for 'Bed 2' (2025, 2026): those years count as free.",
    )
