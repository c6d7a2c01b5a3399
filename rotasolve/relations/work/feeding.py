"""Which ground gets compost or lime, for what and when: before heavy feeders, and before cabbages and their kin.

Compost goes on for each planting of a heavy feeder that no legume of the year before prepared the bed for (the goal
order-of-demand counts these), lime for heavy feeders of the cabbage family. Both go on in late autumn (FD1: "manured
in late autumn before"), on 1 November or, in the south, 1 May; later where something still stands there, a month into
the first year if the plan begins with it, and compost four weeks after lime, for together they lose nitrogen (common
practice, no source). No lime where potatoes are to grow in the same garden year or the next, for they scab on limed
ground (PNW-BEETSCAB; no wait is published), unless clubroot is known in the bed, against which it works (SARE-OW15).
Raw manure would do instead of compost only until so many days before the first harvest of anything in the bed.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from typing import TYPE_CHECKING, Literal

from rotasolve.domain.seasons import garden_year
from rotasolve.domain.strips import part_breadth_cm, strip_depth_cm
from rotasolve.relations.ground.hosts import HostYears, host_years, past_host_years
from rotasolve.relations.ground.waits import days_after_manure

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rotasolve.domain.plan import Plan, Planting
    from rotasolve.relations.ground.garden import Garden

FeedingKind = Literal["lime", "spread compost"]
APART_DAYS = 28
"""Between lime and compost or manure: common practice, no source."""
LITRES_PER_M2 = 5.0
"""Compost: a bucket for two square metres, common practice, no source."""


@dataclass(frozen=True)
class Feeding:
    """What is spread on a planting's strips, and when; ``litres`` of compost, 0 of lime.

    ``raw_until`` is the last day on which raw manure could go into the bed instead, for the sake of ``picked``: what is
    picked there soonest after it, so many days later.
    """

    kind: FeedingKind
    day: date
    planting: Planting
    litres: float = 0.0
    raw_until: date | None = None
    picked: Planting | None = None


def feedings_of(garden: Garden, plan: Plan) -> Iterator[Feeding]:
    """Yield what is spread for each planting of a plan that asks for it, lime first."""
    for planting in plan.plantings:
        crop = garden.crops[planting.crop]
        if crop.feeder != "heavy" or crop.green_manure or crop.stays is not None:
            continue
        day = _free_in_autumn(garden, plan, planting)
        limed = crop.family == "Brassicaceae" and day + timedelta(days=APART_DAYS) <= planting.start
        limed = limed and not _potatoes_near(garden, plan, planting)
        if limed:
            yield Feeding("lime", day, planting)
        if not _after_legumes(garden, plan, planting):
            day = min(day + timedelta(days=APART_DAYS), planting.start) if limed else day
            raw_until, picked = _raw_until(garden, plan, planting, day)
            bed = garden.beds[planting.bed]
            area_m2 = len(planting.strips) * strip_depth_cm(bed) * part_breadth_cm(bed) / 10_000
            yield Feeding("spread compost", day, planting, LITRES_PER_M2 * area_m2, raw_until, picked)


def _free_in_autumn(garden: Garden, plan: Plan, planting: Planting) -> date:
    """Return the last beginning of November (May) before a planting, or the day its ground is free after that."""
    south = garden.scenario.site.south
    month, start = 5 if south else 11, planting.start
    autumn = date(start.year if date(start.year, month, 1) < start else start.year - 1, month, 1)
    begin = date(garden.scenario.first_year, 8 if south else 2, 1)
    ends = [p.clear for p in _on_its_strips(plan, planting) if p.start <= start and p.clear <= start]
    for past in garden.scenario.past_in(planting.bed):
        if past.until is not None and any(past.takes(strip) for strip in planting.strips):
            ends.append(past.until)
    return min(max([autumn, begin, *ends]), start)


def _on_its_strips(plan: Plan, planting: Planting) -> list[Planting]:
    return [
        other
        for other in plan.plantings
        if other is not planting and other.bed == planting.bed and {*other.strips} & {*planting.strips}
    ]


def _hosts(garden: Garden, planting: Planting) -> HostYears:
    south = garden.scenario.site.south
    return host_years(
        planting.start, planting.clear, garden_year(planting.first_harvest or planting.start, south), south
    )


def _after_legumes(garden: Garden, plan: Plan, planting: Planting) -> bool:
    """Return whether what fixes nitrogen was a host on the planting's ground in the year before."""
    scenario = garden.scenario
    near = _on_its_strips(plan, planting) if garden.by_strip else [p for p in plan.plantings if p.bed == planting.bed]
    before = [(other.crop, _hosts(garden, other)) for other in near]
    for past in scenario.past_in(planting.bed):
        if not garden.by_strip or any(past.takes(strip) for strip in planting.strips):
            before.append((past.crop, past_host_years(past, scenario.site.south)))
    year = _hosts(garden, planting)[0]
    return any(
        garden.crops[crop].feeder == "fixes nitrogen" and first < year <= last + 1
        for crop, (first, last) in before
        if crop in garden.crops
    )


def _potatoes_near(garden: Garden, plan: Plan, planting: Planting) -> bool:
    """Return whether potatoes grow in the bed in the planting's garden year or the next, and clubroot is not known."""
    if "clubroot" in garden.beds[planting.bed].diseases:
        return False
    year = _hosts(garden, planting)[0]
    potatoes = garden.graph.crops_meant("potato")
    return any(
        other.bed == planting.bed and other.crop in potatoes and _hosts(garden, other)[0] in (year, year + 1)
        for other in plan.plantings
    )


def _raw_until(garden: Garden, plan: Plan, planting: Planting, day: date) -> tuple[date | None, Planting | None]:
    """Return the last day for raw manure in the planting's bed from a day on, and what is picked soonest after it."""
    limits = [
        (
            other.first_harvest - timedelta(days=days_after_manure(garden.crops[other.crop], garden.scenario.rules)),
            other,
        )
        for other in plan.plantings
        if other.bed == planting.bed and other.first_harvest is not None and (other.last_harvest or day) >= day
    ]
    return min(limits, key=lambda limit: limit[0], default=(None, None))
