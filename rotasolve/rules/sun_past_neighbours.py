"""Sun past neighbours: the crops of other beds leave every crop the sun it needs at the least.

What it asks
    With ``least_sun: with neighbours`` what crops in other beds take from a bed as a whole, east, west and equator
    side alike, is no more than the bed has beyond the least sun of its crops in the months of high sun: each bed
    counts as full of its tallest crop (heights rounded up to whole steps), the bed is looked at from its ground, and
    what two beds shade together counts twice. It is asked only where all other beds, full of the tallest crop at
    once, could take so much.
Why
    The hours crops want are those of ``least-sun`` (GILLMAN). The sum over neighbours never understates shade, and
    overstates it: of a plan's 144 plantings in 8 beds 60 cm apart it would refuse 60, rays past all beds at once 16.
    So it is asked only of those who wish it; the goal ``little-shade`` weighs the same losses for everybody.
Breaks it
    Tomatoes (6 h) in a bed with 7 hours of sun, of which climbing beans in the next bed could take two.
Loosen it
    ``rules: {least_sun: true}`` (the usual), a smaller ``sun_hours_least`` in a crop file of your own, or
    ``sun_hours`` of the bed as you have counted them.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from rotasolve.domain.claim import Claim, Facts
from rotasolve.domain.hindrance import Hindrance
from rotasolve.domain.plan import Breach
from rotasolve.domain.seasons import first_day
from rotasolve.relations.sun.sun_need import half_months_of, least_minutes, neighbours_count

if TYPE_CHECKING:
    from datetime import date

    from rotasolve.board import Board
    from rotasolve.domain.plan import Plan, Planting
    from rotasolve.relations.ground.garden import Garden
    from rotasolve.relations.ground.sowings import Sowing
    from rotasolve.relations.sun.pair_losses import PairLoss

Heights = dict[tuple[str, int], dict[int, int]]
"""The height in cm of each choice that may stand in a bed in a half month."""


@dataclass(frozen=True)
class ShadeClaim(Claim):
    """The crops of other beds leave every crop in a bed its least sun."""

    rule = "sun-past-neighbours"
    bed: str


@dataclass(frozen=True)
class SunTaken(Facts):
    """A crop's bed has so many hours of sun a day in a month (1 to 12), of which the crops of other beds take some.

    ``taken`` are the beds with their hours.
    """

    crop: str
    need_hours: float
    has_hours: float
    month: int
    taken: tuple[tuple[str, float], ...]


@dataclass(frozen=True)
class WouldLackSun(Facts):
    """A planting would get too little sun beside what stands until a day."""

    lack: SunTaken
    until: date


@dataclass(frozen=True)
class WouldTakeSun(Facts):
    """A planting would leave too little sun to a crop in another bed."""

    lack: SunTaken
    bed: str


class SunPastNeighbours:
    """Enough sun past the crops of other beds."""

    key = ShadeClaim.rule
    holds_inside_a_bed = False

    def post(self, garden: Garden, board: Board) -> None:
        """Keep tall crops away from beds they would make too dark."""
        if not neighbours_count(garden):
            return
        from rotasolve.relations.sun.bed_sun import known_beds

        heights: Heights = {}
        for bed in known_beds(garden.scenario):
            with board.because(ShadeClaim(bed.name)):
                self._post_neighbours(garden, board, bed.name, heights)

    @staticmethod
    def _post_neighbours(garden: Garden, board: Board, name: str, heights: Heights) -> None:
        """Sum what the tallest crop of each other bed takes, wherever the sum could become too much."""
        from rotasolve.relations.sun.bed_sun import bed_minutes, judged, may_want, month_of
        from rotasolve.relations.sun.pair_losses import pair_loss

        bed, site = garden.beds[name], garden.scenario.site
        tallest = max((garden.crops[crop].height.usual for crop in garden.wanted), default=0.0)
        cells = tuple(cell for cell in garden.cells if cell.bed == name)
        own = {p for kept in garden.kept if kept.bed == name for p in half_months_of(kept)}
        for period in sorted(p for p in own.union(board.periods_of(cells)) if judged(p, site.south)):
            month = month_of(period)
            have = bed_minutes(garden.scenario, bed, month)
            receivers: dict[int, set[int]] = {}
            for cell in cells:
                for n in board.on_cell(cell, period):
                    receivers.setdefault(least_minutes(garden, board.crop_of(n)), set()).add(n)
            # Kept plantings stand by the days they were given, whatever half months they take from the ground.
            standing = [kept for kept in garden.kept if kept.bed == name and _stands(kept, period)]
            kept_need = max((least_minutes(garden, kept.crop) for kept in standing), default=0)
            needs = sorted({need for need in (*receivers, kept_need) if need})
            wants = [need for need in needs if may_want(garden.scenario, bed, month, need, tallest)]
            if not wants:
                continue
            losses = {
                other.name: pair_loss(other, bed, site.latitude, month)
                for other in garden.scenario.beds
                if other.name != name
            }
            terms, most, taken = _terms(garden, board, period, heights, losses, max(have - wants[-1], 0))
            for need in wants:
                spare = max(have - need, 0)
                if most > spare and need == kept_need:
                    board.at_most(terms, spare - taken)
                receivers_here = frozenset(receivers.get(need, ()))
                receiving = board.stands(cells, period, receivers_here) if most > spare else None
                if receiving is not None:
                    board.at_most([*terms, (receiving, most - spare)], most - taken)

    def breaches(self, garden: Garden, plan: Plan) -> Iterator[Breach]:
        """Add up what other beds take from each planting's bed, half month by half month."""
        if not neighbours_count(garden):
            return
        from rotasolve.relations.sun.bed_sun import bed_minutes, judged, known_beds, may_want

        known = {bed.name for bed in known_beds(garden.scenario)}
        for planting in plan.plantings:
            figure = garden.crops[planting.crop].sun_hours_least
            if figure is None or planting.bed not in known:
                continue
            need, bed = round(figure.least * 60), garden.beds[planting.bed]
            for period in (one for one in half_months_of(planting) if judged(one, garden.scenario.site.south)):
                month = first_day(period).month
                if not may_want(garden.scenario, bed, month, need, _tallest(garden, plan)):
                    continue
                have = bed_minutes(garden.scenario, bed, month)
                taken = _taken_by(garden, plan, planting, period)
                if sum(taken.values()) > max(have - need, 0):
                    lack = _lack(planting.crop, figure.least * 60, have, taken, period)
                    casting = _casters(plan, taken, period)
                    yield Breach(ShadeClaim(bed.name), lack, (planting, *casting))
                    break

    def hinders(self, garden: Garden, plan: Plan, planting: Planting) -> Iterator[Hindrance]:
        """Bar a planting that would shade others, or be shaded, too much."""
        if neighbours_count(garden):
            yield from _hinders_neighbours(garden, plan, planting)


