"""Least sun: no crop stands where it gets less direct sun than it can do with.

What it asks
    In the months of high sun (April to September, in the south October to March) every strip a crop stands on gets at
    least the crop's ``sun_hours_least`` (its low figure) of direct sun on a clear day, past walls, fences, hedges,
    trees and sheds. Beds without a place are judged only if ``sun_hours`` are typed in. With ``least_sun: with
    neighbours`` what crops in other beds take from a bed as a whole, east, west and equator side alike, is also no
    more than the bed has beyond that: each bed counts as full of its tallest crop (heights rounded up to whole steps),
    the bed is looked at from its ground, and what two beds shade together counts twice. It is asked only where all
    other beds, full of the tallest crop at once, could take so much.
Why
    Fruiting crops want 6 to 8 hours, roots, beans and cabbages 4 to 6, leaves as little as 2 (GILLMAN); Penn State
    Extension calls 6 hours full sun and less than 2 shade. These are rules of thumb for the growing season.
    The sum over neighbours never understates shade, and overstates it: of a plan's 144 plantings in 8 beds 60 cm apart
    it would refuse 60, rays past all beds at once 16. So it is asked only of those who wish it; the goal
    ``little-shade`` weighs the same losses for everybody.
Breaks it
    Tomatoes (6 h) in a strip that a 2 m fence on its equator side leaves 3 hours in April.
Loosen it
    ``rules: {least_sun: false}``, a smaller ``sun_hours_least`` in a crop file of your own, or ``sun_hours`` of the
    bed as you have counted them.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from rotasolve.domain.claim import Breach, Claim
from rotasolve.domain.hindrance import Hindrance
from rotasolve.domain.seasons import MONTHS, first_day, period_of, say_day
from rotasolve.domain.strips import say_strips

if TYPE_CHECKING:
    from rotasolve.board import Board
    from rotasolve.domain.plan import Plan, Planting
    from rotasolve.relations.ground.garden import Garden
    from rotasolve.relations.ground.sowings import Sowing
    from rotasolve.relations.sun.pair_losses import PairLoss

NEIGHBOURS = "its neighbours"

Heights = dict[tuple[str, int], dict[int, int]]
"""The height in cm of each choice that may stand in a bed in a half month."""


def sun_claim(bed: str) -> Claim:
    """Return the claim that every crop in a bed has its least sun past the obstacles."""
    return Claim(rule="least-sun", about=(bed,))


def shade_claim(bed: str) -> Claim:
    """Return the claim that the crops of other beds leave every crop in a bed its least sun."""
    return Claim(rule="least-sun", about=(bed, NEIGHBOURS))


def rule_is_on(garden: Garden) -> bool:
    """Return whether the least sun is judged here at all."""
    return bool(garden.scenario.rules.least_sun) and any(bed.has_known_sun for bed in garden.scenario.beds)


def neighbours_rule_is_on(garden: Garden) -> bool:
    """Return whether what crops take from other beds is judged too."""
    return rule_is_on(garden) and garden.scenario.rules.least_sun == "with neighbours"


def _least(garden: Garden, crop: str) -> int:
    """Return the minutes a day that a crop can do with; 0 if nothing is known of it."""
    figure = garden.crops[crop].sun_hours_least
    return 0 if figure is None else round(figure.least * 60)


class LeastSun:
    """Enough sun for every crop."""

    key = "least-sun"

    def post(self, garden: Garden, board: Board) -> None:
        """Keep crops off strips too dark for them, and tall crops away from beds they would make so."""
        if not rule_is_on(garden):
            return
        from rotasolve.relations.sun.bed_sun import known_beds

        for bed in known_beds(garden.scenario):
            with board.because(sun_claim(bed.name)):
                self._post_ground(garden, board, bed.name)
        if not neighbours_rule_is_on(garden):
            return
        heights: Heights = {}
        for bed in known_beds(garden.scenario):
            with board.because(shade_claim(bed.name)):
                self._post_neighbours(garden, board, bed.name, heights)

    @staticmethod
    def _post_ground(garden: Garden, board: Board, name: str) -> None:
        """Bar dark strips; where strips are counted, bound those that a crop takes by those bright enough."""
        from rotasolve.relations.sun.bed_sun import judged, month_of, strip_minutes

        bed, south = garden.beds[name], garden.scenario.site.south
        for cell in [cell for cell in garden.cells if cell.bed == name]:
            for period in [p for p in board.periods_of((cell,)) if judged(p, south)]:
                minutes = strip_minutes(garden.scenario, bed, month_of(period))
                here = {n: _least(garden, board.crop_of(n)) for n in board.on_cell(cell, period)}
                for least in sorted({need for need in here.values() if need > min(minutes)}):
                    wanting = frozenset(n for n, need in here.items() if need >= least)
                    if cell.strip == 0:
                        bright = sum(light >= least for light in minutes)
                        board.at_most(board.ground_terms(cell, period, wanting), bright)
                    elif minutes[cell.strip - 1] < least:
                        board.never(sorted(n for n, need in here.items() if need == least))

    @staticmethod
    def _post_neighbours(garden: Garden, board: Board, name: str, heights: Heights) -> None:
        """Sum what the tallest crop of each other bed takes, wherever the sum could become too much."""
        from rotasolve.relations.sun.bed_sun import bed_minutes, judged, may_want, month_of
        from rotasolve.relations.sun.pair_losses import pair_loss

        bed, site = garden.beds[name], garden.scenario.site
        tallest = max((garden.crops[crop].height.usual for crop in garden.wanted), default=0.0)
        cells = tuple(cell for cell in garden.cells if cell.bed == name)
        own = {p for kept in garden.kept if kept.bed == name for p in _half_months(kept)}
        for period in sorted(p for p in own.union(board.periods_of(cells)) if judged(p, site.south)):
            month = month_of(period)
            have = bed_minutes(garden.scenario, bed, month)
            receivers: dict[int, set[int]] = {}
            for cell in cells:
                for n in board.on_cell(cell, period):
                    receivers.setdefault(_least(garden, board.crop_of(n)), set()).add(n)
            # Kept plantings stand by the days they were given, whatever half months they take from the ground.
            standing = [kept for kept in garden.kept if kept.bed == name and _stands(kept, period)]
            kept_need = max((_least(garden, kept.crop) for kept in standing), default=0)
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
        """Look up the sun of every strip of every planting, month by month, and add up what other beds take."""
        if not rule_is_on(garden):
            return
        from rotasolve.relations.sun.bed_sun import bed_minutes, judged, known_beds, may_want, strip_minutes

        known = {bed.name for bed in known_beds(garden.scenario)}
        for planting in plan.plantings:
            figure = garden.crops[planting.crop].sun_hours_least
            if figure is None or planting.bed not in known:
                continue
            need, bed = figure.least * 60, garden.beds[planting.bed]
            sunny = [period for period in _half_months(planting) if judged(period, garden.scenario.site.south)]
            found = []
            for period in sunny:
                light = strip_minutes(garden.scenario, bed, first_day(period).month)
                # A plan may name strips that the bed does not have: that is for free-ground to tell.
                found += [(light[s - 1], first_day(period).month, s) for s in planting.strips if 0 < s <= len(light)]
            darkest = min(found, default=None)
            if darkest is not None and darkest[0] < round(need):
                yield Breach(
                    claim=sun_claim(bed.name),
                    found=f"{planting.crop} needs {need / 60:g} h of sun a day, strip {darkest[2]} gets "
                    f"{darkest[0] / 60:.1f} h in {MONTHS[darkest[1] - 1]}",
                    plantings=(planting,),
                )
            for period in sunny if garden.scenario.rules.least_sun == "with neighbours" else ():
                month = first_day(period).month
                if not may_want(garden.scenario, bed, month, round(need), _tallest(garden, plan)):
                    continue
                have = bed_minutes(garden.scenario, bed, month)
                taken = _taken_by(garden, plan, planting, period)
                if sum(taken.values()) > max(have - round(need), 0):
                    found_words = _words(planting.crop, need, have, taken, period)
                    casting = _casters(plan, taken, period)
                    yield Breach(claim=shade_claim(bed.name), found=found_words, plantings=(planting, *casting))
                    break

    def hinders(self, garden: Garden, plan: Plan, planting: Planting) -> Iterator[Hindrance]:
        """Bar strips too dark for the planting, and a planting that would shade others, or be shaded, too much."""
        if not rule_is_on(garden):
            return
        yield from _hinders_ground(garden, planting)
        if neighbours_rule_is_on(garden):
            yield from _hinders_neighbours(garden, plan, planting)

    def say(self, claim: Claim) -> str:
        """Say the claim in plain words."""
        if len(claim.about) == 1:
            return f"every crop in {claim.about[0]} gets the sun it needs at the least"
        return f"the crops of other beds leave every crop in {claim.about[0]} the sun it needs at the least"


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


def _half_months(planting: Planting) -> range:
    return range(period_of(planting.start), period_of(planting.clear) + 1)


def _stands(planting: Planting, period: int) -> bool:
    return period in _half_months(planting)


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


def _words(crop: str, need: float, have: float, taken: dict[str, int], period: int) -> str:
    beds = ", ".join(f"{bed} {minutes / 60:.1f} h" for bed, minutes in sorted(taken.items(), key=lambda t: -t[1]))
    month = MONTHS[first_day(period).month - 1]
    return f"{crop} needs {need / 60:g} h of sun a day, the bed has {have / 60:.1f} h in {month}, and crops take {beds}"


def _hinders_ground(garden: Garden, planting: Planting) -> Iterator[Hindrance]:
    from rotasolve.relations.sun.bed_sun import judged, strip_minutes

    need, bed = _least(garden, planting.crop), garden.beds[planting.bed]
    if not need or not bed.has_known_sun:
        return
    dark: dict[int, tuple[int, int]] = {}
    for month in sorted({first_day(p).month for p in _half_months(planting) if judged(p, garden.scenario.site.south)}):
        light = strip_minutes(garden.scenario, bed, month)
        for strip in planting.strips:
            if light[strip - 1] < need:
                dark[strip] = min(dark.get(strip, (light[strip - 1], month)), (light[strip - 1], month))
    if dark:
        least, month = min(dark.values())
        barred = tuple(sorted(dark))
        gets = f"gets {least / 60:.1f} h of sun a day in {MONTHS[month - 1]}, it needs {need / 60:g} h"
        if len(barred) > 1:
            gets = gets.replace("gets", "get as little as", 1)
        yield Hindrance(claim=sun_claim(bed.name), sentence=f"{say_strips(barred)} {gets}", strips=barred)


def _hinders_neighbours(garden: Garden, plan: Plan, planting: Planting) -> Iterator[Hindrance]:
    from rotasolve.relations.sun.bed_sun import bed_minutes, judged, may_want

    after = plan.model_copy(update={"plantings": (*plan.plantings, planting)})
    told: set[str] = set()
    for one in (planting, *plan.plantings):
        need, bed = _least(garden, one.crop), garden.beds[one.bed]
        if not need or not bed.has_known_sun or bed.name in told or (one is not planting and bed.name == planting.bed):
            continue
        for period in _half_months(one):
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
    words = _words(one.crop if one is not planting else "it", _least(garden, one.crop), have, taken, period)
    if one is not planting:
        words = f"it would leave too little sun to {one.crop} in {one.bed}: {words}"
        return Hindrance(claim=shade_claim(one.bed), sentence=words, strips=planting.strips, until=one.clear, other=one)
    casting = [p for p in plan.plantings if p.bed in taken and _stands(p, period)]
    other = max(casting, key=lambda p: (taken[p.bed], p.clear))
    return Hindrance(
        claim=shade_claim(one.bed),
        sentence=f"{words} (until {say_day(other.clear)})",
        strips=planting.strips,
        until=other.clear,
        other=other,
    )
