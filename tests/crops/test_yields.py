"""What a plant, or a square metre, yields lies within what is published for it."""

from __future__ import annotations

import csv
from collections import defaultdict
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from rotasolve.domain.catalogue import Catalogue
    from rotasolve.domain.crop import Crop

# Each row names its source, a key of crops/sources.yaml; "memory" is the level of British handbooks as remembered.
# Yields of a row are spread over the distance in the table: that of the row yield's source, or of the handbooks.
with (Path(__file__).parents[1] / "data" / "yields_per_plant.csv").open(encoding="utf-8", newline="") as file:
    PUBLISHED = list(csv.DictReader(file))


def _ranges() -> dict[tuple[str, str], tuple[float, float]]:
    """Return (crop, unit) to the lowest and highest published yield, in kg per plant or per m2."""
    ends: dict[tuple[str, str], list[float]] = defaultdict(list)
    for row in PUBLISHED:
        of_row = row["unit"] == "kg per m of row"
        metres = float(row["row_distance_cm"]) / 100 if of_row else 1
        unit = "kg per m2" if of_row else row["unit"]
        ends[row["crop"], unit] += [float(row[end]) / metres for end in ("low", "high")]
    return {key: (min(found), max(found)) for key, found in ends.items()}


def _kg_per_m2(crop: Crop) -> float:
    if crop.yield_per_area is not None:
        return crop.yield_per_area.usual
    if crop.yield_per_row is not None:
        assert crop.row_distance_for_yield is not None
        return crop.yield_per_row.usual / crop.row_distance_for_yield.usual * 100
    assert crop.yield_per_plant is not None
    return crop.yield_per_plant.usual / _room_m2(crop)


def _room_m2(crop: Crop) -> float:
    return crop.spacing_in_row.usual * crop.spacing_between_rows.usual / 10_000


def test_the_table_has_the_crops_of_a_kitchen_garden() -> None:
    assert len({row["crop"] for row in PUBLISHED}) == 36


@pytest.mark.parametrize(("crop", "unit"), _ranges())
def test_the_yield_lies_within_the_published_range(catalogue: Catalogue, crop: str, unit: str) -> None:
    low, high = _ranges()[crop, unit]
    found = catalogue.crop(crop)
    ours = _kg_per_m2(found) * (_room_m2(found) if unit == "kg per plant" else 1)
    assert low - 0.001 <= ours <= high + 0.001


def test_each_row_names_a_source_of_the_crop_files(catalogue: Catalogue) -> None:
    assert {key for row in PUBLISHED for key in row["source"].split()} <= catalogue.sources.keys()


def test_every_food_crop_says_where_its_yield_was_known(catalogue: Catalogue) -> None:
    known = {climate.name for climate in catalogue.reference_climates}
    assert {crop.yield_known_at for crop in catalogue.crops if not crop.green_manure} == known
    assert all(crop.yield_known_at is None for crop in catalogue.crops if crop.green_manure)


def test_spring_garlic_yields_two_thirds_of_autumn_garlic(catalogue: Catalogue) -> None:
    # L14, Saskatchewan: autumn planting gave 59 and 25 % more: 1 / 1.59 = 63 %, 1 / 1.25 = 80 % of it in spring.
    shares = {crop.name: crop.spring_share for crop in catalogue.crops if crop.spring_share is not None}
    assert shares.keys() == {"garlic"}
    share = shares["garlic"]
    assert share is not None
    assert (share.least, share.most) == pytest.approx((100 / 1.59, 100 / 1.25), abs=0.5)
    assert 60 <= share.usual <= 75
