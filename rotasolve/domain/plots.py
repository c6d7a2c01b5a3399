"""Many plots planned in one go: a row for each, with what became of it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from rotasolve.domain.record import Record

if TYPE_CHECKING:
    from rotasolve.domain.plan import Plan

PlotState = Literal["waiting", "planned", "kept", "left alone", "impossible", "no plan in time", "faults", "failed"]
"""``kept``: planned before and unchanged since. ``left alone``: what lies in the plan's place is not ours to replace.
``failed``: the plan could not be made or written, and the garden is not to blame."""
ENOUGH = 0.995
"""A wish is met at this share of its kilograms: it is shown as 100 %."""


class Plot(Record):
    """One plot of many: what became of it, and how good its plan is.

    ``garden`` is the scenario file's name without its ending, and names the plan file too. A wish is one target in one
    garden year, and met when its kilograms are. ``made_from`` changes with the scenario and the grower's own crops.
    """

    garden: str
    title: str = ""
    state: PlotState = "waiting"
    wishes_met: int | None = None
    wishes: int | None = None
    lost: int | None = None
    at_least_lost: int | None = None
    seconds: float | None = None
    made_from: str = ""
    note: str = ""


def with_plan(plot: Plot, plan: Plan) -> Plot:
    """Return a plot with what its plan reaches."""
    standing = plan.standing
    met = [outcome for outcome in plan.targets if outcome.counted_kg >= ENOUGH * outcome.wanted_kg]
    return plot.model_copy(
        update={
            "title": plan.scenario_title,
            "wishes_met": len(met),
            "wishes": len(plan.targets),
            "lost": plan.points_lost,
            "at_least_lost": None if standing is None else standing.at_least_lost,
        }
    )
