"""What plantings yield in kilograms, worked out anew from the crop's figure and the plants."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.domain.plan import Harvest

if TYPE_CHECKING:
    from rotasolve.domain.crop import Crop
    from rotasolve.domain.household import Household
    from rotasolve.domain.plan import Planting


def harvest_of(crop: Crop, planting: Planting, percent: int) -> Harvest:
    """Return the kilograms of a planting in a poor, a usual and a good year; ``percent`` of a full crop is picked."""
    return _kilograms(crop, planting.plants, percent)


def kilograms_counted(crop: Crop, planting: Planting, household: Household, percent: int) -> float:
    """Return the kilograms that a planting counts against a wish: those of a usual year, or of a poor one if so wished.

    ``percent`` of a full crop is picked.
    """
    harvest = _kilograms(crop, planting.plants, percent)
    return harvest.low_kg if household.meet_targets_at == "low yield" else harvest.typical_kg


def _kilograms(crop: Crop, plants: int, percent: int) -> Harvest:
    """Return the kilograms of so many plants, to the gram.

    The order of the factors is that of the model's sum on purpose: half a gram must be rounded the same way.
    """
    ground_m2 = crop.spacing_in_row.usual * crop.spacing_between_rows.usual / 10_000
    if crop.yield_per_plant is not None:
        figure, shares = crop.yield_per_plant, 1.0
    elif crop.yield_per_row is not None and crop.row_distance_for_yield is not None:
        figure, shares = crop.yield_per_row, ground_m2 / (crop.row_distance_for_yield.usual / 100)
    elif crop.yield_per_area is not None:
        figure, shares = crop.yield_per_area, ground_m2
    else:
        return Harvest(low_kg=0, typical_kg=0, high_kg=0)
    scale = plants * shares * percent / 100
    low, typical, high = (round(end * scale, 3) for end in (figure.least, figure.usual, figure.most))
    return Harvest(low_kg=low, typical_kg=typical, high_kg=high)
