"""Harvests of so many plants, with their ends, for each kind of yield."""

from __future__ import annotations

from typing import Any

import pytest

from rotasolve.domain.crop import Crop
from rotasolve.relations.season.yields import expected_harvest
from tests.helpers.tiny import SOURCE, crop, figure


def spaced(between: float, **basis: Any) -> Crop:
    """Return a crop 25 cm apart in rows so many cm apart, with the yield given."""
    return crop("beet", "f", spacing_in_row=figure(25, "cm"), spacing_between_rows=figure(between, "cm"), **basis)


def test_every_basis_keeps_low_and_high() -> None:
    def ends(unit: str) -> dict[str, Any]:
        return {"low": 1, "typical": 1.5, "high": 3, "unit": unit, "source": SOURCE}

    bases: list[tuple[dict[str, Any], tuple[float, float, float]]] = [
        # 25 x 40 cm = 0.1 m2 a plant, 8 plants: 0.8 m2; at rows 50 cm apart 1.6 m of row.
        ({"yield_per_plant": ends("kg per plant")}, (8, 12, 24)),
        ({"yield_per_area": ends("kg per m2")}, (0.8, 1.2, 2.4)),
        (
            {"yield_per_row": ends("kg per m of row"), "row_distance_for_yield": figure(50, "cm")},
            (1.6, 2.4, 4.8),
        ),
    ]
    for basis, kg in bases:
        record = spaced(40, **basis)
        found = expected_harvest(record, 8)
        assert (found.low_kg, found.typical_kg, found.high_kg) == kg
        quarter = expected_harvest(record, 8, 25)
        assert (quarter.low_kg, quarter.typical_kg, quarter.high_kg) == pytest.approx([end / 4 for end in kg])
        assert expected_harvest(record, 0).high_kg == 0


def test_only_a_yield_per_plant_is_blind_to_the_room_of_a_plant() -> None:
    row = {"yield_per_row": figure(1, "kg per m of row"), "row_distance_for_yield": figure(50, "cm")}
    bases: list[tuple[dict[str, Any], int]] = [
        ({"yield_per_plant": figure(1, "kg per plant")}, 1),
        ({"yield_per_area": figure(1, "kg per m2")}, 2),
        (row, 2),
    ]
    for basis, factor in bases:
        near, far = (expected_harvest(spaced(between, **basis), 100).typical_kg for between in (40, 80))
        assert far == pytest.approx(factor * near)
        assert near > 0


def test_a_green_manure_yields_nothing() -> None:
    assert expected_harvest(crop("clover", "f", green_manure=True), 10).high_kg == 0
