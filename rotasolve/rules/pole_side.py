"""Pole side: while both stand, a tall crop is never on the equator side of a lower one.

What it asks
    Within a part of a bed, crops of a higher height class (low, middle, tall by full-grown height) take strips nearer
    the pole than lower ones. Between beds whose place is known, no crop of a higher class stands in a bed on the
    equator side if its noon shadow reaches across the gap: gap < height difference x tan(|latitude| - declination),
    with the lowest declination of the half months in which both stand. With ``height_order: by shadow`` a crop is
    barred only where its noon shadow, at the height it may have in that half month, also passes the middle of the
    lower crop's strip.
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
from itertools import combinations, pairwise, permutations
from typing import TYPE_CHECKING

from rotasolve.domain.claim import Breach, Claim
from rotasolve.domain.hindrance import Hindrance
from rotasolve.domain.seasons import first_day, last_day, period_of, say_day
from rotasolve.domain.strips import say_strips, strip_depth_cm
from rotasolve.relations.ground.lie_of_beds import (
    CLASS_WORDS,
    TROPIC_DEGREES,
    Shading,
    height_class,
    part_and_row,
    reach_factor,
)
from rotasolve.relations.ground.noon_reach import reach_of_planting, reach_of_sowing, reaches_middle

if TYPE_CHECKING:
    from rotasolve.board import Board
    from rotasolve.domain.plan import Plan, Planting
    from rotasolve.relations.ground.garden import Cell, Garden


def order_claim(bed: str) -> Claim:
    """Return the claim that heights fall from the pole side inside a bed."""
    return Claim(rule="pole-side", about=(bed,))


def shadow_claim(caster: str, receiver: str) -> Claim:
    """Return the claim that one bed casts no shadow on a lower crop in another."""
    return Claim(rule="pole-side", about=(caster, receiver))


def rule_is_on(garden: Garden) -> bool:
    """Return whether the height order is judged here at all."""
    return bool(garden.scenario.rules.height_order) and abs(garden.scenario.site.latitude) >= TROPIC_DEGREES


def rule_goes_by_shadow(garden: Garden) -> bool:
    """Return whether only the shadow's reach decides."""
    return garden.scenario.rules.height_order == "by shadow"


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

    key = "pole-side"

    def post(self, garden: Garden, board: Board) -> None:
        """Order the strips of exact beds, and the beds in each other's shadow."""
        if not rule_is_on(garden):
            return
        for bed in sorted(garden.exact_beds & garden.beds.keys()):
            with board.because(order_claim(bed)):
                self._post_inside(garden, board, bed)
        for shading in garden.shadings:
            with board.because(shadow_claim(shading.caster, shading.receiver)):
                self._post_between(garden, board, shading)

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
                if rule_goes_by_shadow(garden):
                    _post_shadows(garden, board, sorted(cells), lower, higher)
                else:
                    _post_step(board, sorted(cells), lower, higher)

    @staticmethod
    def _post_between(garden: Garden, board: Board, shading: Shading) -> None:
        rules = garden.scenario.rules
        casting = tuple(cell for cell in garden.cells if cell.bed == shading.caster)
        shaded = tuple(cell for cell in garden.cells if cell.bed == shading.receiver)
        sizes = {n: (height_class(garden.crops[n], rules), garden.crops[n].height.usual) for n in garden.wanted}
        for period in board.periods_of(shaded):
            factor = reach_factor(garden.scenario.site, period)
            above = [
                (n, *sizes[board.crop_of(n)])
                for cell in casting
                for n in board.on_cell(cell, period)
                if not rule_goes_by_shadow(garden) or _passes_middle(garden, n, shading, period)
            ]
            below: dict[str, set[int]] = {}
            for cell in shaded:
                for n in board.on_cell(cell, period):
                    below.setdefault(board.crop_of(n), set()).add(n)
            steps: dict[frozenset[int], set[int]] = {}
            for low in sorted(below):
                low_class, low_height = sizes[low]
                casters = frozenset(
                    n
                    for n, tall_class, height in above
                    if tall_class > low_class and (height - low_height) * factor > shading.gap_cm
                )
                if casters:
                    steps.setdefault(casters, set()).update(below[low])
            for casters, receivers in steps.items():
                board.not_both(
                    board.stands(casting, period, casters), board.stands(shaded, period, frozenset(receivers))
                )

    def breaches(self, garden: Garden, plan: Plan) -> Iterator[Breach]:
        """Compare every two plantings that stand at the same time, by height and place."""
        if not rule_is_on(garden):
            return
        rules = garden.scenario.rules
        gaps = {(shading.caster, shading.receiver): shading.gap_cm for shading in garden.shadings}
        for tall, low in permutations(plan.plantings, 2):
            classes = [height_class(garden.crops[one.crop], rules) for one in (tall, low)]
            if classes[0] <= classes[1] or tall.start > low.clear or low.start > tall.clear:
                continue
            if tall.bed == low.bed:
                yield from _breaches_inside(garden, tall, low)
            elif (tall.bed, low.bed) in gaps:
                yield from _breaches_between(garden, tall, low, gaps[tall.bed, low.bed])

    def hinders(self, garden: Garden, plan: Plan, planting: Planting) -> Iterator[Hindrance]:
        """Bar the strips on which the planting would shade a lower crop, or be shaded by a taller one."""
        if not rule_is_on(garden):
            return
        rules = garden.scenario.rules
        gaps = {(shading.caster, shading.receiver): shading.gap_cm for shading in garden.shadings}
        ours = height_class(garden.crops[planting.crop], rules)
        begin, end = first_day(period_of(planting.start)), last_day(period_of(planting.clear))
        for other in plan.plantings:
            if other.clear < begin or other.start > end:
                continue
            theirs = height_class(garden.crops[other.crop], rules)
            if ours == theirs:
                continue
            if other.bed == planting.bed:
                yield from _hinders_inside(garden, planting, other, taller=ours > theirs)
                continue
            tall, low = (planting, other) if ours > theirs else (other, planting)
            gap = gaps.get((tall.bed, low.bed))
            if gap is not None:
                yield from _hinders_between(garden, planting, other, tall, low, gap)

    def say(self, claim: Claim) -> str:
        """Say the claim in plain words."""
        if len(claim.about) == 1:
            return f"in {claim.about[0]} a taller crop never stands on the equator side of a lower one"
        caster, receiver = claim.about
        return f"no crop in {caster} is so tall that its shadow reaches a lower crop in {receiver}"


