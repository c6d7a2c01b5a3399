"""What plantings yield in kilograms, worked out anew from the crop's figure and the plants."""

from __future__ import annotations

from calendar import monthrange
from collections import Counter
from datetime import timedelta
from typing import TYPE_CHECKING

from rotasolve.domain.plan import Harvest
from rotasolve.domain.seasons import first_day, period_of

if TYPE_CHECKING:
    from rotasolve.domain.crop import Crop
    from rotasolve.domain.household import Household, Target
    from rotasolve.domain.plan import Planting


def counts_for(crop: Crop, wish: str, household: Household) -> bool:
    """Return whether a crop counts for a wish: by its own name, or as a kind of it that has no target of its own."""
    names = {crop.name} if crop.name in {target.crop for target in household.targets} else {crop.name, crop.kind_of}
    return wish in names


def harvest_of(crop: Crop, planting: Planting, percent: int) -> Harvest:
    """Return the kilograms of a planting in a poor, a usual and a good year; ``percent`` of a full crop is picked."""
    return _kilograms(crop, planting.plants, percent)


def kilograms_counted(crop: Crop, planting: Planting, household: Household, percent: int) -> float:
    """Return the kilograms that a planting counts against a wish: those of a usual year, or of a poor one if so wished.

    ``percent`` of a full crop is picked.
    """
    harvest = _kilograms(crop, planting.plants, percent)
    return harvest.low_kg if household.meet_targets_at == "low yield" else harvest.typical_kg


def thousandths_by_half_month(
    crop: Crop, planting: Planting, household: Household, percent: int, wish: Target
) -> dict[int, int]:
    """Return how many thousandths of what is wished in it a planting brings in each half month, day by day.

    What it counts is spread evenly over its days of picking, and the wish over the days of its months; the order of
    the factors is that of the model's sum on purpose.
    """
    first, last = planting.first_harvest, planting.last_harvest
    if first is None or last is None:
        return {}
    kg = kilograms_counted(crop, planting, household, percent)
    whole = (last - first).days + 1
    days = Counter(period_of(first + timedelta(days=number)) for number in range(whole))
    found = {}
    for period, count in days.items():
        month = first_day(period)
        long = 15 if month.day == 1 else monthrange(month.year, month.month)[1] - 15
        year = sum(monthrange(2027, number)[1] for number in wish.fresh_months)
        found[period] = round(1000 * kg * count / whole / (wish.kg * long / year))
    return found


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
