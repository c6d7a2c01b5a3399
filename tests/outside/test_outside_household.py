"""Published amounts for people, rows and stores, against the targets and harvests of rotasolve.

The tables are copied into tests/data: feet of row per person from Vegetable Garden Planting Guide (MF-315), Kansas
State University; fresh against storage from Home Vegetable Gardening in Kentucky (ID-128), University of Kentucky (the
two share one origin: one witness, not two). 1 lb = 0.45359237 kg, 1 ft = 30.48 cm.
"""

from __future__ import annotations

import csv
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from rotasolve.domain.figure import Figure
from rotasolve.domain.household import Household
from rotasolve.files.crops import load_catalogue
from rotasolve.relations.ground.blocks import rows_in
from rotasolve.relations.household.wanted import kg_per_unit, wanted_of_household
from rotasolve.relations.season.yields import expected_harvest

if TYPE_CHECKING:
    from rotasolve.domain.catalogue import Catalogue
    from rotasolve.domain.crop import Crop
    from rotasolve.domain.figure import Unit
    from rotasolve.domain.household import Target

DATA = Path(__file__).parents[1] / "data"
POUND_KG = 0.45359237
FOOT_CM = 30.48


def _table(name: str) -> list[dict[str, str]]:
    with (DATA / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


@pytest.fixture(scope="module")
def catalogue() -> Catalogue:
    return load_catalogue()


def _figure(low: float, high: float, unit: Unit) -> Figure:
    return Figure(low=low, typical=(low + high) / 2, high=high, unit=unit, source=("memory",))


def _of_row(crop: Crop, pounds_per_foot: float) -> Crop:
    """Return the crop in rows as published, one plant to the foot, so that plants count feet of row."""
    kg = pounds_per_foot * POUND_KG / (FOOT_CM / 100)
    foot = _figure(FOOT_CM, FOOT_CM, "cm")
    row = {"spacing_in_row": foot, "spacing_between_rows": foot, "row_distance_for_yield": foot}
    none = dict.fromkeys(("yield_per_plant", "yield_per_area"))
    return crop.model_copy(update={**none, **row, "yield_per_row": _figure(kg, kg, "kg per m of row")})


def _target(crop: Crop, people: int, **eats: object) -> Target:
    household = Household.model_validate({"people": people, "eats": [{"crop": crop.name, **eats}]})
    (target,) = wanted_of_household(household, {crop.name: crop})
    return target


@pytest.mark.parametrize("row", _table("feet_per_person.csv"), ids=lambda row: row["crop"])
def test_feet_of_row_per_person_become_kilograms(row: dict[str, str], catalogue: Catalogue) -> None:
    # Bush bean: 15 to 16 ft at 120 lb per 100 ft are 18 to 19.2 lb a person, 72 to 76.8 lb for a family of four.
    crop = _of_row(catalogue.crop(row["crop"]), float(row["pounds_per_100_ft"]) / 100)
    ends = [expected_harvest(crop, int(row[end])).typical_kg for end in ("low", "high")]
    assert ends == pytest.approx([float(row["pounds_low"]) * POUND_KG, float(row["pounds_high"]) * POUND_KG], abs=0.001)
    family = _target(crop.model_copy(update={"fresh_per_person": _figure(ends[0], ends[1], "kg per person")}), people=4)
    pounds = family.kg / POUND_KG
    assert 4 * float(row["pounds_low"]) - 0.01 <= pounds <= 4 * float(row["pounds_high"]) + 0.01
    assert family.kept_share == 0


@pytest.mark.parametrize("name", ["bush bean", "carrot", "potato"])
def test_the_catalogue_holds_these_amounts(name: str, catalogue: Catalogue) -> None:
    # Beetroot is left out: its yield in the catalogue is a lower one, of another table.
    row = next(row for row in _table("feet_per_person.csv") if row["crop"] == name)
    fresh = catalogue.crop(name).fresh_per_person
    assert fresh is not None
    ends = (float(row["pounds_low"]) * POUND_KG, float(row["pounds_high"]) * POUND_KG)
    assert (fresh.least, fresh.most) == pytest.approx(ends, abs=0.01)


@pytest.mark.parametrize(("pounds", "per_foot", "feet"), [(6, 0.6, 10), (20, 2.5, 8)])
def test_a_need_in_pounds_becomes_feet_of_row(pounds: float, per_foot: float, feet: int, catalogue: Catalogue) -> None:
    # USDA Community Garden Guide, planning chart (at second hand): asparagus 6 lb at 0.6 lb per foot, 10 ft; tomato
    # 20 lb at 2.5 lb per foot, 8 ft. 2.72 kg / 0.893 kg per m = 3.05 m; 9.07 / 3.72 = 2.44 m.
    crop = _of_row(catalogue.crop("tomato"), per_foot)
    kg = pounds * POUND_KG
    target = _target(crop.model_copy(update={"fresh_per_person": _figure(kg, kg, "kg per person")}), people=1)
    each = kg_per_unit(crop, "plants")
    assert each is not None
    assert target.kg / each == pytest.approx(feet, rel=0.001)


def test_tomatoes_for_one_person_are_20_pounds(catalogue: Catalogue) -> None:
    # The same chart; the low end of the catalogue's yield is its 2.5 lb per foot, plants standing 2 ft apart.
    tomato = catalogue.crop("tomato")
    assert _target(tomato, people=1).kg == pytest.approx(20 * POUND_KG, abs=0.01)
    assert tomato.yield_per_plant is not None
    assert tomato.yield_per_plant.least == pytest.approx(2.5 * POUND_KG * 2, abs=0.01)


@pytest.mark.parametrize("row", _table("fresh_and_storage.csv"), ids=lambda row: row["crop"])
def test_what_is_kept_stands_to_what_is_fresh_as_published(row: dict[str, str], catalogue: Catalogue) -> None:
    # ID-128 prints both in feet, plants or hills a person, so their ratio is that of the kilograms.
    target = _target(catalogue.crop(row["crop"]), people=4, keep="published")
    fresh, stored = (float(row[f"{use}_low"]) + float(row[f"{use}_high"]) for use in ("fresh", "storage"))
    kept = target.kg * target.kept_share
    # Amounts in the catalogue are rounded to 10 g.
    assert kept / (target.kg - kept) == pytest.approx(stored / fresh, rel=0.02)


def test_potatoes_yield_ten_times_their_seed(catalogue: Catalogue) -> None:
    # Planting Chart for the Home Vegetable Garden, University of Maine: 5 lb of seed give 50 lb, 2 lb plant 10 ft of
    # row, so 20 lb in 10 ft = 2.98 kg per m.
    crop = _of_row(catalogue.crop("potato"), 2 / 10 * 50 / 5)
    assert expected_harvest(crop, 10).typical_kg == pytest.approx(20 * POUND_KG, abs=0.001)
    published = catalogue.crop("potato").yield_per_row
    assert published is not None
    assert published.most == pytest.approx(2.98, abs=0.01)


def test_a_hundred_strawberry_plants_for_a_family_of_four(catalogue: Catalogue) -> None:
    # UNH: 100 plants for a family of four. Minnesota, clay soils: 18 to 24 in apart, so 150 to 200 ft of row.
    assert rows_in(150 * FOOT_CM, 18 * 2.54) == rows_in(200 * FOOT_CM, 24 * 2.54) == 100
    # A target of 100 plants is their harvest: 100 times that of one, of whatever crop.
    crop = catalogue.crop("sweet pepper")
    household = Household.model_validate({"people": 4, "targets": [{"crop": crop.name, "plants": 100}]})
    (target,) = wanted_of_household(household, {crop.name: crop})
    assert target.kg == pytest.approx(expected_harvest(crop, 100).typical_kg, abs=0.01)
