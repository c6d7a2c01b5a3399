"""Referee a plan file: recount everything from its dates, strips and places."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.domain.plan import Plan
from rotasolve.errors import GardenFault
from rotasolve.referee import recount
from rotasolve.relations.ground.garden import make_garden

if TYPE_CHECKING:
    from rotasolve.domain.catalogue import Catalogue
    from rotasolve.domain.scenario import Scenario
    from rotasolve.relations.ground.garden import Garden


def referee_plan(scenario: Scenario, catalogue: Catalogue, plan: Plan) -> Plan:
    """Return the same plan with targets, goals and verdict recounted; nothing the file says of them is believed.

    Raises
    ------
    GardenFault
        If the plan names a bed or a crop that the scenario or the catalogue does not know.
    """
    return recount(garden_of_plan(scenario, catalogue, plan), plan)


def garden_of_plan(scenario: Scenario, catalogue: Catalogue, plan: Plan) -> Garden:
    """Return the garden of a scenario, once it is sure that a plan speaks of the same beds, crops and years.

    Raises
    ------
    GardenFault
        If it does not.
    """
    garden = make_garden(scenario, catalogue)
    refuse_other_plan(garden, plan)
    return garden


def refuse_other_plan(garden: Garden, plan: Plan) -> None:
    """Refuse a plan that speaks of other beds, crops or years than the scenario does, naming all of them."""
    unknown = [f"the bed {bed!r}" for bed in sorted({p.bed for p in plan.plantings} - garden.beds.keys())]
    unknown += [f"the crop {crop!r}" for crop in sorted({p.crop for p in plan.plantings} - garden.crops.keys())]
    if unknown:
        raise GardenFault(
            f"the plan names {', '.join(unknown)}, unknown to this scenario; was it made for another one?"
        )
    if (plan.first_year, plan.years) != (garden.scenario.first_year, garden.scenario.years):
        raise GardenFault(
            f"the plan covers {plan.years} years from {plan.first_year}, the scenario "
            f"{garden.scenario.years} from {garden.scenario.first_year}; was it made for another one?"
        )
