"""What a plan asks for through the season: its jobs, its purchases and the room its seedlings take."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.relations.work.jobs import jobs_of
from rotasolve.relations.work.seedlings import seedling_room
from rotasolve.relations.work.shopping import purchases_of
from rotasolve.tasks.refereeing import garden_of_plan

if TYPE_CHECKING:
    from rotasolve.domain.catalogue import Catalogue
    from rotasolve.domain.plan import Plan
    from rotasolve.domain.scenario import Scenario
    from rotasolve.relations.ground.garden import Garden
    from rotasolve.relations.work.jobs import Job
    from rotasolve.relations.work.seedlings import SillRoom
    from rotasolve.relations.work.shopping import Purchase


def jobs_of_plan(scenario: Scenario, catalogue: Catalogue, plan: Plan) -> tuple[Garden, tuple[Job, ...]]:
    """Return the garden and every job of a plan, by day.

    Raises
    ------
    GardenFault
        If the plan names a bed, a crop or years that the scenario or the catalogue does not know.
    """
    garden = garden_of_plan(scenario, catalogue, plan)
    return garden, jobs_of(garden, plan)


def shopping_of_plan(
    scenario: Scenario, catalogue: Catalogue, plan: Plan, sill_depth_cm: float
) -> tuple[Garden, dict[int, tuple[Purchase, ...]], tuple[SillRoom, ...]]:
    """Return the garden, the purchases by garden year and the seedlings indoors by half month.

    Raises
    ------
    GardenFault
        If the plan names a bed, a crop or years that the scenario or the catalogue does not know.
    """
    garden = garden_of_plan(scenario, catalogue, plan)
    return garden, purchases_of(garden, plan), seedling_room(garden, plan, sill_depth_cm)