def _casting(garden: Garden, sowing: Sowing, period: int) -> int:
    from rotasolve.relations.ground.grown import sowing_height_cm, step_up

    return step_up(sowing_height_cm(garden.crops[sowing.crop], sowing, period))


def _standing_heights(garden: Garden, board: Board, bed: str, period: int, heights: Heights) -> dict[int, int]:
    """Return the height of each choice that may stand in a bed in a half month; ``heights`` keeps what is known."""
    if (bed, period) not in heights:
        heights[bed, period] = {
            n: _casting(garden, garden.choices[n].sowing, period)
            for cell in garden.cells
            if cell.bed == bed
            for n in board.on_cell(cell, period)
        }
    return heights[bed, period]


def _terms(
    garden: Garden, board: Board, period: int, heights: Heights, losses: dict[str, PairLoss], spare: int
) -> tuple[list[tuple[int, int]], int, int]:
    """Return what the tallest crop of each bed takes in minutes, as marks, the most all can come to, and the least.

    The least is what kept plantings take in any case, to which the marks add. There are no marks, for nothing need be
    asked, if the most is no more than ``spare``.
    """
    from rotasolve.relations.ground.grown import tallest_standing

    kept = tallest_standing(garden.crops, garden.kept, period)
    standing = {other: _standing_heights(garden, board, other, period, heights) for other in losses}
    least = {other: losses[other].minutes_at(kept.get(other, 0)) for other in losses}
    most = sum(
        max(least[other], losses[other].minutes_at(max(found.values(), default=0))) for other, found in standing.items()
    )
    terms: list[tuple[int, int]] = []
    for other, found in standing.items() if most > spare else ():
        cells, before = tuple(cell for cell in garden.cells if cell.bed == other), least[other]
        # Heights that take the same share one mark; each mark adds what it takes beyond the lower ones.
        for high in sorted(set(found.values())):
            lost = losses[other].minutes_at(high)
            mark = None
            if lost > before:
                mark = board.stands(cells, period, frozenset(n for n, height in found.items() if height >= high))
            if mark is not None:
                terms.append((mark, lost - before))
                before = lost
    return terms, most, sum(least.values())


