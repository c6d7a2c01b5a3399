"""What plantings yield in kilograms, worked out anew from the crop's figure and the plants."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.domain.plan import Harvest
from rotasolve.recount.ground import smallest_block

if TYPE_CHECKING:
    from rotasolve.domain.bed import Bed
    from rotasolve.domain.crop import Crop
    from rotasolve.domain.household import Household
    from rotasolve.domain.plan import Planting


def harvest_of(crop: Crop, planting: Planting, percent: int) -> Harvest:
    """Return the kilograms of a planting in a poor, a usual and a good year; ``percent`` of a full crop is picked."""
    return _kilograms(crop, planting.plants, percent)


def lots_of(crop: Crop, bed: Bed, planting: Planting, household: Household, percent: int) -> tuple[float, float]:
    """Return how many of the crop's smallest blocks a planting is, and the kilograms that one of them counts.

    Kilograms count as those of a usual year, or of a poor one where targets are to be met in poor years too. Wishes
    are counted block by block, each block's kilograms being rounded: so is what they ask. ``percent`` of a full crop is
    picked.
    """
    _, plants = smallest_block(crop, bed)
    if not plants:
        return 0.0, 0.0
    each = _kilograms(crop, plants, percent)
    return planting.plants / plants, each.low_kg if household.meet_targets_at == "low yield" else each.typical_kg


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
