"""Bed shadows: no crop is so tall that its noon shadow reaches a lower crop in another bed.

What it asks
    Between beds whose place is known, no crop of a higher height class (low, middle, tall by full-grown height) stands
    in a bed on the equator side if its noon shadow reaches across the gap: gap < height difference x tan(|latitude| -
    declination), with the lowest declination of the half months in which both stand. With ``height_order: by shadow``
    the way is counted from the taller crop's strip to the lower one's, and it is barred only where its noon shadow, at
    the height it may have in that half month, also passes the middle of that strip. While a plan of a large garden is
    counted (``Garden.exact_beds``), its crops are taken to stand on the strips nearest to each other.
Why
    Tall crops go on the north side in the northern hemisphere (UCANR-PLAN). The reach is exact for an east-west row
    between the equinoxes.
Breaks it
    Climbing beans in a bed 60 cm to the south of a bed of lettuce in October, at latitude 52 north.
Loosen it
    ``rules: {height_order: by shadow}``, ``false`` or other ``height_steps_cm``, or leave the beds' places out. Within
    23.44 degrees of the equator the noon sun changes sides and the rule is off.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import permutations
from typing import TYPE_CHECKING

from rotasolve.domain.claim import Claim, Facts
from rotasolve.domain.hindrance import Hindrance
from rotasolve.domain.plan import Breach
from rotasolve.domain.seasons import first_day, last_day, period_of
from rotasolve.domain.strips import strip_depth_cm, strips_per_part
from rotasolve.recount.ground import cut_of, gap_to_pole_side_cm
from rotasolve.recount.heights import size_of
from rotasolve.relations.ground.height_order import (
    Stature,
    goes_by_shadow,
    height_order_is_on,
    shading_periods,
    stature_of,
    together,
)
from rotasolve.relations.ground.lie_of_beds import Shading, height_class, part_and_row, reach_factor
from rotasolve.relations.ground.noon_reach import reach_of_sowing

if TYPE_CHECKING:
    from datetime import date

    from rotasolve.board import Board
    from rotasolve.domain.plan import Plan, Planting
    from rotasolve.domain.site import Site
    from rotasolve.relations.ground.garden import Choice, Garden


@dataclass(frozen=True)
class ShadowClaim(Claim):
    """One bed casts no shadow on a lower crop in another."""

    rule = "bed-shadows"
    caster: str
    receiver: str


@dataclass(frozen=True)
class Reaches(Facts):
    """A tall crop's noon shadow reaches a lower one across a gap; ``about`` is when it reaches farthest."""

    tall: Stature
    low: Stature
    shadow_cm: float
    gap_cm: float
    about: date


@dataclass(frozen=True)
class WouldReach(Facts):
    """A planting's shadow would reach another across a gap, or, ``is_reached``, another's would reach it.

    ``other`` and ``other_bed`` are the other planting's. ``harmless``: no shadow would reach the middle of its strip.
    """

    tall: Stature
    other: str
    other_bed: str
    is_reached: bool
    shadow_cm: float
    gap_cm: float
    about: date
    harmless: bool


