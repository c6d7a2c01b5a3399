"""A scenario's own figures and own crops: read beside the published ones, faults with line and column."""

from __future__ import annotations

from pathlib import Path

import pytest

from rotasolve.domain.catalogue import Catalogue
from rotasolve.domain.scenario import Scenario
from rotasolve.errors import InputFault
from rotasolve.files.scenarios import read_with_catalogue, scenario_hash
from rotasolve.relations.season.growing import growing
from rotasolve.relations.season.windows import windows_of_year

GARDEN = """\
format: 1
title: Own figures
site:
  latitude: 51.8
  last_frost: {half: 2 May, safe: 18 May}
  first_frost: {half: 18 October}
first_year: 2027
years: 1
beds:
  - {name: left bed, length: 3 m, width: 1.2 m}
household:
  targets:
    - {crop: tomato, kg: 6}
"""
OCA = """\
crops:
  - name: oca
    species: Oxalis tuberosa
    family: Oxalidaceae
    hardiness: {level: tender, source: memory}
    height: {value: 30, unit: cm, source: memory}
    spacing_in_row: {value: 30, unit: cm, source: memory}
    spacing_between_rows: {value: 60, unit: cm, source: memory}
    starts:
      - way: sown in place
        earliest: {value: 0, unit: weeks after last frost, source: memory}
        latest: {value: 3, unit: weeks after last frost, source: memory}
        days_to_harvest: {value: 180, unit: days, source: memory}
    harvest_weeks: {value: 3, unit: weeks, source: memory}
    yield_per_plant: {value: 0.5, unit: kg per plant, source: memory}
families: [{name: Oxalidaceae, common_name: sorrels, source: memory}]
"""


def read(folder: Path, more: str) -> tuple[Scenario, Catalogue]:
    file = folder / "own.yaml"
    file.write_text(GARDEN + more, encoding="utf-8")
    return read_with_catalogue(file)


def faults(folder: Path, more: str) -> list[str]:
    with pytest.raises(InputFault) as refusal:
        read(folder, more)
    return [str(fault).removeprefix(f"{folder}/") for fault in refusal.value.faults]


def test_a_number_or_a_length_is_a_figure_of_the_grower(tmp_path: Path) -> None:
    more = "crops:\n  - {name: Carrots, spacing_in_row: 12 cm, standing_weeks: 9, yield_per_area: 2.5}\n"
    carrot = read(tmp_path, more)[1].crop("carrot")
    assert (carrot.spacing_in_row.usual, carrot.spacing_in_row.unit, carrot.spacing_in_row.source) == (
        12,
        "cm",
        ("own",),
    )
    assert carrot.standing_weeks is not None
    assert carrot.standing_weeks.usual == 9
    # A yield of another kind takes the place of the published one.
    assert carrot.yield_per_area is not None
    assert (carrot.yield_per_area.usual, carrot.yield_per_row) == (2.5, None)
    published = read(tmp_path, "")[1].crop("carrot")
    assert carrot.spacing_between_rows == published.spacing_between_rows
    assert carrot.starts == published.starts


def test_own_days_are_days_of_this_garden(tmp_path: Path) -> None:
    scenario, catalogue = read(tmp_path, "crops:\n  - {name: tomato, days_to_harvest: 60}\n")
    tomato, bare = catalogue.crop("tomato"), catalogue.cover("open ground")
    (start,) = [one for one in tomato.starts if one.days_to_harvest.source == ("own",)]
    first = windows_of_year(tomato, start, bare, scenario.site, 2027)[0].earliest
    assert growing(tomato, start, bare, scenario.site).days_until_ripe(first) == pytest.approx(60, abs=1)
    assert start.days_to_harvest.note == "60 days in this garden"


def test_own_days_go_to_the_start_that_is_meant(tmp_path: Path) -> None:
    # Published: onion sets of spring about 110 days, seedlings 120, sets of autumn 255.
    def own_of(more: str) -> list[int]:
        onion = read(tmp_path, more)[1].crop("onion")
        return [nth for nth, start in enumerate(onion.starts) if start.days_to_harvest.source == ("own",)]

    assert own_of("crops:\n  - {name: onion, days_to_harvest: 240}\n") == [2]
    assert own_of("crops:\n  - {name: onion, days_to_harvest: 100}\n") == [0]
    assert own_of("crops:\n  - {name: onion, days_to_harvest: 100, way: set out}\n") == [1]


