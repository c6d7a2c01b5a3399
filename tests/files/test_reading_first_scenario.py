from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rotasolve.domain.catalogue import Catalogue
from rotasolve.files.first_scenario import Answers, BedAnswer, ClimateAnswer, FrostAnswer, scenario_text
from rotasolve.files.scenarios import read_scenario_text, warnings_of

ANSWERS = Answers(
    title="My garden",
    latitude=-37.75,
    last_frost=FrostAnswer("10 October"),
    first_frost=FrostAnswer("25 April", "11 April"),
    first_year=2027,
    years=2,
    people=3,
    beds=(BedAnswer("Bed 1", "4 m", "1.2 m"), BedAnswer("Frame", "6 ft 6 in", '4"', "east-west", "cold frame")),
    targets=(
        {"crop": "tomato", "kg": 20},
        {"crop": "zucchini", "kg": 2.5, "fresh_from": "December", "fresh_to": "March"},
    ),
    grew=(("Frame", "tomato", 2026),),
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
    assert scenario.household.targets[1].fresh_months == (12, 1, 2, 3)
    assert [(past.bed, past.crop, past.year) for past in scenario.history] == [("Frame", "tomato", 2026)]
    assert scenario.site.first_frost is not None
    assert scenario.site.first_frost.safe == (4, 11)


def test_first_scenario_without_people_and_crops_is_read(small: Catalogue) -> None:
    answers = replace(ANSWERS, people=None, targets=(), grew=(), beds=ANSWERS.beds[:1])
    assert read_scenario_text(scenario_text(answers), "g.yaml", small).household.targets == ()


def test_a_climate_stands_in_for_frost_dates(small: Catalogue) -> None:
    nights, days = (0, 0, 1, 3, 6, 9, 11, 11, 8, 5, 2, 0), (6, 7, 9, 13, 16, 20, 22, 21, 18, 13, 9, 6)
    climate = ClimateAnswer(nights, days, tuple(range(40, 52)))
    answers = replace(
        ANSWERS, latitude=53, last_frost=None, first_frost=None, climate=climate, beds=ANSWERS.beds[:1], grew=()
    )
    site = read_scenario_text(scenario_text(answers), "g.yaml", small).site
    assert (site.last_frost, site.first_frost) == (None, None)
    assert site.climate is not None
    assert site.climate.mean_minima_c == nights
    assert site.climate.rain_mm == tuple(range(40, 52))


def names(most: int) -> st.SearchStrategy[str]:
    """Return odd names, stripped as a scenario strips them, without control characters and surrogates."""
    letters = st.characters(exclude_categories=["Cc", "Cs"])
    return (st.sampled_from(ODD) | st.text(letters, min_size=1, max_size=most)).map(str.strip).filter(bool)


@given(title=names(120), bed=names(60))
def test_odd_names_survive(small: Catalogue, title: str, bed: str) -> None:
    answers = replace(ANSWERS, title=title, beds=(BedAnswer(bed, "4 m", "1 m"),), grew=())
    scenario = read_scenario_text(scenario_text(answers), "g.yaml", small)
    assert (scenario.title, scenario.beds[0].name) == (title, bed)


@pytest.mark.parametrize("name", ODD)
def test_each_odd_name_survives(small: Catalogue, name: str) -> None:
    answers = replace(ANSWERS, title=name, beds=(BedAnswer(name, "4 m", "1 m"),), grew=())
    assert read_scenario_text(scenario_text(answers), "g.yaml", small).beds[0].name == name


def test_warnings(small: Catalogue) -> None:
    text = scenario_text(replace(ANSWERS, grew=(), beds=(BedAnswer("A", "1.2 m", "1.3 m"),))).replace("-37.75", "-9")
    text = text.replace("    cover: open", "    diseases: [wilt]\n    cover: open")
    assert list(warnings_of(read_scenario_text(text, "g.yaml", small), small)) == [
        "Bed 'A' is wider (1.3 m) than long (1.2 m): its length runs north-south; check that the two are not "
        "exchanged.",
        "Bed 'A' is closed to Solanaceae, zucchini, because wilt is in its soil.",
        "No history given: the first year is free, as if every bed had rested before.",
        "How much the last frost varies from year to year is not given: a spread (standard deviation) of 14 days is "
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
