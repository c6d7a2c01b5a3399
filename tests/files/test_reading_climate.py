"""A climate in a scenario: read, refused with its place, and told about."""

from __future__ import annotations

import pytest

from rotasolve.errors import InputFault
from rotasolve.files.crops import load_catalogue
from rotasolve.files.scenarios import read_scenario_text, scenario_hash, warnings_of

CATALOGUE = load_catalogue()
TEXT = """\
format: 1
title: A mild corner
site:
  latitude: 52
  climate:
    mean_minima_c: [1, 1, 2, 4, 7, 10, 12, 12, 10, 7, 4, 2]
    mean_maxima_c: [7, 8, 11, 14, 17, 20, 23, 22, 19, 15, 10, 8]
first_year: 2027
beds:
  - {name: bed, length: 3 m, width: 1.2 m}
household:
  targets:
    - {crop: tomato, kg: 3}
"""


def faults(text: str) -> list[str]:
    with pytest.raises(InputFault) as refusal:
        read_scenario_text(text, "g.yaml", CATALOGUE)
    return [str(fault) for fault in refusal.value.faults]


def test_frost_dates_may_be_left_out_with_a_climate() -> None:
    scenario = read_scenario_text(TEXT, "g.yaml", CATALOGUE)
    assert scenario.site.last_frost is None
    told = [warning for warning in warnings_of(scenario, CATALOGUE) if "worked out from the mean nights" in warning]
    assert len(told) == 2
    assert told[0].startswith("The last frost is worked out from the mean nights: about ")


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        (
            "[1, 1, 2, 4, 7, 10, 12, 12, 10, 7, 4, 2]",
            "[1, 2]",
            "g.yaml:6:20: 'mean_minima_c' needs at least 12 entries",
        ),
        (
            "[1, 1, 2,",
            "[9, 1, 2,",
            "g.yaml:6:5: 'climate': the mean minimum of January, 9 degC, is not below its mean ",
        ),
        ("[7, 8, 11,", "[7, 80, 11,", "g.yaml:7:24: entry 2 of 'mean_maxima_c' must be at most 60"),
        ("mean_maxima_c", "mean_maximum_c", "g.yaml:7:5: 'mean_maximum_c' is not a field known here - did you mean"),
    ],
)
def test_faults_are_told_with_their_place(old: str, new: str, told: str) -> None:
    found = faults(TEXT.replace(old, new, 1))
    assert len(found) == 1, found
    assert found[0].startswith(told)


def test_a_site_with_neither_frost_nor_climate_lacks_both_dates() -> None:
    lines = TEXT.splitlines(keepends=True)
    found = faults("".join(lines[:4] + lines[7:]))
    assert [fault.split(": ", 1)[1] for fault in found] == [
        "'site' has no 'last_frost' - add a line 'last_frost: ...'",
        "'site' has no 'first_frost' - add a line 'first_frost: ...'",
    ]


def test_a_frost_free_climate_must_give_dates() -> None:
    warm = TEXT.replace("[1, 1, 2, 4, 7, 10, 12, 12, 10, 7, 4, 2]", "[16, 16, 17, 17, 18, 19, 20, 20, 19, 18, 17, 16]")
    warm = warm.replace(
        "[7, 8, 11, 14, 17, 20, 23, 22, 19, 15, 10, 8]", "[26, 26, 27, 28, 29, 30, 31, 31, 30, 29, 27, 26]"
    )
    (found,) = faults(warm)
    assert "no frost dates can be worked out from the climate: nights hardly ever freeze here" in found
    assert found.endswith("give last_frost and first_frost")
    dates = "  last_frost: {half: 2 February}\n  first_frost: {half: 20 December}\n"
    assert read_scenario_text(warm.replace("  climate:", dates + "  climate:"), "g.yaml", CATALOGUE)


def test_the_hash_of_a_scenario_without_a_climate_is_what_it_was() -> None:
    # Written by 0.1.0 before sites had a climate.
    lines = TEXT.splitlines(keepends=True)
    dates = "  last_frost: {half: 5 May}\n  first_frost: {half: 15 October}\n"
    old = "".join([*lines[:4], dates, *lines[7:]])
    told = scenario_hash(read_scenario_text(old, "g.yaml", CATALOGUE))
    assert told == "5445d97a25f5fa77"
    assert scenario_hash(read_scenario_text(TEXT, "g.yaml", CATALOGUE)) != told


def test_a_pinned_tender_crop_before_the_last_frost_is_told() -> None:
    pinned = TEXT + "pinned:\n  - {bed: bed, crop: tomato, start: 2027-04-01}\n"
    told = [one for one in warnings_of(read_scenario_text(pinned, "g.yaml", CATALOGUE), CATALOGUE) if "Pinned" in one]
    assert len(told) == 1
    assert told[0].startswith("Pinned tomato in 'bed': 1 April is ")
