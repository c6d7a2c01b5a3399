"""The words of the goals: for each file of ``goals`` one of the same name, which teaches ``say`` its facts."""

from rotasolve.views.words.goals import (
    crop_order,
    empty_ground,
    few_changes,
    few_plantings,
    good_neighbours,
    household_yield,
    little_shade,
    longer_rest,
    order_of_demand,
    succession_cover,
    winter_cover,
)
from rotasolve.views.words.saying import say

__all__ = [
    "crop_order",
    "empty_ground",
    "few_changes",
    "few_plantings",
    "good_neighbours",
    "household_yield",
    "little_shade",
    "longer_rest",
    "order_of_demand",
    "say",
    "succession_cover",
    "winter_cover",
]
