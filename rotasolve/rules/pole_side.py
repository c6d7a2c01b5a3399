"""Pole side: inside a bed, while both stand, a tall crop is never on the equator side of a lower one.

What it asks
    Within a part of a bed, crops of a higher height class (low, middle, tall by full-grown height) take strips nearer
    the pole than lower ones. With ``height_order: by shadow`` a crop is barred only where its noon shadow, at the
    height it may have in that half month, also passes the middle of the lower crop's strip.
Why
    Tall crops go on the north side in the northern hemisphere (UCANR-PLAN). The reach is exact for an east-west row
    between the equinoxes; of 108 computed cases only strips on the pole side of a taller row fell under 6 h of sun.
Breaks it
    Climbing beans in strip 3 and lettuce in strip 1 (pole side) in July, at latitude 52 north.
Loosen it
    ``rules: {height_order: by shadow}``, ``false`` or other ``height_steps_cm``. Within 23.44 degrees of
    the equator the noon sun changes sides and the rule is off.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations, pairwise, permutations
from typing import TYPE_CHECKING

from rotasolve.domain.claim import Claim, Facts
from rotasolve.domain.hindrance import Hindrance
from rotasolve.domain.plan import Breach
from rotasolve.domain.seasons import first_day, last_day, period_of
from rotasolve.domain.strips import strip_depth_cm
from rotasolve.recount.ground import cut_of
from rotasolve.recount.heights import size_of
from rotasolve.relations.ground.height_order import (
    Stature,
    goes_by_shadow,
    height_order_is_on,
    shading_periods,
    stature_of,
    together,
)
from rotasolve.relations.ground.lie_of_beds import height_class, part_and_row
from rotasolve.relations.ground.noon_reach import reach_of_planting, reach_of_sowing, reaches_middle

if TYPE_CHECKING:
    from datetime import date

    from rotasolve.board import Board
    from rotasolve.domain.plan import Plan, Planting
    from rotasolve.relations.ground.garden import Cell, Garden


@dataclass(frozen=True)
class OrderClaim(Claim):
    """Heights fall from the pole side inside a bed."""

    rule = "pole-side"
    bed: str


@dataclass(frozen=True)
class OutOfOrder(Facts):
    """A tall crop stands on the equator side of a lower one from a day on."""

    tall: Stature
    low: Stature
    since: date


@dataclass(frozen=True)
class Shades(Facts):
    """A tall crop's noon shadow reaches over a lower one beyond it; ``about`` is when it reaches farthest."""

    tall: Stature
    low: Stature
    shadow_cm: float
    about: date


@dataclass(frozen=True)
class WrongSide(Facts):
    """In some strips a planting would stand on the wrong side of another in the same bed until a day.

    ``taller``: it is the planting that is taller. ``harmless``: no noon shadow would reach the middle of a strip.
    """

    strips: tuple[int, ...]
    it: Stature
    other: Stature
    taller: bool
    south: bool
    until: date
    harmless: bool


def _post_step(board: Board, cells: list[Cell], lower: frozenset[int], higher: frozenset[int]) -> None:
    """Let a border run through the part in each half month: higher crops on its pole side, lower ones beyond it.

    ``beyond`` is 1 for a strip on the equator side of the border; it never falls back from one strip to the next. That
    a higher crop's own strip is not beyond is tight; meant is the strip before it, for two crops on one strip are a
    matter of the ground, not of their heights.
    """
    last: tuple[frozenset[int], frozenset[int]] | None = None
    for period in board.periods_of(tuple(cells)):
        standing = {n for cell in cells for n in board.on_cell(cell, period)}
        now = (lower & standing, higher & standing)
        if not now[0] or not now[1] or (last is not None and now[0] <= last[0] and now[1] <= last[1]):
            continue
        last = now
        beyond = [board.variable(f"strip {cell.strip} of {cell.bed} beyond the border", 1) for cell in cells]
        for before, after in pairwise(beyond):
            board.at_most([(before, 1), (after, -1)], 0)
        nothing = board.variable(f"nothing lies before strip {cells[0].strip} of {cells[0].bed}", 0)
        for cell, before, mark in zip(cells, [nothing, *beyond], beyond, strict=False):
            board.each_at_most(board.ground_terms(cell, period, now[0]), (mark, -1), 0)
            board.each_at_most(board.ground_terms(cell, period, now[1]), (mark, 1), 1, alone=(before, 1))


def _post_shadows(
    garden: Garden, board: Board, cells: list[Cell], lower: frozenset[int], higher: frozenset[int]
) -> None:
    """Keep a higher crop off a strip from which its noon shadow passes the middle of a strip with a lower one."""
    site, depth = garden.scenario.site, strip_depth_cm(garden.beds[cells[0].bed])
    for (row, shaded), (beyond, casting) in combinations(enumerate(cells), 2):
        gap = (beyond - row - 1) * depth
        for period in board.periods_of((casting,)):
            reaching = frozenset(
                n
                for n in board.on_cell(casting, period)
                if n in higher
                and reaches_middle(
                    reach_of_sowing(site, garden.crops[board.crop_of(n)], garden.choices[n].sowing, period), gap, depth
                )
            )
            below = frozenset(n for n in board.on_cell(shaded, period) if n in lower)
            # Lots that lie on both strips are one crop, and never of two classes.
            if reaching and below:
                board.not_both(board.stands((casting,), period, reaching), board.stands((shaded,), period, below))