class BedShadows:
    """No shadow on a lower crop in another bed."""

    key = ShadowClaim.rule
    holds_inside_a_bed = False

    def post(self, garden: Garden, board: Board) -> None:
        """Keep apart in time what stands in each other's shadow."""
        if not height_order_is_on(garden):
            return
        for shading in garden.shadings:
            with board.because(ShadowClaim(shading.caster, shading.receiver)):
                self._post_between(garden, board, shading)

    @staticmethod
    def _post_between(garden: Garden, board: Board, shading: Shading) -> None:
        """Keep apart what casts a shadow from what it reaches, in each half month, by marks of their sets."""
        rules = garden.scenario.rules
        casting = tuple(cell for cell in garden.cells if cell.bed == shading.caster)
        shaded = tuple(cell for cell in garden.cells if cell.bed == shading.receiver)
        sizes = {n: (height_class(garden.crops[n], rules), garden.crops[n].height.usual) for n in garden.wanted}
        depths = [strip_depth_cm(garden.beds[bed]) for bed in (shading.caster, shading.receiver)]
        middle = depths[1] / 2 if goes_by_shadow(garden) else 0.0
        for period in board.periods_of(shaded):
            factor = reach_factor(garden.scenario.site, period)
            above: dict[tuple[str, float, float], set[int]] = {}
            for cell in casting:
                for crop, numbers in board.on_cell_by_crop(cell, period).items():
                    for (behind, reach), those in _by_place(garden, numbers, depths[0], period).items():
                        above.setdefault((crop, behind, reach), set()).update(those)
            below: dict[tuple[str, float], set[int]] = {}
            for cell in shaded:
                for crop, numbers in board.on_cell_by_crop(cell, period).items():
                    for before, those in _by_way(garden, numbers, depths[1]).items():
                        below.setdefault((crop, shading.gap_cm + before), set()).update(those)
            steps: dict[frozenset[int], set[int]] = {}
            for (low, way), lower in sorted(below.items()):
                low_class, low_height = sizes[low]
                casters = frozenset().union(
                    *(
                        numbers
                        for (tall, behind, reach), numbers in above.items()
                        if sizes[tall][0] > low_class
                        and (sizes[tall][1] - low_height) * factor > way + behind
                        and reach > way + behind + middle
                    )
                )
                if casters:
                    steps.setdefault(casters, set()).update(lower)
            for casters, receivers in steps.items():
                board.not_both(
                    board.stands(casting, period, casters), board.stands(shaded, period, frozenset(receivers))
                )

    def breaches(self, garden: Garden, plan: Plan) -> Iterator[Breach]:
        """Compare every two plantings of neighbouring beds that stand at the same time, by height and gap."""
        if not height_order_is_on(garden):
            return
        rules, south = garden.scenario.rules, garden.scenario.site.south
        gaps = {
            (one.name, other.name): gap_to_pole_side_cm(one, other, south)
            for one, other in permutations(garden.scenario.beds, 2)
        }
        for tall, low in permutations(plan.plantings, 2):
            gap = gaps.get((tall.bed, low.bed))
            if gap is None or tall.start > low.clear or low.start > tall.clear:
                continue
            if size_of(garden.crops[tall.crop], rules) > size_of(garden.crops[low.crop], rules):
                yield from _breaches_between(garden, tall, low, gap)

    def hinders(self, garden: Garden, plan: Plan, planting: Planting) -> Iterator[Hindrance]:
        """Bar a planting whose shadow would reach a lower crop in another bed, or that another's would reach."""
        if not height_order_is_on(garden):
            return
        rules = garden.scenario.rules
        gaps = {(shading.caster, shading.receiver): shading.gap_cm for shading in garden.shadings}
        ours = height_class(garden.crops[planting.crop], rules)
        begin, end = first_day(period_of(planting.start)), last_day(period_of(planting.clear))
        for other in plan.plantings:
            if other.bed == planting.bed or other.clear < begin or other.start > end:
                continue
            theirs = height_class(garden.crops[other.crop], rules)
            tall, low = (planting, other) if ours > theirs else (other, planting)
            gap = gaps.get((tall.bed, low.bed))
            if ours != theirs and gap is not None:
                yield from _hinders_between(garden, planting, tall, low, gap)


def _by_place(
    garden: Garden, numbers: Iterable[int], depth_cm: float, period: int
) -> dict[tuple[float, float], list[int]]:
    """Sort choices of a crop by the cm of bed on their pole side, and by how far their noon shadow reaches.

    Where the shadow does not decide, all are alike: at the edge, and their shadow without end.
    """
    if not goes_by_shadow(garden):
        return {(0.0, math.inf): list(numbers)}
    found: dict[tuple[float, float], list[int]] = {}
    for number in numbers:
        choice = garden.choices[number]
        reach = reach_of_sowing(garden.scenario.site, garden.crops[choice.sowing.crop], choice.sowing, period)
        found.setdefault((depth_cm * (_rows(garden, choice)[0] - 1), reach), []).append(number)
    return found