def test_a_crop_like_another_one_takes_its_figures(tmp_path: Path) -> None:
    more = "crops:\n  - {name: mashua, like: potatoes, species: Tropaeolum tuberosum, height: 150 cm}\n"
    _, catalogue = read(tmp_path, more)
    mashua, potato = catalogue.crop("mashua"), catalogue.crop("potato")
    assert (mashua.height.usual, mashua.also) == (150, ())
    assert mashua.starts == potato.starts
    assert catalogue.crop("potato") == read(tmp_path, "")[1].crop("potato")


def test_a_whole_crop_in_the_scenario_or_in_a_file_it_names(tmp_path: Path) -> None:
    (tmp_path / "oca.yaml").write_text(OCA, encoding="utf-8")
    wishes = GARDEN.replace("crop: tomato", "crop: oca")
    file = tmp_path / "own.yaml"
    file.write_text(wishes + "crop_files: [oca.yaml]\n", encoding="utf-8")
    scenario, catalogue = read_with_catalogue(file)
    assert scenario.household.targets[0].crop == catalogue.crop("oca").name
    here = OCA.replace("Oxalidaceae", "Solanaceae").partition("families")[0]
    file.write_text(wishes + here, encoding="utf-8")
    assert read_with_catalogue(file)[1].crop("oca").spacing_in_row.usual == 30


def test_what_is_wrong_is_told_at_its_place(tmp_path: Path) -> None:
    assert faults(tmp_path, "crops:\n  - {name: tomato, spacing_in_row: 12}\n") == [
        "own.yaml:15:36: 'spacing_in_row': a length needs a unit, and 12 has none - write a number with its unit, "
        "such as 30 cm, 1.2 m, 6 in or 4 ft"
    ]
    assert faults(tmp_path, "crops:\n  - {name: tomato, days_to_harvest: soon}\n") == [
        "own.yaml:15:37: 'days_to_harvest': 'soon' is not a number - write the number of days alone, such as 3 or 0.5"
    ]
    assert faults(tmp_path, "crops:\n  - {name: mashua, like: potatoe}\n") == [
        "own.yaml:15:26: the crop 'potatoe' is not known - did you mean 'potato'?"
    ]
    assert faults(tmp_path, "crops:\n  - {name: tomato, way: sown in water, days_to_harvest: 70}\n") == [
        "own.yaml:15:25: the crop is never started as 'sown in water' - write 'set out'"
    ]
    assert faults(tmp_path, "crops:\n  - {name: tomato, spacng_in_row: 12 cm}\n") == [
        "own.yaml:15:20: 'spacng_in_row' is not a field known here - did you mean 'spacing_in_row'?"
    ]
    assert faults(tmp_path, "crops:\n  - {name: tomato, height: -5 cm}\n")[0].startswith("own.yaml:15:")
    assert faults(tmp_path, "crop_files: [here.yaml]\n") == [
        "own.yaml:14:14: there is no file 'here.yaml' beside the scenario - write its name as it is there"
    ]
    assert "'mashua'" not in faults(tmp_path, "crops:\n  - {name: mashua}\n")[0]
    twice = "crops:\n  - {name: tomato, height: 2 m}\n  - {name: Tomatoes, height: 1 m}\n"
    assert faults(tmp_path, twice) == [
        "own.yaml:16:12: 'tomato' is written twice in 'crops', first in line 15 - keep one of the two"
    ]


def test_own_figures_change_the_hash_and_their_absence_does_not(tmp_path: Path) -> None:
    bare, _ = read(tmp_path, "")
    own, _ = read(tmp_path, "crops:\n  - {name: tomato, height: 2 m}\n")
    assert scenario_hash(bare) != scenario_hash(own)
    assert "crops" not in bare.model_dump()
    assert bare.model_dump()["title"] == "Own figures"
