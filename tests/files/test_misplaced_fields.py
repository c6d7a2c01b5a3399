"""Fields under another name or in another place: the fault says what is meant and where it goes."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from rotasolve.domain.scenario import Scenario
from rotasolve.files.field_places import OTHER_WORDS, _places

Faults = Callable[[str], list[str]]


@pytest.mark.parametrize(
    ("more", "mend"),
    [
        ("risk: cautious", "move the line: it goes under 'site'"),
        ("must_have: []", "move the line: it goes under 'household'"),
        ("family_gap: 3", "move the line: it goes under 'rules'"),
        ("height_steps_cm: [40, 90]", "move the line: it goes under 'rules'"),
        ("sun_hours: 4", "move the line: it goes into an entry of 'beds'"),
        ("persons: 4", "you mean 'people', which goes under 'household'"),
        ("past: []", "you mean 'history'"),
        ("pinned:\n  - {bed: Bed 1, crop: tomato, date: 2027-05-20}", "you mean 'start'"),
        ("pinned:\n  - {bed: Bed 1, crop: tomato, start: 2027-05-20, end: 2027-09-01}", "you mean 'until'"),
        ("manure:\n  - {bed: Bed 1, date: 2026-10-12}", "you mean 'spread'"),
        ("closed:\n  - {bed: Bed 1, since: 2027-05-20, to: 2027-06-20}", "you mean 'until'"),
        ("history:\n  - {bed: Bed 1, plant: tomato, year: 2026}", "you mean 'crop'"),
        ("history:\n  - {bed: Bed 1, crop: tomato, year: 2026, strip: [1]}", "did you mean 'strips'?"),
    ],
)
def test_a_field_elsewhere_or_by_another_word(garden: str, faults: Faults, more: str, mend: str) -> None:
    told = faults(f"{garden}{more}\n")
    assert len(told) == 1, told
    assert told[0].endswith(f"is not a field known here - {mend}")


def test_fields_of_beds_and_wishes(garden: str, faults: Faults) -> None:
    text = garden.replace("    width: 1 m", "    width: 1 m\n    direction: north-south")
    text = text.replace("      kg: 20", "      amount: 20").replace("household:", "household:\n  latitude: 52")
    assert [told.partition(" - ")[2] for told in faults(text)] == [
        "you mean 'runs'",
        "move the line: it goes under 'site'",
        "you mean 'kg'",
    ]


@pytest.mark.parametrize(
    ("entry", "mend"),
    [
        ("potato: much", "write it as crop: potato, how_much: much"),
        ("{zucchini: 3}", "write it as crop: zucchini, kg_per_person: 3"),
    ],
)
def test_a_crop_in_place_of_a_field(garden: str, faults: Faults, entry: str, mend: str) -> None:
    told = faults(garden.replace("household:", f"household:\n  people: 2\n  eats:\n    - {entry}"))
    assert len(told) == 1, told
    assert told[0].endswith(mend)


def test_other_words_lead_to_fields_that_there_are() -> None:
    fields = set().union(*(names for _, names in _places(Scenario, "", frozenset())))
    assert {meant for meanings in OTHER_WORDS.values() for meant in meanings} <= fields
