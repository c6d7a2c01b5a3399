"""Crop order: no crop follows on the same ground what it is known to do badly after.

What it asks
    Each crop that is started in a bed (a strip, with ``rotation: strip``) in which a crop stood before that it does
    badly after loses 5 points, with strong evidence 10: once for each crop and garden year, however many plantings.
    Before means that the other was a host in the garden year before (the rule ``rest`` says of which years a crop is
    one), or was cleared in an earlier half month of the same one; the history counts too. Only orders whose evidence is
    "some" or "strong" are charged; tradition alone is a remark. Crops of one family are left to ``rest`` and
    ``longer-rest``, what holds only where a disease is known to the rest of that disease's hosts, and what fresh
    residues of a green manure do to ``green-manure-wait``.
Why
    Each order in ``crops/families.yaml`` has its own source and note: beetroot carries the scab of potatoes
    (PNW-BEETSCAB), sweet corn misses the mycorrhiza that cabbages and beet do not feed (AMF-MAIZE), onions did worse
    after cabbages and beet (URI-309). The points are common practice, no source.
Loosen it
    A light goal: a fraction of a kilogram outweighs it. A crop file of your own may hold other orders.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from rotasolve.domain.claim import Facts
from rotasolve.domain.plan import GoalScore, Plan
from rotasolve.domain.seasons import period_of
from rotasolve.recount.families import Stay, known_orders, stay_before, stay_of
from rotasolve.recount.ground import cut_of
from rotasolve.relations.ground.hosts import past_host_years

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rotasolve.board import Board
    from rotasolve.relations.ground.garden import Cell, Garden

POINTS = {"some": 5, "strong": 10}
_NEVER = 10**6
"""A half month for what has no day of clearing: it lies in a garden year before the plan, whose order is plain."""


@dataclass(frozen=True)
class BadOrder(Facts):
    """A crop that follows one it does badly after in a bed, in a garden year; ``why`` as the crop files note it."""

    before: str
    after: str
    bed: str
    year: int
    evidence: str
    why: str
    south: bool


@dataclass(frozen=True)
class OrdersKept(Facts):
    """How often a crop follows one that it does badly after, and which follows which."""

    times: int
    bad: tuple[BadOrder, ...] = ()


class CropOrder:
    """Nothing after what it does badly after."""

    key = "crop-order"
    reached = OrdersKept

    def cost(self, garden: Garden, board: Board) -> None:
        """Charge each crop and garden year of a bed once for each level of evidence."""
        orders = garden.graph.bad_orders(garden.wanted | {past.crop for past in garden.scenario.history})
        for zone, cells in garden.zones.items():
            for (after, evidence), before in orders.items():
                later = board.members(cells, frozenset({after}))
                for year in sorted({garden.choices[number].sowing.hosts[0] for number in later}):
                    of_year = frozenset(n for n in later if garden.choices[n].sowing.hosts[0] == year)
                    steps = list(_steps(garden, board, zone, before, of_year, year))
                    if not steps:
                        continue
                    bad = board.variable(f"{after} in {zone} in {year} after what harms it", 1)
                    board.lose(POINTS[evidence], bad)
                    for there, then in steps:
                        # Rows over whole sets, not half month by half month: loose, and few, for a light goal.
                        stands, most = [(n, 1) for n in sorted(then)], len(then)
                        if there is None:
                            board.define([*stands, (bad, -most)], high=0)
                            continue
                        stood = board.variable(f"what harms {after} stood in {zone} before {year}", 1)
                        board.define([*((n, 1) for n in sorted(there)), (stood, -len(there))], high=0)
                        board.define([*stands, (bad, -most), (stood, most)], high=most)

    def score(self, garden: Garden, plan: Plan) -> GoalScore:
        """Look, for each planting, at what stood on its ground in the year before and earlier in its own."""
        scenario, lost, found = garden.scenario, 0, dict[BadOrder, None]()
        south = scenario.site.south
        orders = known_orders(garden.catalogue)
        for bed in scenario.beds:
            for strip in range(1, cut_of(bed).strips + 1) if scenario.rules.rotation == "strip" else (0,):
                here = list(_told(garden, plan, bed.name, strip))
                bad = {
                    BadOrder(one.crop or "", other.crop or "", bed.name, other.first, *known, south)
                    for other, start, _ in here
                    for one, _, clear in here
                    if other.planting is not None
                    and (known := orders.get((one.crop or "", other.crop or "")))
                    and (one.last == other.first - 1 or (one.last == other.first and clear < start))
                }
                lost += sum(
                    10 if level == "strong" else 5 for *_, level in {(o.after, o.year, o.evidence) for o in bad}
                )
                found |= dict.fromkeys(sorted(bad, key=lambda order: (order.year, order.after, order.before)))
        return GoalScore(goal=self.key, lost=lost, reached=OrdersKept(len(found), tuple(found)))


def _steps(
    garden: Garden, board: Board, zone: Cell, before: frozenset[str], later: frozenset[int], year: int
) -> Iterator[tuple[frozenset[int] | None, frozenset[int]]]:
    """Yield pairs of choices of which the second must not follow the first; None for what stood there before the plan.

    First the year before and all of the year, then, for each later half month of starting, what is cleared by then.
    """
    ends: dict[int | None, set[int]] = {}
    sown = {n: garden.choices[n].sowing for n in board.members(garden.zones[zone], before)}
    for number, sowing in sown.items():
        if sowing.hosts[1] == year - 1:
            ends.setdefault(None, set()).add(number)
        elif sowing.hosts[1] == year:
            ends.setdefault(sowing.periods[-1], set()).add(number)
    south, always, from_period = garden.scenario.site.south, False, list[int]()
    for past in garden.scenario.past_in(zone.bed):
        if past.crop in before and (not garden.by_strip or past.takes(zone.strip)):
            last = past_host_years(past, south)[1]
            always |= last == year - 1
            if last == year and past.until is not None:
                from_period.append(period_of(past.until))
    if always:
        yield None, later
        return
    if None in ends:
        yield frozenset(ends[None]), later
    if from_period:
        after_it = frozenset(n for n in later if garden.choices[n].sowing.periods[0] > min(from_period))
        if after_it:
            yield None, after_it
    told: frozenset[int] = frozenset()
    for start in sorted({garden.choices[n].sowing.periods[0] for n in later}):
        cleared = frozenset(n for end, of_end in ends.items() if end is not None and end < start for n in of_end)
        if cleared and cleared != told:
            told = cleared
            yield cleared, frozenset(n for n in later if garden.choices[n].sowing.periods[0] >= start)


def _told(garden: Garden, plan: Plan, bed: str, strip: int) -> Iterator[tuple[Stay, int, int]]:
    """Yield what stands on ground before and in the plan, each with the half months of its start and its clearing."""
    south = garden.scenario.site.south
    for past in garden.scenario.history:
        if past.bed == bed and (not strip or not past.strips or strip in past.strips):
            yield stay_before(past, south), 0, _NEVER if past.until is None else period_of(past.until)
    for planting in plan.plantings:
        if planting.bed == bed and (not strip or strip in planting.strips):
            yield stay_of(planting, south), period_of(planting.start), period_of(planting.clear)
