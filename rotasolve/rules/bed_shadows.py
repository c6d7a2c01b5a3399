"""Bed shadows: no crop is so tall that its noon shadow reaches a lower crop in another bed.

What it asks
    Between beds whose place is known, no crop of a higher height class (low, middle, tall by full-grown height) stands
    in a bed on the equator side if its noon shadow reaches across the gap: gap < height difference x tan(|latitude| -
    declination), with the lowest declination of the half months in which both stand. With ``height_order: by shadow``
    it is barred only where its noon shadow, at the height it may have in that half month, also passes the middle of
    the other bed's first strip.
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

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import permutations
from typing import TYPE_CHECKING

from rotasolve.domain.claim import Claim, Facts
from rotasolve.domain.hindrance import Hindrance
from rotasolve.domain.plan import Breach
from rotasolve.domain.seasons import first_day, last_day, period_of
from rotasolve.domain.strips import strip_depth_cm
from rotasolve.recount.ground import gap_to_pole_side_cm
from rotasolve.recount.heights import size_of
from rotasolve.relations.ground.height_order import (
    Stature,
    goes_by_shadow,
    height_order_is_on,
    shading_periods,
    stature_of,
    together,
)
from rotasolve.relations.ground.lie_of_beds import Shading, height_class, reach_factor
from rotasolve.relations.ground.noon_reach import reach_of_sowing, reaches_middle

if TYPE_CHECKING:
    from datetime import date

    from rotasolve.board import Board
    from rotasolve.domain.plan import Plan, Planting
    from rotasolve.relations.ground.garden import Garden


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

    ``other`` and ``other_bed`` are the other planting's. ``harmless``: no shadow would reach a strip's middle.
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
        rules = garden.scenario.rules
        casting = tuple(cell for cell in garden.cells if cell.bed == shading.caster)
        shaded = tuple(cell for cell in garden.cells if cell.bed == shading.receiver)
        sizes = {n: (height_class(garden.crops[n], rules), garden.crops[n].height.usual) for n in garden.wanted}
        for period in board.periods_of(shaded):
            factor = reach_factor(garden.scenario.site, period)
            above: dict[str, set[int]] = {}
            for cell in casting:
                for crop, numbers in board.on_cell_by_crop(cell, period).items():
                    if goes_by_shadow(garden):
                        numbers = [n for n in numbers if _passes_middle(garden, n, shading, period)]
                    above.setdefault(crop, set()).update(numbers)
            below: dict[str, set[int]] = {}
            for cell in shaded:
                for crop, numbers in board.on_cell_by_crop(cell, period).items():
                    below.setdefault(crop, set()).update(numbers)
            steps: dict[frozenset[int], set[int]] = {}
            for low in sorted(below):
                low_class, low_height = sizes[low]
                casters = frozenset().union(
                    *(
                        numbers
                        for tall, numbers in above.items()
                        if sizes[tall][0] > low_class and (sizes[tall][1] - low_height) * factor > shading.gap_cm
                    )
                )
                if casters:
                    steps.setdefault(casters, set()).update(below[low])
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


def _breaches_between(garden: Garden, tall: Planting, low: Planting, gap: float) -> Iterator[Breach]:
    """Yield that a planting's noon shadow reaches a lower one in another bed."""
    site = garden.scenario.site
    standing = shading_periods(garden, tall, low, gap) if goes_by_shadow(garden) else together(tall, low)
    if not standing:
        return
    worst = max(standing, key=lambda period: reach_factor(site, period))
    step = garden.crops[tall.crop].height.usual - garden.crops[low.crop].height.usual
    reach = step * reach_factor(site, worst)
    if reach > gap:
        who = (stature_of(garden, tall.crop), stature_of(garden, low.crop))
        yield Breach(ShadowClaim(tall.bed, low.bed), Reaches(*who, reach, gap, first_day(worst)), (tall, low))


def _passes_middle(garden: Garden, number: int, shading: Shading, period: int) -> bool:
    """Return whether the noon shadow of a choice passes the middle of the first strip of the bed in its shadow."""
    sowing, depth = garden.choices[number].sowing, strip_depth_cm(garden.beds[shading.receiver])
    reach = reach_of_sowing(garden.scenario.site, garden.crops[sowing.crop], sowing, period)
    return reaches_middle(reach, shading.gap_cm, depth)


def _hinders_between(
    garden: Garden, planting: Planting, tall: Planting, low: Planting, gap: float
) -> Iterator[Hindrance]:
    """Yield that the shadow of one bed's crop reaches a lower one in another bed, if it does in a common half month."""
    step = garden.crops[tall.crop].height.usual - garden.crops[low.crop].height.usual
    reaching = [period for period in together(tall, low) if step * reach_factor(garden.scenario.site, period) > gap]
    shaded = shading_periods(garden, tall, low, gap)
    if goes_by_shadow(garden):
        reaching = [period for period in reaching if period in shaded]
    if not reaching:
        return
    worst = max(reaching, key=lambda period: reach_factor(garden.scenario.site, period))
    other = low if tall is planting else tall
    why = WouldReach(
        stature_of(garden, tall.crop),
        other.crop,
        other.bed,
        is_reached=tall is not planting,
        shadow_cm=step * reach_factor(garden.scenario.site, worst),
        gap_cm=gap,
        about=first_day(worst),
        harmless=not shaded,
    )
    yield Hindrance(ShadowClaim(tall.bed, low.bed), why, planting.strips, other.clear, other)
