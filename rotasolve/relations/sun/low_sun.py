"""Plantings of a plan that get less sun than their crop usually wants, walls and trees counted, other crops not."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.domain.seasons import period_of
from rotasolve.domain.sun import LowSun

if TYPE_CHECKING:
    from collections.abc import Iterable

    from rotasolve.domain.plan import Planting
    from rotasolve.relations.ground.garden import Garden


def low_sun(garden: Garden, plantings: Iterable[Planting]) -> tuple[LowSun, ...]:
    """Return each crop and bed of which a planting gets less sun than wanted, those that miss most hours first.

    The rule of the least sun keeps crops off ground on which they fail; these bear, but less.
    """
    scenario = garden.scenario
    if not scenario.obstacles and all(bed.sun_hours is None for bed in scenario.beds):
        return ()  # in the open every bed has all the sun there is; numpy takes long to load
    from rotasolve.relations.sun.bed_sun import judged, month_of, strip_minutes

    found: dict[tuple[str, str], LowSun] = {}
    for planting in plantings:
        bed, wanted = garden.beds[planting.bed], garden.crops[planting.crop].sun_hours_least
        if wanted is None or not bed.has_known_sun:
            continue
        periods = range(period_of(planting.start), period_of(planting.clear) + 1)
        months = {month_of(period) for period in periods if judged(period, scenario.site.south)}
        light = [strip_minutes(scenario, bed, month) for month in months]
        hours = [sum(minutes[strip - 1] for strip in planting.strips) / len(planting.strips) / 60 for minutes in light]
        if hours and min(hours) < wanted.usual:
            low = LowSun(crop=planting.crop, bed=bed.name, hours=round(max(min(hours), 0), 1), wanted=wanted.usual)
            known = found.get((low.crop, low.bed), low)
            found[low.crop, low.bed] = min(known, low, key=lambda one: one.hours)
    return tuple(sorted(found.values(), key=lambda one: (one.hours - one.wanted, one.crop, one.bed)))
