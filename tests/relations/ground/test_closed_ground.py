"""Ground that is closed when a plan begins, against rests counted by hand."""

from __future__ import annotations

from datetime import date

import pytest

from rotasolve.domain.catalogue import Catalogue
from rotasolve.domain.closed_ground import ClosedGround
from rotasolve.files.crops import load_catalogue
from rotasolve.files.scenarios import read_scenario_text
from rotasolve.relations.ground.closed_ground import closed_ground
from rotasolve.relations.ground.garden import make_garden
from rotasolve.views.words.closed_ground import say_closed

GARDEN = """\
format: 1
title: Plot
site: {latitude: 52.5, last_frost: {half: 5 May}, first_frost: {half: 15 October}}
first_year: 2027
years: 2
rules: {family_gap: 2}
beds:
  - {name: left, length: 4 m, width: 1.2 m}
  - {name: right, length: 4 m, width: 1.2 m, diseases: [clubroot], history_since: 2000}
household:
  targets: [{crop: potatoes, kg: 5}, {crop: kale, kg: 3}, {crop: carrot, kg: 3}]
history:
  - {bed: left, crop: tomato, year: 2026}
  - {bed: left, crop: carrot, year: 2024}
  - {bed: right, crop: swede, year: 2025}
"""


@pytest.fixture(scope="module")
def catalogue() -> Catalogue:
    return load_catalogue()


def closed(text: str, catalogue: Catalogue) -> tuple[ClosedGround, ...]:
    return closed_ground(make_garden(read_scenario_text(text, "g.yaml", catalogue), catalogue, exact=False))


def test_rest_and_disease_are_told_with_their_last_year(catalogue: Catalogue) -> None:
    found = {(one.group, one.bed): one for one in closed(GARDEN, catalogue)}
    # Tomato in 2026 and two complete years: nightshades again in 2029. Carrot in 2024: again in 2027, so not named.
    assert (found["Solanaceae", "left"].up_to, found["Solanaceae", "left"].crops) == (2028, ("potato",))
    assert ("Apiaceae", "left") not in found
    # Swede in 2025: brassicas again in 2028.
    assert found["Brassicaceae", "right"].up_to == 2027
    years = next(one for one in catalogue.pathogens if one.name == "clubroot")
    assert years.gap_low is not None
    club = found["clubroot", "right"]
    assert club.disease
    assert club.crops == ("kale",)
    assert club.up_to is not None
    assert club.up_to > 2027
    assert club.strips == ()


def test_it_is_said_in_one_line_each(catalogue: Catalogue) -> None:
    text = f"{GARDEN}closed:\n  - {{bed: left, since: 2027-05-01, until: 2027-06-01}}\n"
    scenario = read_scenario_text(text, "g.yaml", catalogue)
    said = [*say_closed(scenario, closed(text, catalogue))]
    last = next(one.up_to for one in closed(text, catalogue) if one.group == "clubroot")
    assert said == [
        f"Because of clubroot no kale: right up to and with {last}.",
        "Nothing at all in left from 1 May 2027 to 1 June 2027.",
        "Rest that is not over, with the last year of it: Solanaceae in left 2028; Brassicaceae in right 2027.",
    ]
    assert scenario.closed[0].since == date(2027, 5, 1)


def test_ground_closed_for_good_and_strip_by_strip(catalogue: Catalogue) -> None:
    text = GARDEN.replace("clubroot", "onion white rot").replace("{crop: kale, kg: 3}", "{crop: onion, kg: 3}")
    text = text.replace("rules: {", "rules: {rotation: strip, ").replace("year: 2026}", "year: 2026, strips: [1, 2]}")
    found = closed(text, catalogue)
    night = next(one for one in found if one.group == "Solanaceae")
    assert (night.bed, night.strips, night.up_to) == ("left", (1, 2), 2028)
    white = [one for one in found if one.group == "onion white rot"]
    assert {one.bed for one in white} == {"right"}
    said = " ".join(say_closed(read_scenario_text(text, "g.yaml", catalogue), found))
    assert "Solanaceae in left (strips 1-2) 2028" in said
    # All strips of a bed are the bed.
    assert "no onion: right for good" in said


def test_nothing_is_said_of_a_garden_without_a_past(catalogue: Catalogue) -> None:
    text = GARDEN.partition("history:")[0].replace(", diseases: [clubroot], history_since: 2000", "")
    assert closed(text, catalogue) == ()
