"""The soft goals, in the order shown to users. To add one: a file here, its words, a line in ``GOALS``, a test file."""

from rotasolve.goals.crop_order import CropOrder
from rotasolve.goals.empty_ground import EmptyGround
from rotasolve.goals.few_changes import FewChanges
from rotasolve.goals.few_plantings import FewPlantings
from rotasolve.goals.good_neighbours import GoodNeighbours
from rotasolve.goals.household_yield import HouseholdYield
from rotasolve.goals.little_shade import LittleShade
from rotasolve.goals.longer_rest import LongerRest
from rotasolve.goals.order_of_demand import OrderOfDemand
from rotasolve.goals.succession_cover import SuccessionCover
from rotasolve.goals.winter_cover import WinterCover
from rotasolve.rule import Goal

GOALS: tuple[Goal, ...] = (
    HouseholdYield(),
    SuccessionCover(),
    FewChanges(),
    FewPlantings(),
    LongerRest(),
    EmptyGround(),
    WinterCover(),
    LittleShade(),
    CropOrder(),
    OrderOfDemand(),
    GoodNeighbours(),
)
"""From the weightiest to the lightest."""
