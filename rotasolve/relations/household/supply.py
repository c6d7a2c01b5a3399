"""Supply over the year: the harvest of each half month against what the household wishes then, with a store between.

What is counted, and how:

* A planting's harvest is spread evenly over the days on which it is picked.
* A target's part to be eaten fresh is wished in equal parts in its fresh half months. If none are named, it is wished
  while the plan harvests the crop, and while it still keeps if nothing is to be kept besides. The part to be kept is
  wished in equal parts in the other half months for which the harvest keeps. Without a harvest both are wished all
  through the garden year.
* What is harvested is eaten first. Of the rest so much is kept as will be wished before it spoils and is not in store
  already; the remainder is surplus. Nobody knows the harvests to come, so what is kept may still spoil.
* What is kept is eaten when the harvest does not do, the oldest first. It keeps as long as the crop's storage figure
  says, at the best temperature, or as long as a jar does if the target is counted in jars.

Everything is in whole grams, so that harvested = eaten fresh + kept + surplus holds to the gram, and kept = eaten
later + spoilt + left in store.
"""

from __future__ import annotations

from collections import defaultdict, deque
from collections.abc import Callable, Iterable, Iterator, Mapping
from datetime import timedelta
from typing import TYPE_CHECKING, Literal

from rotasolve.domain.seasons import PERIODS_PER_YEAR, first_day, garden_year, last_day, period_of
from rotasolve.domain.supply import CropSupply, HalfMonthSupply, Spell, YieldLevel
from rotasolve.relations.household.wanted import shown_in, wish_by_crop

if TYPE_CHECKING:
    from rotasolve.domain.crop import Crop
    from rotasolve.domain.household import Target
    from rotasolve.domain.plan import Planting
    from rotasolve.relations.ground.garden import Garden

_DAYS_PER_HALF_MONTH = 365.25 / PERIODS_PER_YEAR
_WORTH_NAMING = 0.05
"""Gaps, gluts and stores below this share of a year's target are not named: common practice, no source."""

Grams = Mapping[int, int]
"""Grams by half month."""


def supply_of(garden: Garden, plantings: Iterable[Planting], level: YieldLevel = "typical") -> tuple[CropSupply, ...]:
    """Return the supply of each crop with a target, and of each other crop the plan harvests, in that order."""
    by_crop: dict[str, list[Planting]] = {target.crop: [] for target in garden.scenario.household.targets}
    wish_of = wish_by_crop(garden)
    for planting in plantings:
        if planting.first_harvest is not None and planting.last_harvest is not None:
            by_crop.setdefault(wish_of.get(planting.crop, planting.crop), []).append(planting)
    targets = {target.crop: target for target in garden.scenario.household.targets}
    return tuple(_supply(garden, garden.crops[name], targets.get(name), ours, level) for name, ours in by_crop.items())


def _supply(
    garden: Garden, crop: Crop, target: Target | None, plantings: list[Planting], level: YieldLevel
) -> CropSupply:
    harvest: dict[int, int] = defaultdict(int)
    for planting in plantings:
        for period, grams in harvest_by_half_month(planting, level).items():
            harvest[period] += grams
    how, weeks = keeping(crop, target)
    keeps = round(weeks * 7 / _DAYS_PER_HALF_MONTH)
    wanted = {} if target is None else wanted_by_half_month(garden, target, harvest, keeps)
    first = min([garden.first_period, *harvest])
    last = max([garden.last_period, *harvest, *wanted])
    half_months = balance(harvest, wanted, keeps, first, last)
    spells = () if target is None else tuple(spells_of(half_months, round(target.kg * 1000 * _WORTH_NAMING)))
    unit, each = ("kg", 1.0) if target is None else shown_in(target, garden.scenario.household, crop)
    return CropSupply(
        crop=crop.name,
        keeps=how,
        keeps_weeks=weeks,
        half_months=half_months,
        spells=spells,
        counted_in=unit,
        kg_per_unit=each,
    )


def keeping(crop: Crop, target: Target | None) -> tuple[Literal["cool", "in jars", "not"], float]:
    """Return how a crop is kept, and for how many weeks."""
    if target is not None and target.counted_in == "litres of jars" and crop.jar_weeks is not None:
        return "in jars", crop.jar_weeks.usual
    if crop.storage_weeks is None:
        return "not", 0.0
    return "cool", crop.storage_weeks.usual


def harvest_by_half_month(planting: Planting, level: YieldLevel) -> dict[int, int]:
    """Return the grams a planting yields in each half month in which it is picked; they add up to its harvest."""
    if planting.first_harvest is None or planting.last_harvest is None:
        return {}
    kg = {
        "low": planting.harvest.low_kg,
        "typical": planting.harvest.typical_kg,
        "high": planting.harvest.high_kg,
    }[level]
    days = {}
    day = planting.first_harvest
    while day <= planting.last_harvest:
        end = min(last_day(period_of(day)), planting.last_harvest)
        days[period_of(day)] = (end - day).days + 1
        day = end + timedelta(days=1)
    return in_parts(round(kg * 1000), days)


