"""Compare plans: of different scenarios, of one scenario with different wishes, or several plans of one scenario."""

from __future__ import annotations

import threading
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from rotasolve.domain.comparison import Comparison, Side
from rotasolve.domain.result import Good, ProvenBest
from rotasolve.errors import GardenFault
from rotasolve.referee import recount
from rotasolve.relations.ground.garden import make_garden
from rotasolve.relations.household.figures import differences, plan_figures
from rotasolve.tasks.refereeing import refuse_other_plan
from rotasolve.tasks.rotation import plan_garden

if TYPE_CHECKING:
    from rotasolve.domain.catalogue import Catalogue
    from rotasolve.domain.plan import Plan
    from rotasolve.domain.scenario import Scenario
    from rotasolve.solver.cpsat import Limits
    from rotasolve.solver.incumbent import Progress


@dataclass(frozen=True)
class Entry:
    """What is to be compared: a scenario and a plan of it, or a scenario that is still to be planned."""

    name: str
    scenario: Scenario
    plan: Plan | None = None


def compare_plans(
    entries: Sequence[Entry],
    catalogue: Catalogue,
    limits: Limits | None = None,
    on_progress: Callable[[Progress], None] = lambda progress: None,
    on_entry: Callable[[str], None] = lambda name: None,
    stop: threading.Event | None = None,
) -> Comparison:
    """Return the entries side by side; those without a plan are planned within ``limits`` each.

    Nothing a plan says of its targets, goals and verdict is believed: the referee counts all of it anew.

    Raises
    ------
    GardenFault
        If there are fewer than two entries, their seasons run differently, a plan belongs to another scenario, or no
        plan is found.
    """
    if len(entries) < 2:
        raise GardenFault("a comparison needs two sides at least: scenarios, plans, or wishes")
    if len({entry.scenario.site.south for entry in entries}) > 1:
        raise GardenFault("gardens north and south of the equator have different garden years; compare one kind")
    sides = []
    for entry in entries:
        garden, plan = make_garden(entry.scenario, catalogue), entry.plan
        if plan is None:
            on_entry(entry.name)
            found = plan_garden(garden, limits, on_progress, stop)
            if not isinstance(found, ProvenBest | Good):
                raise GardenFault(f"no plan was found for {entry.name}; 'rotasolve plan' says why")
            plan = found.plan
        refuse_other_plan(garden, plan)
        plan = recount(garden, plan)
        sides.append(
            Side(
                name=entry.name,
                title=entry.scenario.title,
                plan=plan,
                figures=plan_figures(garden, plan),
                planned_here=entry.plan is None,
            )
        )
    south = entries[0].scenario.site.south
    return Comparison(sides=tuple(sides), differences=differences([side.plan for side in sides], south))
