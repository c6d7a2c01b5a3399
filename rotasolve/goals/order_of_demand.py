"""Order of demand: heavy feeders after legumes and not twice running, roots off fed ground, light feeders last.

What it asks
    Of each bed (strip, with ``rotation: strip``) and garden year it is looked at what stands at the height of the
    growing season, the half month in its middle. 5 points are lost where heavy feeders stand in two years running, and
    where crops that want no fresh manure (``no_fresh_manure`` in the crop files: carrots, parsnips) stand beside heavy
    feeders, for which the ground was fed. 2 points are lost where heavy feeders stand and no crop that fixes nitrogen
    was a host in the year before, for such ground asks for compost (``relations/work/feeding`` says when), and where
    light feeders stand though one was, for they leave what it gathered. The history counts as the year before.
    ``order_of_demand`` says how much that counts: ``usual``, ``much`` (three times as many points) or ``not at all``.
Why
    A German allotment association puts heavy feeders first, on ground manured in late autumn, medium ones next, light
    ones last, and never two heavy ones running (FD1); a four-year plan keeps manure from roots and legumes (NUTR-4);
    British orders put cabbages after peas and beans (RHS-3, COLEMAN-8, HILLS-1978), one the other way round
    (LONGCROFT), and a leaflet of 1941 manured for potatoes and roots together (MAFF-1941). That nitrogen-fixing crops
    help heavy feeders has some evidence (SARE-SB41, YFANT-2024), the rest is tradition, and two German lists of heavy
    feeders disagree on 8 of 27 crops: so it is a light goal, never a rule. The points are common practice, no source.
Loosen it
    ``rules: {order_of_demand: not at all}``.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from rotasolve.domain.claim import Facts
from rotasolve.domain.plan import GoalScore, Plan
from rotasolve.domain.seasons import period_of
from rotasolve.recount.families import stay_before, stay_of
from rotasolve.recount.ground import cut_of
from rotasolve.recount.seasons import middles_of
from rotasolve.relations.ground.growing_season import growing_periods, heights_of_seasons
from rotasolve.relations.ground.hosts import past_host_years

if TYPE_CHECKING:
    from rotasolve.board import Board
    from rotasolve.relations.ground.garden import Cell, Garden

TIMES = {"not at all": 0, "usual": 1, "much": 3}
MUCH_AMISS = 5
"""Points for heavy feeders two years running, and for roots on ground that was fed."""
LITTLE_AMISS = 2
"""Points for heavy feeders without legumes before them, and for light ones after legumes."""

Kind = Literal["heavy", "light", "fixes", "roots"]
_Mark = int | Literal[True] | None


@dataclass(frozen=True)
class DemandMet(Facts):
    """In how many beds and years heavy feeders stand, and how often each of the four orders is not kept."""

    heavy: int
    heavy_again: int
    roots_on_fed: int
    heavy_unprepared: int
    light_after_legumes: int


class OrderOfDemand:
    """Heavy feeders first, light ones last."""

    key = "order-of-demand"
    reached = DemandMet

    def cost(self, garden: Garden, board: Board) -> None:
        """Charge each bed and garden year by marks for what stands there at the height of the season."""
        if not TIMES[garden.scenario.rules.order_of_demand]:
            return
        crops = {kind: _crops(garden, kind) for kind in ("heavy", "light", "fixes", "roots")}
        for zone, cells in garden.zones.items():
            heavy_before: _Mark = _known(garden, zone, crops["heavy"], garden.scenario.first_year - 1)
            for year, period in heights_of_seasons(garden).items():
                heavy, light, roots = (
                    board.stands(cells, period, board.members(cells, crops[kind]))
                    for kind in ("heavy", "light", "roots")
                )
                fixing = [
                    n
                    for n in sorted(board.members(cells, crops["fixes"]))
                    if garden.choices[n].sowing.hosts[0] < year <= garden.choices[n].sowing.hosts[1] + 1
                ]
                fixed = _known(garden, zone, crops["fixes"], year - 1)
                _charge_both(garden, board, MUCH_AMISS, heavy_before, heavy)
                _charge_both(garden, board, MUCH_AMISS, heavy, roots)
                if heavy is not None and not fixed:
                    bare = board.variable(f"heavy feeders in {zone} in {year} after no legumes", 1)
                    board.define([(bare, 1), (heavy, -1), *((n, 1) for n in fixing)], low=0)
                    board.lose(_points(garden, LITTLE_AMISS), bare)
                if light is not None and fixing and not fixed:
                    there = board.variable(f"legumes in {zone} before {year}", 1)
                    board.define([*((n, 1) for n in fixing), (there, -len(fixing))], high=0)
                    _charge_both(garden, board, LITTLE_AMISS, there, light)
                elif fixed:
                    _charge_both(garden, board, LITTLE_AMISS, True, light)
                heavy_before = heavy

    def score(self, garden: Garden, plan: Plan) -> GoalScore:
        """Recount what stands on each ground at the height of each season, and what stood there the year before."""
        scenario, south = garden.scenario, garden.scenario.site.south
        middles = middles_of(growing_periods(garden), south)
        feeds = {crop.name: crop.feeder for crop in garden.catalogue.crops if not crop.green_manure}
        fixes = {crop.name for crop in garden.catalogue.crops if crop.feeder == "fixes nitrogen"}
        roots = {crop.name for crop in garden.catalogue.crops if crop.no_fresh_manure is not None}
        heavy = again = on_fed = unprepared = wasted = 0
        for bed in scenario.beds:
            for strip in range(1, cut_of(bed).strips + 1) if scenario.rules.rotation == "strip" else (0,):
                here = [p for p in plan.plantings if p.bed == bed.name and (not strip or strip in p.strips)]
                old = [
                    p for p in scenario.history if p.bed == bed.name and (not strip or strip in (p.strips or (strip,)))
                ]
                before = [stay_before(past, south) for past in old]
                stays = [*before, *(stay_of(planting, south) for planting in here)]
                was_heavy = any(
                    feeds.get(stay.crop or "") == "heavy" and stay.first < scenario.first_year <= stay.last + 1
                    for stay in before
                )
                for year, middle in middles.items():
                    there = {p.crop for p in here if period_of(p.start) <= middle <= period_of(p.clear)}
                    kinds = {feeds.get(crop) for crop in there}
                    legumes = any(s.crop in fixes and s.first < year <= s.last + 1 for s in stays)
                    is_heavy = "heavy" in kinds
                    heavy += is_heavy
                    again += is_heavy and was_heavy
                    on_fed += is_heavy and bool(there & roots)
                    unprepared += is_heavy and not legumes
                    wasted += "light" in kinds and legumes
                    was_heavy = is_heavy
        times = {"much": 3, "usual": 1}.get(scenario.rules.order_of_demand, 0)
        lost = times * (5 * (again + on_fed) + 2 * (unprepared + wasted))
        return GoalScore(goal=self.key, lost=lost, reached=DemandMet(heavy, again, on_fed, unprepared, wasted))


def _points(garden: Garden, points: int) -> int:
    return points * TIMES[garden.scenario.rules.order_of_demand]


def _crops(garden: Garden, kind: Kind) -> frozenset[str]:
    """Return the crops of a kind; green manures are dug in and take nothing, but they may fix nitrogen."""
    crops = garden.crops.values()
    if kind == "fixes":
        return frozenset(crop.name for crop in crops if crop.feeder == "fixes nitrogen")
    if kind == "roots":
        return frozenset(crop.name for crop in crops if crop.no_fresh_manure is not None)
    return frozenset(crop.name for crop in crops if crop.feeder == kind and not crop.green_manure)


def _known(garden: Garden, zone: Cell, crops: frozenset[str], year: int) -> Literal[True] | None:
    """Return True if one of the crops was a host on the ground in a garden year, from before the plan, else None."""
    south = garden.scenario.site.south
    for past in garden.scenario.past_in(zone.bed):
        first, last = past_host_years(past, south)
        if past.crop in crops and first <= year <= last and (not garden.by_strip or past.takes(zone.strip)):
            return True
    return None


def _charge_both(garden: Garden, board: Board, points: int, one: _Mark, other: int | None) -> None:
    """Charge points where two marks are set; ``True`` is one that always is, None one that never is."""
    if one is None or other is None:
        return
    if one is True:
        board.lose(_points(garden, points), other)
        return
    both = board.variable(f"both {one} and {other}", 1)
    board.define([(one, 1), (other, 1), (both, -1)], high=1)
    board.lose(_points(garden, points), both)