class PoleSide:
    """Tall to the pole side."""

    key = OrderClaim.rule
    holds_inside_a_bed = True

    def post(self, garden: Garden, board: Board) -> None:
        """Order the strips of exact beds."""
        if not height_order_is_on(garden):
            return
        for bed in sorted(garden.exact_beds & garden.beds.keys()):
            with board.because(OrderClaim(bed)):
                self._post_inside(garden, board, bed)

    @staticmethod
    def _post_inside(garden: Garden, board: Board, bed: str) -> None:
        """Let heights fall from the pole side, or keep shadows off the middles of strips."""
        rules = garden.scenario.rules
        classes = {name: height_class(garden.crops[name], rules) for name in garden.wanted}
        parts: dict[int, list[Cell]] = {}
        for cell in garden.cells:
            if cell.bed == bed:
                parts.setdefault(part_and_row(garden.beds[bed], cell.strip)[0], []).append(cell)
        for cells in parts.values():
            for step in (1, 2):
                higher = frozenset(n for n in board.members(tuple(cells)) if classes[board.crop_of(n)] >= step)
                lower = board.members(tuple(cells)) - higher
                if not higher or not lower:
                    continue
                if goes_by_shadow(garden):
                    _post_shadows(garden, board, sorted(cells), lower, higher)
                else:
                    _post_step(board, sorted(cells), lower, higher)

    def breaches(self, garden: Garden, plan: Plan) -> Iterator[Breach]:
        """Compare every two plantings of a bed that stand at the same time, by height and place."""
        if not height_order_is_on(garden):
            return
        rules = garden.scenario.rules
        for tall, low in permutations(plan.plantings, 2):
            if tall.bed != low.bed or tall.start > low.clear or low.start > tall.clear:
                continue
            if size_of(garden.crops[tall.crop], rules) > size_of(garden.crops[low.crop], rules):
                yield from _breaches_inside(garden, tall, low)

    def hinders(self, garden: Garden, plan: Plan, planting: Planting) -> Iterator[Hindrance]:
        """Bar the strips on which the planting would shade a lower crop, or be shaded by a taller one."""
        if not height_order_is_on(garden):
            return
        rules = garden.scenario.rules
        ours = height_class(garden.crops[planting.crop], rules)
        begin, end = first_day(period_of(planting.start)), last_day(period_of(planting.clear))
        for other in plan.plantings:
            if other.bed != planting.bed or other.clear < begin or other.start > end:
                continue
            theirs = height_class(garden.crops[other.crop], rules)
            if ours != theirs:
                yield from _hinders_inside(garden, planting, other, taller=ours > theirs)


def _breaches_inside(garden: Garden, tall: Planting, low: Planting) -> Iterator[Breach]:
    """Yield that a planting stands on the wrong side of a lower one in its bed, or that its shadow reaches it."""
    claim, who = OrderClaim(tall.bed), (stature_of(garden, tall.crop), stature_of(garden, low.crop))
    if not goes_by_shadow(garden):
        if _gaps_inside(garden, tall, low):
            yield Breach(claim, OutOfOrder(*who, max(tall.start, low.start)), (tall, low))
        return
    gap = min(_gaps_inside(garden, tall, low).values(), default=None)
    shaded = shading_periods(garden, tall, low, gap) if gap is not None else []
    if shaded:
        crop, site = garden.crops[tall.crop], garden.scenario.site
        worst = max(shaded, key=lambda period: reach_of_planting(site, crop, tall, period))
        found = Shades(*who, reach_of_planting(site, crop, tall, worst), first_day(worst))
        yield Breach(claim, found, (tall, low))


def _longest_reach(garden: Garden, tall: Planting, low: Planting) -> float:
    """Return the longest noon shadow in cm of one planting in the half months in which both stand."""
    crop, site = garden.crops[tall.crop], garden.scenario.site
    return max((reach_of_planting(site, crop, tall, period) for period in together(tall, low)), default=0.0)


def _gaps_inside(garden: Garden, tall: Planting, low: Planting) -> dict[tuple[int, int], float]:
    """Return the clear cm from each strip of the tall planting to each on its pole side in the same part."""
    cut = cut_of(garden.beds[tall.bed])
    above, below = ([(strip, *cut.place(strip)) for strip in one.strips] for one in (tall, low))
    return {
        (one, other): (row - there - 1) * cut.depth_cm
        for one, part, row in above
        for other, where, there in below
        if part == where and row > there
    }


def _hinders_inside(garden: Garden, planting: Planting, other: Planting, taller: bool) -> Iterator[Hindrance]:
    """Yield the strips on the wrong side of a planting in the same bed."""
    bed = garden.beds[planting.bed]
    tall, low = (planting, other) if taller else (other, planting)
    gaps = _gaps_inside(garden, tall, low)
    if not gaps:
        return
    reach, depth = _longest_reach(garden, tall, low), strip_depth_cm(bed)
    shaded = {pair for pair, gap in gaps.items() if reaches_middle(reach, gap, depth)}
    barring = shaded if goes_by_shadow(garden) else gaps
    barred = tuple(sorted({pair[0 if taller else 1] for pair in barring}))
    if not barred:
        return
    why = WrongSide(
        barred,
        stature_of(garden, planting.crop),
        stature_of(garden, other.crop),
        taller,
        garden.scenario.site.south,
        min(planting.clear, other.clear),
        harmless=not shaded,
    )
    yield Hindrance(OrderClaim(bed.name), why, barred, other.clear, other)
