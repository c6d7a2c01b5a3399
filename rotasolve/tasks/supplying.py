"""Supply over the year: when a plan's harvest comes, how long what is kept lasts, where it falls short."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.relations.household.supply import supply_of
from rotasolve.tasks.refereeing import garden_of_plan

if TYPE_CHECKING:
    from rotasolve.domain.catalogue import Catalogue
    from rotasolve.domain.plan import Plan
    from rotasolve.domain.scenario import Scenario
    from rotasolve.domain.supply import CropSupply, YieldLevel


def plan_supply(
    scenario: Scenario, catalogue: Catalogue, plan: Plan, level: YieldLevel = "typical"
) -> tuple[CropSupply, ...]:
    """Return the supply of every crop over the plan, at a poor, a usual or a good year's yield.

    Raises
    ------
    GardenFault
        If the plan names a bed or a crop that the scenario or the catalogue does not know.
    """
    return supply_of(garden_of_plan(scenario, catalogue, plan), plan.plantings, level)
