"""Plan a rotation: what goes where, when and in what number."""

from __future__ import annotations

import threading
from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from rotasolve import __version__
from rotasolve.clash import explain
from rotasolve.domain.edits import sealed
from rotasolve.domain.plan import Plan
from rotasolve.domain.result import Good, OutOfTime, ProvenBest, Result
from rotasolve.relations.ground.garden import make_garden
from rotasolve.solver.cpsat import Limits
from rotasolve.solver.known_plan import known_plan
from rotasolve.solver.search import Found, Known, Search

if TYPE_CHECKING:
    from rotasolve.domain.catalogue import Catalogue
    from rotasolve.domain.plan import Planting
    from rotasolve.domain.scenario import Scenario
    from rotasolve.relations.ground.garden import Garden
    from rotasolve.solver.incumbent import Progress


def plan_rotation(
    scenario: Scenario,
    catalogue: Catalogue,
    limits: Limits | None = None,
    on_progress: Callable[[Progress], None] = lambda progress: None,
    stop: threading.Event | None = None,
    fingerprint: str = "",
) -> Result:
    """Return a refereed plan of all the scenario's years, or why there is none; parameters as of ``plan_garden``."""
    return plan_garden(make_garden(scenario, catalogue), limits, on_progress, stop, fingerprint)


def plan_garden(
    garden: Garden,
    limits: Limits | None = None,
    on_progress: Callable[[Progress], None] = lambda progress: None,
    stop: threading.Event | None = None,
    fingerprint: str = "",
    start: Sequence[Planting] = (),
) -> Result:
    """Return a refereed plan of all years of a garden, or why there is none.

    Parameters
    ----------
    limits
        Wall seconds or deterministic effort, seed and workers; 60 s by default.
    on_progress
        Called on this thread about five times a second with the best plan's points, the bound and the seconds gone.
    stop
        When set, the search ends within half a second and the best plan so far is returned.
    fingerprint
        The scenario's hash, kept in the plan so that a later change of the scenario is noticed.
    start
        The plantings of an earlier plan, to start the search from where they still fit.
    """
    limits = limits or Limits()
    known = Known(start=known_plan(garden, start)) if start else None
    found = Search(garden, limits, on_progress, stop, known).run()
    if isinstance(found, Found):
        plan = _signed(found.plan, fingerprint)
        return ProvenBest(plan) if found.proven else Good(plan)
    if found == "none possible":
        return explain(garden, known_impossible=True)
    return OutOfTime(limits.words())


def _signed(plan: Plan, fingerprint: str) -> Plan:
    return sealed(plan.model_copy(update={"made_by": f"rotasolve {__version__}", "scenario_hash": fingerprint}))