def _by_way(garden: Garden, numbers: Iterable[int], depth_cm: float) -> dict[float, list[int]]:
    """Sort choices of a crop by the cm of bed on their equator side; all are alike where the shadow does not decide."""
    if not goes_by_shadow(garden):
        return {0.0: list(numbers)}
    found: dict[float, list[int]] = {}
    for number in numbers:
        choice = garden.choices[number]
        beyond = strips_per_part(garden.beds[choice.bed]) - _rows(garden, choice)[1]
        found.setdefault(depth_cm * beyond, []).append(number)
    return found


def _rows(garden: Garden, choice: Choice) -> tuple[int, int]:
    """Return the first and last strip of its part that a choice takes; where strips are counted, all it could take."""
    bed = garden.beds[choice.bed]
    if not choice.cells[0].strip:
        return 1, strips_per_part(bed)
    rows = [part_and_row(bed, cell.strip)[1] for cell in choice.cells]
    return min(rows), max(rows)


def _way_cm(garden: Garden, tall: Planting, low: Planting, gap: float) -> float:
    """Return the clear cm from the strips of a planting to those of one in the bed beyond the gap."""
    from_cut, to_cut = cut_of(garden.beds[tall.bed]), cut_of(garden.beds[low.bed])
    behind = min(from_cut.place(strip)[1] for strip in tall.strips) - 1
    before = to_cut.strips_in_part - max(to_cut.place(strip)[1] for strip in low.strips)
    return gap + behind * from_cut.depth_cm + before * to_cut.depth_cm


def _barred(garden: Garden, tall: Planting, low: Planting, gap: float) -> tuple[float, list[int]]:
    """Return the clear cm that count, and the half months in which the shadow of one reaches the other over them."""
    step = garden.crops[tall.crop].height.usual - garden.crops[low.crop].height.usual
    way, standing = gap, list(together(tall, low))
    if goes_by_shadow(garden):
        way = _way_cm(garden, tall, low, gap)
        standing = shading_periods(garden, tall, low, way)
    return way, [period for period in standing if step * reach_factor(garden.scenario.site, period) > way]


def _breaches_between(garden: Garden, tall: Planting, low: Planting, gap: float) -> Iterator[Breach]:
    """Yield that a planting's noon shadow reaches a lower one in another bed."""
    site, (way, reached) = garden.scenario.site, _barred(garden, tall, low, gap)
    if reached:
        worst = max(reached, key=lambda period: reach_factor(site, period))
        who = (stature_of(garden, tall.crop), stature_of(garden, low.crop))
        found = Reaches(*who, _shadow_cm(who, site, worst), way, first_day(worst))
        yield Breach(ShadowClaim(tall.bed, low.bed), found, (tall, low))


def _shadow_cm(who: tuple[Stature, Stature], site: Site, period: int) -> float:
    return (who[0].height_cm - who[1].height_cm) * reach_factor(site, period)


def _hinders_between(
    garden: Garden, planting: Planting, tall: Planting, low: Planting, gap: float
) -> Iterator[Hindrance]:
    """Yield the strips of a planting from which, or on which, one bed's crop shades a lower one in another."""
    site, other = garden.scenario.site, low if tall is planting else tall
    found: dict[int, tuple[float, list[int]]] = {}
    for strip in planting.strips:
        alone = planting.model_copy(update={"strips": (strip,)})
        pair = (alone, low) if tall is planting else (tall, alone)
        way, reached = _barred(garden, *pair, gap)
        if reached:
            found[strip] = way, reached
    if not found:
        return
    way, reached = min(found.values())
    worst = max(reached, key=lambda period: reach_factor(site, period))
    who = (stature_of(garden, tall.crop), stature_of(garden, low.crop))
    why = WouldReach(
        who[0],
        other.crop,
        other.bed,
        is_reached=tall is not planting,
        shadow_cm=_shadow_cm(who, site, worst),
        gap_cm=way,
        about=first_day(worst),
        harmless=not shading_periods(garden, tall, low, _way_cm(garden, tall, low, gap)),
    )
    yield Hindrance(ShadowClaim(tall.bed, low.bed), why, tuple(found), other.clear, other)