def _order_words(garden: Garden, tall: Planting, low: Planting) -> str:
    return f"{tall.crop} ({_tall_words(garden, tall)}) on the equator side of {low.crop} ({_tall_words(garden, low)})"


def _breaches_inside(garden: Garden, tall: Planting, low: Planting) -> Iterator[Breach]:
    """Yield that a planting stands on the wrong side of a lower one in its bed, or that its shadow reaches it."""
    words = _order_words(garden, tall, low)
    if not rule_goes_by_shadow(garden):
        if _before_it(garden, tall, low):
            since = say_day(max(tall.start, low.start))
            yield Breach(claim=order_claim(tall.bed), found=f"{words} from {since}", plantings=(tall, low))
        return
    gap = min(_gaps_inside(garden, tall, low).values(), default=None)
    shaded = _shading_periods(garden, tall, low, gap) if gap is not None else []
    if shaded:
        crop, site = garden.crops[tall.crop], garden.scenario.site
        worst = max(shaded, key=lambda period: reach_of_planting(site, crop, tall, period))
        far = f"{reach_of_planting(site, crop, tall, worst):.0f} cm about {say_day(first_day(worst))}"
        yield Breach(claim=order_claim(tall.bed), found=f"{words}, shadow {far}", plantings=(tall, low))


def _breaches_between(garden: Garden, tall: Planting, low: Planting, gap: float) -> Iterator[Breach]:
    """Yield that a planting's noon shadow reaches a lower one in another bed."""
    site = garden.scenario.site
    together = _shading_periods(garden, tall, low, gap) if rule_goes_by_shadow(garden) else _together(tall, low)
    if not together:
        return
    worst = max(together, key=lambda period: reach_factor(site, period))
    step = garden.crops[tall.crop].height.usual - garden.crops[low.crop].height.usual
    reach = step * reach_factor(site, worst)
    if reach > gap:
        far = f"shadow {reach:.0f} cm over a {gap:.0f} cm gap about {say_day(first_day(worst))}"
        words = f"{_order_words(garden, tall, low)}, {far}"
        yield Breach(claim=shadow_claim(tall.bed, low.bed), found=words, plantings=(tall, low))


def _together(one: Planting, other: Planting) -> range:
    """Return the half months in which both plantings stand."""
    return range(period_of(max(one.start, other.start)), period_of(min(one.clear, other.clear)) + 1)


def _passes_middle(garden: Garden, number: int, shading: Shading, period: int) -> bool:
    """Return whether the noon shadow of a choice passes the middle of the first strip of the bed in its shadow."""
    sowing, depth = garden.choices[number].sowing, strip_depth_cm(garden.beds[shading.receiver])
    reach = reach_of_sowing(garden.scenario.site, garden.crops[sowing.crop], sowing, period)
    return reaches_middle(reach, shading.gap_cm, depth)


def _shading_periods(garden: Garden, tall: Planting, low: Planting, gap: float) -> list[int]:
    """Return the half months both stand in which the noon shadow of one passes a middle of the other's strips."""
    crop, site = garden.crops[tall.crop], garden.scenario.site
    depth = strip_depth_cm(garden.beds[low.bed])
    return [
        period
        for period in _together(tall, low)
        if reaches_middle(reach_of_planting(site, crop, tall, period), gap, depth)
    ]


