"""Plan on from an earlier plan: some of its plantings are kept as they are, and of the rest little changes."""

from __future__ import annotations

import threading
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date
from typing import TYPE_CHECKING

from rotasolve.clash import explain
from rotasolve.domain.edits import digest_of, edits_of, sealed
from rotasolve.domain.result import Good, ProvenBest, Result
from rotasolve.domain.seasons import say_day
from rotasolve.errors import GardenFault
from rotasolve.referee import blank_plan, breaches_of, recount
from rotasolve.relations.ground.changes import changes_between
from rotasolve.relations.ground.following import followed
from rotasolve.relations.ground.hosts import was_there_in_vain
from rotasolve.relations.ground.keeping import Keeping, with_kept
from rotasolve.rules import WISHES
from rotasolve.solver.incumbent import gap_of
from rotasolve.tasks.change_reasons import reasons_of
from rotasolve.tasks.rotation import plan_garden

if TYPE_CHECKING:
    from rotasolve.domain.moves import Changes, Why
    from rotasolve.domain.plan import Breach, Plan, Planting
    from rotasolve.relations.ground.garden import Garden
    from rotasolve.solver.cpsat import Limits
    from rotasolve.solver.incumbent import Progress


@dataclass(frozen=True)
class Keep:
    """Which plantings of a plan are kept; whatever one of these names is.

    ``changed`` are those changed or added by hand, and those kept when the plan was made. ``as_of`` keeps everything
    started on that day or before it; nothing new is started by then. ``failed`` are the numbers of plantings whose
    ground is cleared on that day.
    """

    changed: bool = True
    everything: bool = False
    beds: frozenset[str] = frozenset()
    crops: frozenset[str] = frozenset()
    as_of: date | None = None
    failed: frozenset[int] = frozenset()


@dataclass(frozen=True)
class Replanned:
    """What came of planning on: the result, the plantings kept, and what changed against the earlier plan.

    ``why`` has the reason of each of its moves, in their order. ``against`` are the breaches of rules by the kept
    plantings alone: then there is no plan. ``nothing_new``: nothing has happened that could change the plan.
    """

    result: Result
    kept: tuple[Planting, ...]
    changes: Changes | None = None
    why: tuple[Why, ...] = ()
    against: tuple[Breach, ...] = ()
    nothing_new: bool = False


def kept_plantings(garden: Garden, plan: Plan, keep: Keep) -> tuple[Planting, ...]:
    """Return the plantings of a plan that are kept, each once, those that failed cleared on the day they did.

    What failed in its first weeks is left out: it is no host yet, and may be sown again where it stood.

    Raises
    ------
    GardenFault
        If what was changed by hand is asked for and unknown, or a planting failed on a day on which it did not stand.
    """
    edits = edits_of(plan)
    only_changed = keep.changed and not (keep.everything or keep.beds or keep.crops or keep.as_of)
    if edits is None and only_changed:
        raise GardenFault(
            "what was changed by hand in this plan is not known, for the file holds no record of how it was written; "
            "say what to keep: --keep all, --keep nothing, --keep with a bed or a crop, or --as-of with a day"
        )
    changed = frozenset(edits.changed if edits is not None else ())
    kept = []
    for number, planting in enumerate(plan.plantings):
        if number in keep.failed:
            failed = followed(garden, _cleared(planting, keep.as_of))
            green = garden.crops[planting.crop].green_manure
            if not was_there_in_vain(failed, green, garden.scenario.site.south):
                kept.append(failed)
        elif (
            keep.everything
            or (keep.changed and (planting.kept or number in changed))
            or planting.bed in keep.beds
            or planting.crop in keep.crops
            or (keep.as_of is not None and planting.start <= keep.as_of)
        ):
            kept.append(planting)
    return tuple(dict.fromkeys(planting.model_copy(update={"kept": True}) for planting in kept))


