"""The next year: a plan and its diary become history, what stands is planned around, and the years roll on."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import replace
from typing import TYPE_CHECKING

from rotasolve.domain.diary import Diary
from rotasolve.domain.next_year import NextYear
from rotasolve.domain.scenario import PastPlanting, PinnedPlanting
from rotasolve.domain.seasons import say_year, year_start
from rotasolve.domain.strips import strips_in_bed
from rotasolve.errors import GardenFault
from rotasolve.relations.ground.as_told import as_told
from rotasolve.relations.ground.diary_records import history_told, with_diary
from rotasolve.relations.ground.happened import happened_to
from rotasolve.relations.ground.hosts import was_there_in_vain
from rotasolve.relations.ground.plantings import sowing_of
from rotasolve.tasks.refereeing import refuse_other_plan

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence
    from datetime import date

    from rotasolve.domain.plan import Plan, Planting
    from rotasolve.domain.scenario import Scenario
    from rotasolve.relations.ground.garden import Garden

NOTHING_TOLD = Diary()


def next_year(garden: Garden, scenario: Scenario, plan: Plan, diary: Diary = NOTHING_TOLD, years: int = 1) -> NextYear:
    """Return a scenario as it is after so many garden years of its plan, planned for as many years as before.

    What was cleared by then is history, strip by strip, in the years in which it was a host (what failed in its first
    weeks was none); what still stands is pinned as it stands. Demands and pins of years gone by are left out.

    Raises
    ------
    GardenFault
        If the plan is of another garden, or does not reach so far.
    """
    refuse_other_plan(garden, plan)
    if not 1 <= years <= scenario.years:
        last = say_year(scenario.first_year + scenario.years, scenario.site.south)
        raise GardenFault(f"after the years of this plan comes {last}; the next plan cannot begin later, nor sooner")
    first, south = scenario.first_year + years, scenario.site.south
    begins = year_start(first, south)
    happened, left = happened_to(plan.plantings, diary)
    begun = [one for one in happened if (one.started or one.planting.start) < begins or one.planting.start < begins]
    real = [as_told(garden, one) for one in begun]
    beside = tuple(past for past in history_told(left, south) if past.year < first)
    hosts = [p for p in real if not was_there_in_vain(p, garden.crops[p.crop].green_manure, south)]
    # What stays for years is told by the scenario itself, with its age.
    gone = [one for one in hosts if one.clear < begins and garden.crops[one.crop].stays is None]
    history = (*_history(garden, gone), *beside)
    now = with_diary(scenario, garden.catalogue, diary)
    turned = NextYear(
        scenario=scenario,
        history=tuple(past for past in dict.fromkeys(history) if past not in scenario.history),
        pinned=tuple(_pin(one) for one in real if one.clear >= begins),
        pins_gone=tuple(n for n, pin in enumerate(scenario.pinned) if pin.start < begins),
        musts_gone=_past_years(scenario, first),
        seen=now.seen[len(scenario.seen) :],
        manure=now.manure[len(scenario.manure) :],
        closed=now.closed[len(scenario.closed) :],
        told=sum(bool(one.told) for one in begun),
        silent=sum(not one.told for one in begun),
        beside=left,
    )
    return _rolled_on(turned, first, begins)


def _past_years(scenario: Scenario, first: int) -> tuple[int, ...]:
    musts = scenario.household.must_have
    return tuple(number for number, must in enumerate(musts) if must.year is not None and must.year < first)


def _rolled_on(turned: NextYear, first: int, begins: date) -> NextYear:
    """Return the next year with its scenario as the new file must read."""
    old = turned.scenario
    household = old.household.model_copy(update={"must_have": _less(old.household.must_have, turned.musts_gone)})
    scenario = old.model_copy(
        update={
            "first_year": first,
            "household": household,
            "history": (*old.history, *turned.history),
            "pinned": (*_less(old.pinned, turned.pins_gone), *turned.pinned),
            "seen": (*old.seen, *turned.seen),
            "manure": (*old.manure, *turned.manure),
            "closed": (*old.closed, *turned.closed),
        }
    )
    return replace(turned, scenario=scenario)


def _less(records: Sequence[object], numbers: Iterable[int]) -> tuple[object, ...]:
    gone = set(numbers)
    return tuple(record for number, record in enumerate(records) if number not in gone)


def _pin(planting: Planting) -> PinnedPlanting:
    """Return the pin that holds a planting just as it stands."""
    return PinnedPlanting(
        bed=planting.bed,
        crop=planting.crop,
        start=planting.start,
        way=planting.way,
        until=planting.clear,
        strips=planting.strips,
        plants=planting.plants,
    )


def _history(garden: Garden, plantings: Iterable[Planting]) -> tuple[PastPlanting, ...]:
    """Return what plantings leave behind, by year and bed; those of one crop in a bed and year are one line."""
    strips: dict[tuple[int, int, str, date | None], set[int]] = defaultdict(set)
    order = {bed: number for number, bed in enumerate(garden.beds)}
    for planting in plantings:
        first, last = sowing_of(garden, planting).hosts
        until = planting.clear if last > first else None
        strips[first, order[planting.bed], planting.crop, until] |= set(planting.strips)
    beds, found = list(garden.beds.values()), []
    for (year, number, crop, until), here in sorted(strips.items(), key=lambda item: (*item[0][:3], str(item[0][3]))):
        whole = len(here) == strips_in_bed(beds[number])
        told = () if whole else tuple(sorted(here))
        found.append(PastPlanting(bed=beds[number].name, crop=crop, year=year, strips=told, until=until))
    return tuple(found)
