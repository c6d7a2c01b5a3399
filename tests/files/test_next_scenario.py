"""The next year's file: the old text with its comments, and nothing changed but what the year has changed."""

from __future__ import annotations

from datetime import date

import pytest

from rotasolve.domain.scenario import PastPlanting, PinnedPlanting, RawManure, Scenario
from rotasolve.errors import FileTrouble
from rotasolve.files.crops import load_catalogue
from rotasolve.files.next_scenario import next_scenario_text
from rotasolve.files.scenarios import read_scenario_text

CATALOGUE = load_catalogue()
HEAD = """# Our garden.
format: 1
title: Two beds  # behind the house
site: {latitude: 52, last_frost: {half: 1 May}, first_frost: {half: 10 October}}
first_year: 2027   # the year of the pond
years: 2
"""
BLOCK = (
    HEAD
    + """beds:
  - {name: left bed, length: 3 m, width: 1.2 m}
  # the damp one
  - name: right bed
    length: 3 m
    width: 1.2 m
household:
  must_have:
    - {crop: kale, plants: 4, year: 2027}  # for the fair
    # every year
    - crop: leek
      plants: 6
history:
  - {bed: left bed, crop: potato, year: 2026}   # a poor year
# decided
pinned:
  - {bed: left bed, crop: garlic, start: 2027-10-10}
  - bed: right bed
    crop: leek
    start: 2028-06-01
# the end
"""
)
FLOW = (
    HEAD
    + """beds: [{name: left bed, length: 3 m, width: 1.2 m},
  {name: right bed, length: 3 m, width: 1.2 m, diseases: [clubroot]}]
household: {must_have: [{crop: kale, plants: 4, year: 2027}, {crop: leek, plants: 6}]}
history: [{bed: left bed, crop: potato, year: 2026}]
pinned: [{bed: left bed, crop: garlic, start: 2027-10-10}, {bed: right bed, crop: leek, start: 2028-06-01}]"""
)
KALE = PastPlanting(bed="right bed", crop="kale", year=2027, strips=(1, 2))
GARLIC = PinnedPlanting(
    bed="left bed", crop="garlic", start=date(2027, 10, 20), until=date(2028, 7, 15), strips=(3,), plants=20
)


def rolled(text: str) -> tuple[str, Scenario]:
    old = read_scenario_text(text, "garden.yaml", CATALOGUE)
    household = old.household.model_copy(update={"must_have": old.household.must_have[1:]})
    manure = (RawManure(bed="left bed", spread=date(2027, 11, 3)),)
    wanted = old.model_copy(
        update={
            "first_year": 2028,
            "household": household,
            "history": (*old.history, KALE),
            "pinned": (*old.pinned[1:], GARLIC),
            "manure": manure,
        }
    )
    added = {"history": (KALE,), "pinned": (GARLIC,), "manure": manure}
    gone = {("pinned",): (0,), ("household", "must_have"): (0,)}
    return next_scenario_text(text, "garden.yaml", CATALOGUE, wanted, added, gone), wanted


@pytest.mark.parametrize("text", [BLOCK, FLOW, BLOCK.replace("\n", "\r\n"), FLOW + "\n"])
def test_it_reads_as_it_should(text: str) -> None:
    new, wanted = rolled(text)
    assert read_scenario_text(new, "garden.yaml", CATALOGUE) == wanted
    assert ("\r\n" in new) == ("\r\n" in text)
    assert "\n" not in new.replace("\r\n", "") or "\r\n" not in text


def test_comments_and_order_stay() -> None:
    new, _ = rolled(BLOCK)
    for kept in (
        "# Our garden.",
        "# behind the house",
        "2028   # the year of the pond",
        "# the damp one",
        "# every year",
    ):
        assert kept in new
    assert "for the fair" not in new  # it spoke of the demand that is gone
    assert [line for line in BLOCK.splitlines() if line not in new.splitlines()] == [
        "first_year: 2027   # the year of the pond",
        "    - {crop: kale, plants: 4, year: 2027}  # for the fair",
        "  - {bed: left bed, crop: garlic, start: 2027-10-10}",
    ]
    assert "  - {bed: right bed, crop: kale, year: 2027, strips: [1, 2]}" in new
    assert "start: 2027-10-20" in new


def test_a_list_that_is_emptied_is_an_empty_list() -> None:
    only = BLOCK.replace("  - bed: right bed\n    crop: leek\n    start: 2028-06-01\n", "").replace(
        ", year: 2027}", "}"
    )
    old = read_scenario_text(only, "garden.yaml", CATALOGUE)
    wanted = old.model_copy(update={"first_year": 2028, "pinned": ()})
    new = next_scenario_text(only, "garden.yaml", CATALOGUE, wanted, {}, {("pinned",): (0,)})
    assert "pinned: []" in new


def test_what_cannot_be_changed_is_said_and_not_guessed() -> None:
    odd = BLOCK.replace("  - {bed: left bed, crop: garlic", "  -\n    {bed: left bed, crop: garlic")
    with pytest.raises(FileTrouble, match="cannot be written into this file"):
        rolled(odd)