def in_parts(grams: int, weights: Mapping[int, int]) -> dict[int, int]:
    """Cut grams into whole parts by weight; they add up to the whole."""
    total, seen, given = sum(weights.values()), 0, 0
    parts = {}
    for key, weight in weights.items():
        seen += weight
        parts[key] = grams * seen // total - given
        given += parts[key]
    return parts


def wanted_by_half_month(garden: Garden, target: Target, harvest: Iterable[int] = (), keeps: int = 0) -> dict[int, int]:
    """Return the grams wished in each half month; they add up to the target times the years of the plan.

    ``harvest`` are the half months in which the plan harvests the crop, ``keeps`` how many more it lasts.
    """
    south = garden.scenario.site.south
    wanted: dict[int, int] = {}
    years: dict[int, list[int]] = defaultdict(list)
    for period in range(garden.first_period, garden.last_period + 1):
        years[garden_year(first_day(period), south)].append(period)
    grams = round(target.kg * 1000)
    kept = round(grams * target.kept_share)
    for year, periods in years.items():
        fresh = [p for p in periods if first_day(p).month in target.fresh_months]
        ours = [p for p in harvest if garden_year(first_day(p), south) == year]
        there = sorted({later for p in ours for later in range(p, p + keeps + 1)})
        if not target.fresh_months:
            # Where some is to be kept, the fresh part is that of the harvest; where none is, it may lie a while.
            fresh = sorted(ours) if kept else there
        fresh = fresh or periods
        others = [p for p in there if p not in fresh] or [p for p in periods if p not in fresh] or periods
        for part, among in ((grams - kept, fresh), (kept, others)):
            for period, share in in_parts(part, dict.fromkeys(among, 1)).items():
                wanted[period] = wanted.get(period, 0) + share
    return wanted


def balance(harvest: Grams, wanted: Grams, keeps: int, first: int, last: int) -> tuple[HalfMonthSupply, ...]:
    """Return every half month from ``first`` to ``last``; what is kept lasts ``keeps`` half months more."""
    store: deque[list[int]] = deque()
    found = []
    for period in range(first, last + 1):
        spoilt = 0
        while store and store[0][0] < period:
            spoilt += store.popleft()[1]
        need, got = wanted.get(period, 0), harvest.get(period, 0)
        fresh = min(need, got)
        eaten_kept, missing = 0, need - fresh
        while store and missing:
            taken = min(missing, store[0][1])
            store[0][1] -= taken
            eaten_kept, missing = eaten_kept + taken, missing - taken
            if not store[0][1]:
                store.popleft()
        stock = sum(grams for _, grams in store)
        ahead = sum(wanted.get(later, 0) for later in range(period + 1, period + keeps + 1))
        kept = min(got - fresh, max(0, ahead - stock))
        if kept:
            store.append([period + keeps, kept])
        found.append(
            HalfMonthSupply(
                period=period,
                wanted_g=need,
                harvested_g=got,
                eaten_fresh_g=fresh,
                kept_g=kept,
                surplus_g=got - fresh - kept,
                eaten_kept_g=eaten_kept,
                spoilt_g=spoilt,
                in_store_g=stock + kept,
            )
        )
    return tuple(found)


def spells_of(half_months: tuple[HalfMonthSupply, ...], least_g: int) -> Iterator[Spell]:
    """Yield the gaps, the gluts and the times with something in store, each kind in order of time.

    Those of less than ``least_g`` grams are left out.
    """
    for run in _runs(half_months, lambda half: half.wanted_g > 0 and 2 * half.short_g > half.wanted_g):
        short = sum(half.short_g for half in run)
        if short >= least_g:
            yield _spell("gap", run, short)
    for run in _runs(half_months, lambda half: half.surplus_g > half.wanted_g):
        surplus = sum(half.surplus_g for half in run)
        if surplus >= least_g:
            yield _spell("glut", run, surplus)
    for run in _runs(half_months, lambda half: half.in_store_g > 0):
        most = max(half.in_store_g for half in run)
        if most >= least_g:
            yield _spell("in store", run, most, run[-1] is not half_months[-1])


def _spell(
    kind: Literal["gap", "glut", "in store"], run: list[HalfMonthSupply], grams: int, runs_out: bool = True
) -> Spell:
    return Spell(kind=kind, first_period=run[0].period, last_period=run[-1].period, grams=grams, runs_out=runs_out)


def _runs(
    half_months: Iterable[HalfMonthSupply], belongs: Callable[[HalfMonthSupply], bool]
) -> Iterator[list[HalfMonthSupply]]:
    run: list[HalfMonthSupply] = []
    for half in half_months:
        if belongs(half):
            run.append(half)
        elif run:
            yield run
            run = []
    if run:
        yield run
