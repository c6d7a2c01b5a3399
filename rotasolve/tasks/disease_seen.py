"""What a disease seen in a bed means for a plan: for how long hosts stay away, and what that costs."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.domain.chance import DiseaseCost
from rotasolve.domain.seasons import garden_year
from rotasolve.recount.families import stay_before, stay_of
from rotasolve.referee import blank_plan, score
from rotasolve.relations.ground.garden import make_garden

if TYPE_CHECKING:
    from datetime import date

    from rotasolve.domain.catalogue import Catalogue
    from rotasolve.domain.plan import Plan, Planting
    from rotasolve.domain.scenario import Scenario
    from rotasolve.relations.ground.garden import Garden


def disease_cost(
    scenario: Scenario, catalogue: Catalogue, plan: Plan | None, disease: str, bed: str, day: date
) -> DiseaseCost:
    """Return what follows from a disease seen in a bed on a day.

    The years of rest run from the last host that stands or stood there on that day, or from that garden year if none
    did. Of the plan the hosts are lost that are started later and before that time is over.

    Parameters
    ----------
    plan
        The plan it is told for; None if there is none: then nothing of it is lost.
    """
    garden, south = make_garden(scenario, catalogue), scenario.site.south
    group = garden.graph.disease_group(disease)
    here = [planting for planting in plan.plantings if planting.bed == bed] if plan is not None else []
    stood = [stay_of(one, south).last for one in here if one.crop in group.crops and one.start <= day]
    stood += [stay_before(past, south).last for past in scenario.past_in(bed) if past.crop in group.crops]
    again = None if group.closes else max((*stood, garden_year(day, south))) + group.gap + 1
    lost = tuple(
        one
        for one in here
        if one.crop in group.crops and one.start > day and (again is None or stay_of(one, south).first < again)
    )
    hosts = tuple(sorted(group.crops & garden.wanted))
    points = 0
    if plan is not None and lost:
        kept = tuple(planting for planting in plan.plantings if planting not in lost)
        points = _points(garden, kept) - _points(garden, plan.plantings)
    return DiseaseCost(disease, bed, hosts, group.gap, group.closes, again, lost, points)


def _points(garden: Garden, plantings: tuple[Planting, ...]) -> int:
    return sum(goal.lost for goal in score(garden, blank_plan(garden.scenario, plantings)))
