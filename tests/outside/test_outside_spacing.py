"""Published counts of plants: per row, per acre, per block and per hectare, against the blocks of rotasolve."""

from __future__ import annotations

import csv
import math
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from rotasolve.domain.bed import Bed
from rotasolve.domain.figure import Figure
from rotasolve.files.crops import load_catalogue
from rotasolve.relations.ground.blocks import rows_in, smallest_block

if TYPE_CHECKING:
    from rotasolve.domain.catalogue import Catalogue
    from rotasolve.domain.crop import Crop
    from rotasolve.relations.ground.blocks import Block

DATA = Path(__file__).parents[1] / "data"
INCH_CM = 2.54
FOOT_CM = 30.48


def _table(name: str) -> list[dict[str, str]]:
    with (DATA / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


PER_ROW = _table("plants_per_10_feet.csv")
PER_ACRE = _table("plants_per_acre.csv")


@pytest.fixture(scope="module")
def catalogue() -> Catalogue:
    return load_catalogue()


def _block(crop: Crop, *, breadth: str, depth: str, strip: str) -> Block | None:
    """Return the smallest block in a bed that runs from east to west."""
    bed = {"name": "a bed", "length": breadth, "width": depth, "runs": "east-west", "strip": strip, "parts": 1}
    return smallest_block(crop, Bed.model_validate(bed))


def _spaced(crop: Crop, in_row_cm: float, between_cm: float) -> Crop:
    """Return the crop at a published spacing, in as many rows as its bed has."""
    one, other = (Figure(value=cm, unit="cm", source=("memory",)) for cm in (in_row_cm, between_cm))
    return crop.model_copy(update={"spacing_in_row": one, "spacing_between_rows": other, "least_rows": None})


@pytest.mark.parametrize("row", PER_ROW, ids=lambda row: row["crop"])
def test_plants_in_ten_feet_of_row(row: dict[str, str]) -> None:
    # Florida Vegetable Gardening Guide (SP 103), University of Florida IFAS Extension, rev. 2010-2018. The guide rounds
    # to the nearest plant (melons up), a block rounds down: they may differ by one plant.
    for end, printed in (("spacing_in_high", "plants_low"), ("spacing_in_low", "plants_high")):
        spacing = float(row[end])
        here = rows_in(10 * FOOT_CM, spacing * INCH_CM)
        assert abs(here - int(row[printed])) <= 1
        # All of them find their room in 120 in, but for a fiftieth of a plant.
        assert here * spacing <= 120 + spacing / 50


OUR_ROWS_ARE_WIDER = {
    "broccoli": "18 in: other guides (24-30 in) are followed as well",
    "cabbage": "18 in: other guides (12-18 in) are followed as well",
    "bush bean": "5 in both ways: a block, not a row",
}


def test_our_own_spacings_give_the_published_counts_but_for_wider_crops(catalogue: Catalogue) -> None:
    # The same guide. A crop that comes to lie within the table leaves the list above.
    outside = set()
    for row in PER_ROW:
        here = rows_in(10 * FOOT_CM, catalogue.crop(row["crop"]).spacing_in_row.usual)
        if not int(row["plants_low"]) - 1 <= here <= int(row["plants_high"]) + 1:
            outside.add(row["crop"])
    assert outside == OUR_ROWS_ARE_WIDER.keys()


ACRE_SQUARE_INCHES = 43_560 * 144
FURLONG_INCHES, CHAIN_INCHES = 660 * 12, 66 * 12
"""An acre is a furlong by a chain."""


def _field(row: dict[str, str]) -> tuple[int, int, int]:
    """Return the in-row and row distance in inches, and the plants printed per acre."""
    return int(row["in_row_inches"]), int(row["between_inches"]), int(row["plants_per_acre"])


@pytest.mark.parametrize("row", PER_ACRE, ids=lambda row: f"{row['in_row_inches']}x{row['between_inches']}")
def test_plants_per_acre(row: dict[str, str]) -> None:
    # L. H. Bailey, Farm and Garden Rule-Book, 1911. The largest field of whole distances inside an acre, a chain by a
    # furlong, is counted; an acre holds its density, rounded down.
    in_row, between, printed = _field(row)
    along, across = CHAIN_INCHES // in_row * in_row, FURLONG_INCHES // between * between
    plants = rows_in(along * INCH_CM, in_row * INCH_CM) * rows_in(across * INCH_CM, between * INCH_CM)
    assert math.floor(Fraction(plants * ACRE_SQUARE_INCHES, along * across)) == printed


def test_the_acre_itself_holds_the_printed_plants_wherever_its_sides_divide() -> None:
    # The same table: all distances but 7 in divide an acre of a chain by a furlong, one way or the other.
    counted = 0
    for in_row, between, printed in map(_field, PER_ACRE):
        for along, across in ((CHAIN_INCHES, FURLONG_INCHES), (FURLONG_INCHES, CHAIN_INCHES)):
            if along % in_row == 0 == across % between:
                plants = rows_in(along * INCH_CM, in_row * INCH_CM) * rows_in(across * INCH_CM, between * INCH_CM)
                assert plants == printed
                counted += 1
                break
    assert counted == len(PER_ACRE) - sum(row["between_inches"] == "7" for row in PER_ACRE)


def test_carrots_fill_a_block_as_a_long_row(catalogue: Catalogue) -> None:
    # CMG GardenNotes 713, Colorado State University Extension, 2000s: 3 by 2 feet on 3-inch centres hold what a single
    # row of 24 feet holds: 12 x 8 = 96.
    carrot = _spaced(catalogue.crop("carrot"), 3 * INCH_CM, 3 * INCH_CM)
    block = _block(carrot, breadth="36 in", depth="24 in", strip="24 in")
    assert block is not None
    assert (block.strips, block.rows, block.plants) == (1, 8, 96)
    assert rows_in(24 * FOOT_CM, 3 * INCH_CM) == 96
    assert _block(catalogue.crop("carrot"), breadth="36 in", depth="24 in", strip="24 in") == block


@pytest.mark.parametrize(("feet_long", "feet_wide"), [(1, 1), (4, 1), (8, 4)])
def test_leaf_lettuce_stands_four_to_a_square_foot(catalogue: Catalogue, feet_long: int, feet_wide: int) -> None:
    # Common practice: a grid of 6 by 6 inches.
    size = f"{feet_wide} ft"
    block = _block(catalogue.crop("leaf lettuce"), breadth=f"{feet_long} ft", depth=size, strip=size)
    assert block is not None
    assert block.plants == 4 * feet_long * feet_wide


def test_kale_needs_more_room_than_lettuce(catalogue: Catalogue) -> None:
    # Common practice.
    kale, lettuce = (
        _block(catalogue.crop(name), breadth="8 ft", depth="4 ft", strip="4 ft") for name in ("kale", "leaf lettuce")
    )
    assert kale is not None
    assert lettuce is not None
    assert 0 < 2 * kale.plants < lettuce.plants


@pytest.mark.parametrize(
    ("crop", "inches", "feet", "plants"),
    [
        ("tomato", 36, 3, 10),
        ("sweet pepper", 24, 3, 15),
        ("collards", 18, 2.5, 20),
        ("summer squash", 36, 3.5, 10),
        ("sweet corn", 12, 3, 30),
        ("radish", 1, 1, 360),
        ("carrot", 4, 2, 90),
        ("climbing bean", 18, 3.5, 20),
    ],
)
def test_rows_of_thirty_feet(catalogue: Catalogue, crop: str, inches: float, feet: float, plants: int) -> None:
    # Grow a Row, Vegetables in Florida (Circular 463), Florida Cooperative Extension Service, undated: sample plan, one
    # row of each in 30 feet; counts printed for tomato to corn, the others 30 ft / spacing.
    depth = f"{feet:g} ft"
    crop_there = _spaced(catalogue.crop(crop), inches * INCH_CM, feet * FOOT_CM)
    block = _block(crop_there, breadth="30 ft", depth=depth, strip=depth)
    assert block is not None
    assert (block.rows, block.plants) == (1, plants)


def test_the_corn_of_the_sample_plan_is_a_block_of_two_rows(catalogue: Catalogue) -> None:
    # The same circular gives corn two rows; our own figure (CORN-EXT) asks for three, so two strips cannot hold it.
    corn = catalogue.crop("sweet corn")
    two = _spaced(corn, 12 * INCH_CM, 3 * FOOT_CM)
    assert (
        _block(two.model_copy(update={"least_rows": corn.least_rows}), breadth="30 ft", depth="6 ft", strip="3 ft")
        is None
    )
    three = _block(two.model_copy(update={"least_rows": corn.least_rows}), breadth="30 ft", depth="9 ft", strip="3 ft")
    assert three is not None
    assert (three.strips, three.rows, three.plants) == (3, 3, 90)


# AquaCrop crop parameters, FAO and University of Manchester, package 3.1.0: plants per hectare.
@pytest.mark.parametrize(
    ("crop", "per_hectare", "within"),
    [("sweet corn", 75_000, 1.5), ("potato", 40_000, 1.5), ("tomato", 33_333, 1.5), ("sunflower", 57_000, 2.0)],
)
def test_garden_stands_are_near_those_of_the_field(
    catalogue: Catalogue, crop: str, per_hectare: int, within: float
) -> None:
    ours = catalogue.crop(crop)
    stand = rows_in(100_00, ours.spacing_in_row.usual) * rows_in(100_00, ours.spacing_between_rows.usual)
    assert per_hectare / within <= stand <= per_hectare * within


def test_potatoes_a_foot_apart_in_field_rows_stand_as_in_the_field() -> None:
    # AquaCrop: 4.0 potatoes per m2; 12 in by 30 in give 4.3, which agrees within a tenth.
    assert rows_in(100_00, 12 * INCH_CM) * rows_in(100_00, 30 * INCH_CM) == pytest.approx(40_000, rel=0.1)