def plan_on(
    garden: Garden,
    earlier: Plan,
    keep: Keep,
    limits: Limits | None = None,
    on_progress: Callable[[Progress], None] = lambda progress: None,
    stop: threading.Event | None = None,
    fingerprint: str = "",
) -> Replanned:
    """Return a refereed plan that holds the kept plantings of an earlier one as they are, or why there is none.

    The search starts from the earlier plan, and changes of its other plantings are charged (``goals/few_changes``). If
    nothing is new, the plan stays as it is. What is kept and breaks rules by itself is told without a search. The
    earlier plan must name beds, crops and strips that the scenario has (``take_up``).

    Raises
    ------
    GardenFault
        As of ``kept_plantings``.
    """
    kept = kept_plantings(garden, earlier, keep)
    if _nothing_new(garden, earlier, keep, fingerprint):
        plan = _marked(garden, earlier, kept, keep.as_of)
        changes = changes_between(earlier.plantings, plan.plantings, garden.scenario.site.south)
        proven = plan.standing is not None and plan.standing.outcome == "proven best"
        return Replanned(ProvenBest(plan) if proven else Good(plan), kept, changes, nothing_new=True)
    raised = frozenset(
        (planting.crop, planting.way, planting.start)
        for planting in earlier.plantings
        if keep.as_of is not None and planting.raise_from is not None and planting.raise_from <= keep.as_of
    )
    decided = {digest_of(planting) for planting in kept}
    free = [p for n, p in enumerate(earlier.plantings) if n not in keep.failed and digest_of(p) not in decided]
    charged = garden.scenario.rules.few_changes != "not at all"
    # What was started before the plan stands as the scenario pins it.
    may_stay = [planting for planting in free if charged and planting.start >= garden.scenario.begins]
    before = tuple(planting.model_copy(update={"kept": False}) for planting in may_stay)
    keeping = Keeping(kept, keep.as_of, raised, before)
    around = with_kept(garden, keeping)
    alone = breaches_of(around, blank_plan(garden.scenario, kept))
    against = tuple(breach for breach in alone if breach.claim.rule not in WISHES)
    if against:
        clash = explain(around, known_impossible=True)
        return Replanned(clash, kept, against=against)
    result = plan_garden(around, limits, on_progress, stop, fingerprint, earlier.plantings)
    if not isinstance(result, ProvenBest | Good):
        return Replanned(result, kept)
    plan = _told_around(result.plan, kept, keep.as_of)
    changes = changes_between(earlier.plantings, plan.plantings, garden.scenario.site.south)
    lost = tuple(earlier.plantings[number] for number in sorted(keep.failed))
    return Replanned(replace(result, plan=plan), kept, changes, reasons_of(around, plan, changes, lost))


def _nothing_new(garden: Garden, earlier: Plan, keep: Keep, fingerprint: str) -> bool:
    """Return whether nothing was edited, has failed or is asked for otherwise: then nothing has to change."""
    edits = edits_of(earlier)
    if edits is None or edits.touched or keep.failed or earlier.scenario_hash != fingerprint:
        return False
    # Who names beds or crops to keep, or nothing, asks for the rest to be planned anew.
    whole = keep.everything or keep.as_of is not None or (keep.changed and not keep.beds and not keep.crops)
    return whole and not breaches_of(garden, earlier)


def _marked(garden: Garden, plan: Plan, kept: tuple[Planting, ...], as_of: date | None) -> Plan:
    """Return a plan with the kept plantings marked; the plan itself if they are already.

    What is kept is not charged as a planting, in this plan and in every other that keeps it: so the bound falls by as
    much. Where the standing speaks of changes against a still earlier plan, nothing is known any more.
    """
    decided = {digest_of(planting) for planting in kept}
    plantings = tuple(p.model_copy(update={"kept": p.kept or digest_of(p) in decided}) for p in plan.plantings)
    if plantings == plan.plantings:
        return plan
    marked, old = recount(garden, plan.model_copy(update={"plantings": plantings})), plan.standing
    if old is None or old.lost != plan.points_lost:
        return sealed(marked.model_copy(update={"standing": None}))
    lost, at_least = marked.points_lost, max(0, old.at_least_lost - old.lost + marked.points_lost)
    gap = round(gap_of(lost, at_least, old.lost_if_empty), 4)
    standing = old.model_copy(update={"lost": lost, "at_least_lost": at_least, "gap": gap})
    return _told_around(marked.model_copy(update={"standing": standing}), kept, as_of)


def _cleared(planting: Planting, day: date | None) -> Planting:
    if day is None or not planting.start <= day <= planting.clear:
        when = "no day is given" if day is None else f"{say_day(day)} is not a day on which it stands"
        raise GardenFault(
            f"{planting.crop} in {planting.bed} is in the ground from {say_day(planting.start)} to "
            f"{say_day(planting.clear)}; {when}: give the day it failed with --as-of"
        )
    return planting.model_copy(update={"clear": day})


def _told_around(plan: Plan, kept: tuple[Planting, ...], as_of: date | None) -> Plan:
    """Return the plan with its standing told for what it is: compared with plans that keep the same."""
    if plan.standing is None:
        return plan
    standing = plan.standing.model_copy(update={"keeps": len(kept), "nothing_new_by": as_of})
    return sealed(plan.model_copy(update={"standing": standing}))
