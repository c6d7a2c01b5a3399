"""What each target gets, counted from plantings."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from rotasolve.domain.plan import Harvest, Planting, TargetOutcome
from rotasolve.domain.seasons import first_day, garden_year, last_day
from rotasolve.relations.household.supply import harvest_by_half_month
from rotasolve.relations.household.wanted import shown_in

if TYPE_CHECKING:
    from datetime import date

    from rotasolve.domain.household import Target
    from rotasolve.domain.supply import YieldLevel
    from rotasolve.relations.ground.garden import Garden

_ENOUGH = 0.9
"""A half month counts as picked where so much of the amount wished in it is there."""


def fresh_periods(garden: Garden, target: Target) -> Iterator[int]:
    """Yield every half month of the plan in which a fresh harvest is wished."""
    for period in range(garden.first_period, garden.last_period + 1):
        if first_day(period).month in target.fresh_months:
            yield period


def picked_in(plantings: Iterable[Planting], period: int) -> bool:
    """Return whether any of the plantings is picked on a day of a half month."""
    return any(
        planting.first_harvest is not None
        and planting.last_harvest is not None
        and planting.first_harvest <= last_day(period)
        and planting.last_harvest >= first_day(period)
        for planting in plantings
    )


def wished_kg(target: Target, period: int) -> float:
    """Return the kilograms of a yearly target that fall to one of its fresh half months, by days."""
    return target.kg * days_between(first_day(period), last_day(period), period) / target.fresh_days


def days_between(first: date, last: date, period: int) -> int:
    """Return how many of the days from first to last, both included, lie in a half month."""
    return max(0, (min(last, last_day(period)) - max(first, first_day(period))).days + 1)


def _has_its_amount(plantings: Iterable[Planting], target: Target, period: int, at: YieldLevel) -> bool:
    got = sum(harvest_by_half_month(planting, at).get(period, 0) for planting in plantings)
    return got >= _ENOUGH * 1000 * wished_kg(target, period)


def target_outcomes(garden: Garden, plantings: tuple[Planting, ...]) -> tuple[TargetOutcome, ...]:
    """Return what each target gets in each garden year, summed from the plantings."""
    south, household = garden.scenario.site.south, garden.scenario.household
    level: YieldLevel = "low" if household.meet_targets_at == "low yield" else "typical"
    outcomes = []
    for target in household.targets:
        unit, each = shown_in(target, household, garden.crops[target.crop])
        kinds = garden.meeting(target.crop)
        ours = [p for p in plantings if p.crop in kinds and p.first_harvest and p.last_harvest]
        for year in garden.scenario.planned_years:
            theirs = [p.harvest for p in ours if p.first_harvest and garden_year(p.first_harvest, south) == year]
            wished = [p for p in fresh_periods(garden, target) if garden_year(first_day(p), south) == year]
            hit = [
                period
                for period in wished
                if picked_in(ours, period)
                and (target.kg_a_week is None or _has_its_amount(ours, target, period, level))
            ]
            outcomes.append(
                TargetOutcome(
                    crop=target.crop,
                    year=year,
                    wanted_kg=target.kg,
                    got=Harvest(
                        low_kg=round(sum(h.low_kg for h in theirs), 3),
                        typical_kg=round(sum(h.typical_kg for h in theirs), 3),
                        high_kg=round(sum(h.high_kg for h in theirs), 3),
                    ),
                    fresh_half_months=len(hit),
                    fresh_half_months_wanted=len(wished),
                    keep_kg=round(target.kg * target.kept_share, 3),
                    counted_in=unit,
                    kg_per_unit=each,
                    met_at=household.meet_targets_at,
                )
            )
    return tuple(outcomes)
