"""All that a report tells of a plan: the plan as the referee judges it now, its jobs, its supplies."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from rotasolve.referee import recount
from rotasolve.relations.household.supply import supply_of
from rotasolve.relations.work.jobs import jobs_of
from rotasolve.tasks.missing import why_missed

if TYPE_CHECKING:
    from rotasolve.domain.missed import Missed
    from rotasolve.domain.plan import Plan
    from rotasolve.domain.supply import CropSupply
    from rotasolve.relations.ground.garden import Garden
    from rotasolve.relations.work.jobs import Job


@dataclass(frozen=True)
class Findings:
    """A plan with targets, goals and verdict counted anew, its jobs by day, its supplies, and why wishes are missed."""

    garden: Garden
    plan: Plan
    jobs: tuple[Job, ...]
    supplies: tuple[CropSupply, ...]
    missed: tuple[Missed, ...] = ()


def findings_of_plan(garden: Garden, plan: Plan) -> Findings:
    """Return what there is to tell of a plan of a garden, at a usual year's yield."""
    judged = recount(garden, plan)
    supplies = supply_of(garden, plan.plantings, "typical")
    return Findings(garden, judged, jobs_of(garden, plan), supplies, why_missed(garden, judged))
