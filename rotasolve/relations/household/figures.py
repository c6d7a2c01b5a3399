"""A plan in figures, and where plans differ: counted from plantings and the referee's targets, nothing else."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Sequence
from typing import TYPE_CHECKING

from rotasolve.domain.comparison import CropFigures, Difference, PlanFigures, WorkLoad
from rotasolve.domain.plan import Harvest
from rotasolve.domain.seasons import period_of
from rotasolve.domain.strips import strips_in_bed

if TYPE_CHECKING:
    from collections.abc import Iterable

    from rotasolve.domain.plan import Plan, Planting, TargetOutcome
    from rotasolve.relations.ground.garden import Garden

DAYS_PER_MONTH = 365.25 / 12


def plan_figures(garden: Garden, plan: Plan) -> PlanFigures:
    """Return the figures of a plan whose targets the referee has recounted."""
    wished: dict[str, list[TargetOutcome]] = defaultdict(list)
    for outcome in plan.targets:
        wished[outcome.crop].append(outcome)
    others: dict[str, list[Planting]] = defaultdict(list)
    for planting in plan.plantings:
        if planting.crop not in wished and planting.harvest.high_kg:
            others[planting.crop].append(planting)
    return PlanFigures(
        crops=(
            *(_of_target(crop, outcomes) for crop, outcomes in wished.items()),
            *(CropFigures(crop=crop, got=_sum(p.harvest for p in others[crop])) for crop in sorted(others)),
        ),
        ground_m2=round(_ground_m2(garden, plan), 2),
        bed_months=round(sum(_bed_months(garden, planting) for planting in plan.plantings), 2),
        work=work_of(plan.plantings),
    )


def _of_target(crop: str, outcomes: list[TargetOutcome]) -> CropFigures:
    return CropFigures(
        crop=crop,
        wanted_kg=round(sum(outcome.wanted_kg for outcome in outcomes), 3),
        got=_sum(outcome.got for outcome in outcomes),
        short_kg=round(sum(outcome.short_kg for outcome in outcomes), 3),
        fresh_half_months=sum(outcome.fresh_half_months for outcome in outcomes),
        fresh_half_months_wanted=sum(outcome.fresh_half_months_wanted for outcome in outcomes),
        counted_in=outcomes[0].counted_in,
        kg_per_unit=outcomes[0].kg_per_unit,
    )


def _sum(harvests: Iterable[Harvest]) -> Harvest:
    listed = list(harvests)
    return Harvest(
        low_kg=round(sum(harvest.low_kg for harvest in listed), 3),
        typical_kg=round(sum(harvest.typical_kg for harvest in listed), 3),
        high_kg=round(sum(harvest.high_kg for harvest in listed), 3),
    )


def _ground_m2(garden: Garden, plan: Plan) -> float:
    used = {(planting.bed, strip) for planting in plan.plantings for strip in planting.strips}
    in_bed = Counter(bed for bed, _ in used)
    return sum(
        garden.beds[bed].length * garden.beds[bed].width / 10_000 * strips / strips_in_bed(garden.beds[bed])
        for bed, strips in in_bed.items()
    )


def _bed_months(garden: Garden, planting: Planting) -> float:
    days = (planting.clear - planting.start).days + 1
    return len(planting.strips) / strips_in_bed(garden.beds[planting.bed]) * days / DAYS_PER_MONTH


def work_of(plantings: Iterable[Planting]) -> tuple[WorkLoad, ...]:
    """Return how many plantings are sown and set out in each half month with any, in order of time."""
    sown: Counter[int] = Counter()
    out: Counter[int] = Counter()
    for planting in plantings:
        if planting.raise_from is not None:
            sown[period_of(planting.raise_from)] += 1
        (out if planting.way == "set out" else sown)[period_of(planting.start)] += 1
    return tuple(
        WorkLoad(period=period, sowings=sown[period], settings_out=out[period]) for period in sorted({*sown, *out})
    )


def differences(plans: Sequence[Plan], south: bool) -> tuple[Difference, ...]:
    """Return every crop, bed and garden year of start in which the plans do not have as many plants."""
    plants: dict[tuple[int, str, str], list[int]] = {}
    for side, plan in enumerate(plans):
        for planting in plan.plantings:
            key = (planting.begins_in(south), planting.bed, planting.crop)
            plants.setdefault(key, [0] * len(plans))[side] += planting.plants
    return tuple(
        Difference(year=year, bed=bed, crop=crop, plants=tuple(counts))
        for (year, bed, crop), counts in sorted(plants.items())
        if len(set(counts)) > 1
    )
