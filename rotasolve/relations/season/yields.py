"""What plants yield: published figures for a plant, a metre of row or an area, turned into kilograms."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.domain.plan import Harvest

if TYPE_CHECKING:
    from rotasolve.domain.crop import Crop


def expected_harvest(crop: Crop, plants: int, share_percent: int = 100) -> Harvest:
    """Return what ``plants`` plants should yield in kg, ``share_percent`` of the picking season being used.

    Yields per area and per metre of row count the ground the plants own at their spacing. They are estimates.
    """
    figure, per = crop.yield_per_plant, 1.0
    if figure is None:
        own_m2 = crop.spacing_in_row.usual * crop.spacing_between_rows.usual / 10_000
        figure, per = crop.yield_per_area, own_m2
        if crop.yield_per_row is not None and crop.row_distance_for_yield is not None:
            figure, per = crop.yield_per_row, own_m2 / (crop.row_distance_for_yield.usual / 100)
    if figure is None:
        return Harvest(low_kg=0, typical_kg=0, high_kg=0)
    scale = plants * per * share_percent / 100
    return Harvest(
        low_kg=round(figure.least * scale, 3),
        typical_kg=round(figure.usual * scale, 3),
        high_kg=round(figure.most * scale, 3),
    )
