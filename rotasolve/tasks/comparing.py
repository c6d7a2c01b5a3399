"""Compare plans: of different scenarios, of one scenario with different wishes, or several plans of one scenario."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from rotasolve.domain.comparison import Change, Comparison, GoalPoints, Side
from rotasolve.domain.result import Good, ProvenBest
from rotasolve.errors import GardenFault
from rotasolve.referee import recount, score
from rotasolve.relations.ground.changes import changes_between, harvest_between
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
    """What is to be compared: a scenario with its catalogue, and a plan of it or none if it is still to be planned."""

    name: str
    scenario: Scenario
    catalogue: Catalogue
    plan: Plan | None = None


def compare_plans(
    entries: Sequence[Entry],
    limits: Limits | None = None,
    on_progress: Callable[[Progress], None] = lambda progress: None,
    on_entry: Callable[[str], None] = lambda name: None,
    stop: threading.Event | None = None,
) -> Comparison:
    """Return the entries side by side; those without a plan are planned within ``limits`` each.

    Nothing a plan says of its targets, goals and verdict is believed: the referee counts all of it anew, and charges
    what was kept from an earlier plan as it charges everything else.

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
        garden, plan = make_garden(entry.scenario, entry.catalogue), entry.plan
        if plan is None:
            on_entry(entry.name)
            found = plan_garden(garden, limits, on_progress, stop)
            if not isinstance(found, ProvenBest | Good):
                raise GardenFault(f"no plan was found for {entry.name}; 'rotasolve plan' says why")
            plan = found.plan
        refuse_other_plan(garden, plan)
        plan = recount(garden, plan).model_copy(update={"goals": score(garden, _none_kept(plan))})
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
    return Comparison(
        sides=tuple(sides),
        differences=differences([side.plan for side in sides], south),
        changes=tuple(_changes(entries, sides)),
        same_wishes=len({_wishes(entry) for entry in entries}) == 1,
    )


def _none_kept(plan: Plan) -> Plan:
    plantings = tuple(planting.model_copy(update={"kept": False}) for planting in plan.plantings)
    return plan.model_copy(update={"plantings": plantings})


def _wishes(entry: Entry) -> object:
    scenario = entry.scenario
    return scenario.household, scenario.rules, scenario.planned_years


def _changes(entries: Sequence[Entry], sides: Sequence[Side]) -> Iterator[Change]:
    """Yield what each side changes against the first one, if it plans the same beds in the same years."""
    first, south = entries[0].scenario, entries[0].scenario.site.south
    before = sides[0].plan
    for number, (entry, side) in enumerate(zip(entries, sides, strict=True)):
        if number == 0 or (entry.scenario.beds, entry.scenario.planned_years) != (first.beds, first.planned_years):
            continue
        lost = {goal.goal: goal.lost for goal in before.goals}
        more = ((goal.goal, goal.lost - lost.get(goal.goal, 0)) for goal in side.plan.goals)
        yield Change(
            side=number,
            changes=changes_between(before.plantings, side.plan.plantings, south),
            harvest=harvest_between(before.plantings, side.plan.plantings),
            points=tuple(GoalPoints(goal=goal, more=points) for goal, points in more if points)
            if _wishes(entry) == _wishes(entries[0])
            else None,
        )