def _stands(planting: Planting, period: int) -> bool:
    return period in half_months_of(planting)


def _taken_by(garden: Garden, plan: Plan, planting: Planting, period: int) -> dict[str, int]:
    """Return the minutes a day that each other bed's tallest crop takes from the bed of a planting."""
    from rotasolve.relations.ground.grown import tallest_standing
    from rotasolve.relations.sun.pair_losses import pair_loss

    site, month, bed = garden.scenario.site, first_day(period).month, garden.beds[planting.bed]
    taken = {
        other: pair_loss(garden.beds[other], bed, site.latitude, month).minutes_at(high)
        for other, high in tallest_standing(garden.crops, plan.plantings, period).items()
        if other != bed.name
    }
    return {other: minutes for other, minutes in taken.items() if minutes}


def _casters(plan: Plan, taken: dict[str, int], period: int) -> tuple[Planting, ...]:
    """Return the plantings that stand in the beds which take sun in a half month."""
    return tuple(planting for planting in plan.plantings if planting.bed in taken and _stands(planting, period))


def _tallest(garden: Garden, plan: Plan) -> float:
    """Return the height of the tallest crop that may be planted, or that a plan from elsewhere holds."""
    crops = garden.wanted | {planting.crop for planting in plan.plantings}
    return max((garden.crops[crop].height.usual for crop in crops), default=0.0)


def _lack(crop: str, need: float, have: float, taken: dict[str, int], period: int) -> SunTaken:
    hours = tuple((bed, minutes / 60) for bed, minutes in sorted(taken.items(), key=lambda t: -t[1]))
    return SunTaken(crop, need / 60, have / 60, first_day(period).month, hours)


def _hinders_neighbours(garden: Garden, plan: Plan, planting: Planting) -> Iterator[Hindrance]:
    from rotasolve.relations.sun.bed_sun import bed_minutes, judged, may_want

    after = plan.model_copy(update={"plantings": (*plan.plantings, planting)})
    told: set[str] = set()
    for one in (planting, *plan.plantings):
        need, bed = least_minutes(garden, one.crop), garden.beds[one.bed]
        if not need or not bed.has_known_sun or bed.name in told or (one is not planting and bed.name == planting.bed):
            continue
        for period in half_months_of(one):
            if not judged(period, garden.scenario.site.south) or not _stands(planting, period):
                continue
            month = first_day(period).month
            if not may_want(garden.scenario, bed, month, need, _tallest(garden, after)):
                continue
            have = bed_minutes(garden.scenario, bed, month)
            taken = _taken_by(garden, after, one, period)
            if sum(taken.values()) <= max(have - need, 0):
                continue
            told.add(bed.name)
            yield _neighbour_hindrance(garden, plan, planting, one, taken, have, period)
            break


def _neighbour_hindrance(
    garden: Garden, plan: Plan, planting: Planting, one: Planting, taken: dict[str, int], have: int, period: int
) -> Hindrance:
    lack = _lack(one.crop, least_minutes(garden, one.crop), have, taken, period)
    if one is not planting:
        return Hindrance(ShadeClaim(one.bed), WouldTakeSun(lack, one.bed), planting.strips, one.clear, one)
    casting = [p for p in plan.plantings if p.bed in taken and _stands(p, period)]
    other = max(casting, key=lambda p: (taken[p.bed], p.clear))
    return Hindrance(ShadeClaim(one.bed), WouldLackSun(lack, other.clear), planting.strips, other.clear, other)
