"""What a plant, or a square metre, yields lies within what is published for it."""

from __future__ import annotations

import csv
from collections import defaultdict
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from rotasolve.domain.site import Site
from rotasolve.relations.season.growing import growing

if TYPE_CHECKING:
    from _pytest.mark.structures import ParameterSet

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


# A row from memory is the level of British handbooks. What is grown under cover there stands in a tunnel here.
BRITISH = sorted({row["crop"] for row in PUBLISHED if row["source"].startswith("memory")})
IN_A_TUNNEL = {"tomato", "bush tomato", "sweet pepper", "aubergine", "cucumber", "melon"}


def _british_kg_per_m2(crop: Crop) -> tuple[float, float]:
    """Return the lowest and highest kg per m2 of the British rows of a crop."""
    ends = []
    for row in PUBLISHED:
        if row["crop"] == crop.name and row["source"].startswith("memory"):
            of_plant = row["unit"] == "kg per plant"
            room = _room_m2(crop) if of_plant else float(row["row_distance_cm"] or 100) / 100
            ends += [float(row[end]) / room for end in ("low", "high")]
    return min(ends), max(ends)


MISSED = {
    "radish": "1.53 kg per m2, published 1.6 to 3.2",
    "tomato": "10.6 kg per m2 in the tunnel; the rows, 3.1 to 7.7, are of outdoor plants (in the open: 6.7)",
}
"""Known weaknesses, in kg per m2 of the best start: they fail when the model or the table mends."""


def _marked(crop: str) -> ParameterSet:
    marks = [pytest.mark.xfail(reason=MISSED[crop], strict=True)] if crop in MISSED else []
    return pytest.param(crop, marks=marks)


@pytest.mark.parametrize("crop", [_marked(crop) for crop in BRITISH])
def test_the_best_start_in_southern_england_yields_as_published(catalogue: Catalogue, crop: str) -> None:
    found = catalogue.crop(crop)
    climate = next(one.climate for one in catalogue.reference_climates if one.name == "southern England")
    site = Site(latitude=52.2, climate=climate)
    cover = catalogue.cover("tunnel" if crop in IN_A_TUNNEL else "open ground")
    best = max(growing(found, start, cover, site).best_share for start in found.starts)
    low, high = _british_kg_per_m2(found)
    assert low - 0.001 <= best * _kg_per_m2(found) <= high + 0.001
