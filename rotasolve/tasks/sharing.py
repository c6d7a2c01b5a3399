"""What many plots order, lend and swap: rows for each garden, their sums, and who could give whom what.

Swaps are found half month by half month and crop by crop: the garden with most to spare gives to the one that is most
short, until one side has nothing left. Nobody walks for less than ``LEAST_SWAP_G``.
"""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator
from datetime import date, timedelta
from typing import TYPE_CHECKING

from rotasolve.domain.seasons import first_day, garden_year, last_day, year_end, year_start
from rotasolve.domain.sharing import Pair, ShareKind, ShareRow, ShareSum
from rotasolve.relations.household.supply import supply_of
from rotasolve.relations.work.jobs import jobs_of
from rotasolve.relations.work.seeds import ground_m2
from rotasolve.relations.work.shopping import purchases_of
from rotasolve.relations.work.tools import TOOL_OF

if TYPE_CHECKING:
    from rotasolve.domain.plan import Plan
    from rotasolve.relations.ground.garden import Garden

LEAST_SWAP_G = 200
"""A handful: common practice, no source."""
_USED_UP = ("seed", "set", "clove", "tuber", "slip", "plant", "compost")


def share_rows(name: str, garden: Garden, plan: Plan) -> Iterator[ShareRow]:
    """Yield what one garden orders, uses and has over by its plan, in a usual year."""
    yield from _bought(name, garden, plan)
    yield from _by_week(name, garden, plan)
    yield from _left_and_short(name, garden, plan)


def _bought(name: str, garden: Garden, plan: Plan) -> Iterator[ShareRow]:
    south = garden.scenario.site.south
    for year, wares in purchases_of(garden, plan).items():
        span = year_start(year, south), year_end(year, south)
        for ware in wares:
            kind: ShareKind = "order" if ware.ware in _USED_UP else "kit"
            what = ware.what if ware.pot_cm is None else f"{ware.what} of {ware.pot_cm:g} cm"
            yield ShareRow(kind, name, year, *span, ware.ware, what, ware.amount, ware.unit, ware.grams)


def _by_week(name: str, garden: Garden, plan: Plan) -> Iterator[ShareRow]:
    south = garden.scenario.site.south
    counts: dict[tuple[date, ShareKind, str, str], float] = defaultdict(float)
    for job in jobs_of(garden, plan):
        monday = job.day - timedelta(days=job.day.weekday())
        if (tool := TOOL_OF.get(job.kind)) is not None:
            counts[monday, "tool", tool, "jobs"] += 1
        if job.kind == "lime":
            counts[monday, "lime", "lime", "m2"] += ground_m2(garden, job.planting)
        elif job.feeding is not None:
            counts[monday, "compost", "compost", "litres"] += job.feeding.litres
    for (monday, kind, what, unit), amount in sorted(counts.items()):
        # A week belongs to the year of its Thursday, as ISO 8601 has it.
        year, sunday = garden_year(monday + timedelta(days=3), south), monday + timedelta(days=6)
        yield ShareRow(kind, name, year, monday, sunday, kind, what, round(amount, 1), unit)


def _left_and_short(name: str, garden: Garden, plan: Plan) -> Iterator[ShareRow]:
    south = garden.scenario.site.south
    for supply in supply_of(garden, plan.plantings):
        for half in supply.half_months:
            span = first_day(half.period), last_day(half.period)
            sides: tuple[tuple[ShareKind, int], ...] = (("to spare", half.surplus_g), ("short", half.short_g))
            for kind, grams in sides:
                if grams > 0:
                    year = garden_year(span[0], south)
                    yield ShareRow(kind, name, year, *span, "harvest", supply.crop, grams / 1000, "kg")


def swaps_of(rows: Iterable[ShareRow]) -> Iterator[ShareRow]:
    """Yield who could give whom what, by half month and crop."""
    spare: dict[tuple[date, str], list[ShareRow]] = defaultdict(list)
    short: dict[tuple[date, str], list[ShareRow]] = defaultdict(list)
    for row in rows:
        if row.kind in ("to spare", "short"):
            (spare if row.kind == "to spare" else short)[row.first, row.what].append(row)
    for key in sorted(spare.keys() & short.keys()):
        yield from _swaps(spare[key], short[key])


def _swaps(spare: list[ShareRow], short: list[ShareRow]) -> Iterator[ShareRow]:
    left = {row: _grams(row) for row in (*spare, *short)}
    givers, takers = ([row for row in sorted(side, key=_most_first) if _worth(left[row])] for side in (spare, short))
    while givers and takers:
        giver, taker = givers[0], takers[0]
        grams = min(left[giver], left[taker])
        yield giver._replace(kind="swap", amount=grams / 1000, other=taker.garden)
        for side in (givers, takers):
            left[side[0]] -= grams
            if not _worth(left[side[0]]):
                side.pop(0)


def _worth(grams: int) -> bool:
    return grams >= LEAST_SWAP_G


def _grams(row: ShareRow) -> int:
    return round(row.amount * 1000)


def _most_first(row: ShareRow) -> tuple[float, str]:
    return -row.amount, row.garden


def sums_of(rows: Iterable[ShareRow]) -> list[ShareSum]:
    """Return the sums over all gardens, by kind, span and thing; weights are known only if each garden's is."""
    by_thing: dict[tuple[str, date, str, str, str], list[ShareRow]] = defaultdict(list)
    for row in rows:
        by_thing[row.kind, row.first, row.ware, row.what, row.unit].append(row)
    found = []
    for _, ours in sorted(by_thing.items(), key=lambda item: item[0]):
        row = ours[0]
        amount = math.fsum(one.amount for one in ours)
        grams = None if any(one.grams is None for one in ours) else math.fsum(one.grams or 0 for one in ours)
        gardens = len({one.garden for one in ours})
        fields = (row.kind, row.year, row.first, row.last, row.ware, row.what, round(amount, 3), row.unit)
        found.append(ShareSum(*fields, grams, gardens))
    return found


def pairs_of(swaps: Iterable[ShareRow]) -> list[Pair]:
    """Return the gardens that could give each other something, those with most each way first, then one-way gifts."""
    given: dict[tuple[str, str], Counter[str]] = defaultdict(Counter)
    for swap in swaps:
        given[swap.garden, swap.other][swap.what] += _grams(swap)
    pairs = []
    for one, other in {tuple(sorted(pair)) for pair in given}:
        ways = (given.get((one, other), Counter()), given.get((other, one), Counter()))
        if ways[0].total() < ways[1].total():
            one, other, ways = other, one, (ways[1], ways[0])
        pairs.append(Pair(one, other, _kg(ways[0]), _kg(ways[1])))
    return sorted(pairs, key=lambda pair: (-_total(pair.gets_kg), -_total(pair.gives_kg), pair.one, pair.other))


def _kg(grams: Counter[str]) -> tuple[tuple[str, float], ...]:
    return tuple((crop, count / 1000) for crop, count in sorted(grams.items(), key=lambda item: (-item[1], item[0])))


def _total(kg: tuple[tuple[str, float], ...]) -> float:
    return math.fsum(amount for _, amount in kg)
