"""Whether a plan and a scenario speak of the same garden."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.errors import GardenFault

if TYPE_CHECKING:
    from rotasolve.domain.plan import Plan
    from rotasolve.relations.ground.garden import Garden


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