def _longest_reach(garden: Garden, tall: Planting, low: Planting) -> float:
    """Return the longest noon shadow in cm of one planting in the half months in which both stand."""
    crop, site = garden.crops[tall.crop], garden.scenario.site
    return max((reach_of_planting(site, crop, tall, period) for period in _together(tall, low)), default=0.0)


def _gaps_inside(garden: Garden, tall: Planting, low: Planting) -> dict[tuple[int, int], float]:
    """Return the clear cm from each strip of the tall planting to each on its pole side in the same part."""
    bed = garden.beds[tall.bed]
    depth = strip_depth_cm(bed)
    above, below = ([(strip, *part_and_row(bed, strip)) for strip in one.strips] for one in (tall, low))
    return {
        (one, other): (row - there - 1) * depth
        for one, part, row in above
        for other, where, there in below
        if part == where and row > there
    }


def _before_it(garden: Garden, tall: Planting, low: Planting) -> bool:
    """Return whether the tall planting has a strip on the equator side of a strip of the low one, in the same part."""
    bed = garden.beds[tall.bed]
    return any(
        part_and_row(bed, one)[0] == part_and_row(bed, other)[0]
        and part_and_row(bed, one)[1] > part_and_row(bed, other)[1]
        for one in tall.strips
        for other in low.strips
    )


def _tall_words(garden: Garden, planting: Planting) -> str:
    crop = garden.crops[planting.crop]
    return f"{CLASS_WORDS[height_class(crop, garden.scenario.rules)]}, {crop.height.usual:.0f} cm"


def _hinders_inside(garden: Garden, planting: Planting, other: Planting, taller: bool) -> Iterator[Hindrance]:
    """Yield the strips on the wrong side of a planting in the same bed."""
    bed = garden.beds[planting.bed]
    tall, low = (planting, other) if taller else (other, planting)
    gaps = _gaps_inside(garden, tall, low)
    if not gaps:
        return
    reach, depth = _longest_reach(garden, tall, low), strip_depth_cm(bed)
    shaded = {pair for pair, gap in gaps.items() if reaches_middle(reach, gap, depth)}
    barring = shaded if rule_goes_by_shadow(garden) else gaps
    barred = sorted({pair[0 if taller else 1] for pair in barring})
    if not barred:
        return
    side = "north" if garden.scenario.site.south else "south"
    until = say_day(min(planting.clear, other.clear))
    where, it, them = say_strips(barred), _tall_words(garden, planting), _tall_words(garden, other)
    if taller:
        sentence = f"in {where} it ({it}) would stand {side} of {other.crop} ({them}) until {until}"
    else:
        sentence = f"in {where} {other.crop} ({them}) would stand {side} of it ({it}) until {until}"
    if not shaded:
        sentence += "; its noon shadow would not reach the middle of the lower one's strip, so it costs next to nothing"
        sentence += " ('height_order: by shadow' lets it)"
    yield Hindrance(
        claim=order_claim(bed.name), sentence=sentence, strips=tuple(barred), until=other.clear, other=other
    )


def _hinders_between(
    garden: Garden, planting: Planting, other: Planting, tall: Planting, low: Planting, gap: float
) -> Iterator[Hindrance]:
    """Yield that the shadow of one bed's crop reaches a lower one in another bed, if it does in a common half month."""
    step = garden.crops[tall.crop].height.usual - garden.crops[low.crop].height.usual
    reaching = [period for period in _together(tall, low) if step * reach_factor(garden.scenario.site, period) > gap]
    shaded = _shading_periods(garden, tall, low, gap)
    if rule_goes_by_shadow(garden):
        reaching = [period for period in reaching if period in shaded]
    if not reaching:
        return
    worst = max(reaching, key=lambda period: reach_factor(garden.scenario.site, period))
    reach = step * reach_factor(garden.scenario.site, worst)
    far = f"{reach:.0f} cm across a {gap:.0f} cm gap about {say_day(first_day(worst))}"
    if tall is planting:
        sentence = f"its shadow ({_tall_words(garden, tall)}) would reach {low.crop} in {low.bed}, {far}"
    else:
        sentence = f"the shadow of {tall.crop} in {tall.bed} ({_tall_words(garden, tall)}) would reach it, {far}"
    if not shaded:
        sentence += ", but not the middle of its first strip, so it costs next to nothing"
        sentence += " ('height_order: by shadow' lets it)"
    yield Hindrance(
        claim=shadow_claim(tall.bed, low.bed),
        sentence=sentence,
        strips=planting.strips,
        until=other.clear,
        other=other,
    )
