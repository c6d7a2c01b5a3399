"""Pole side: while both stand, a tall crop is never on the equator side of a lower one.

What it asks
    Within a part of a bed, crops of a higher height class (low, middle, tall by full-grown height) take strips nearer
    the pole than lower ones. Between beds whose place is known, no crop of a higher class stands in a bed on the
    equator side if its noon shadow reaches across the gap: gap < height difference x tan(|latitude| - declination),
    with the lowest declination of the half months in which both stand.
Why
    Tall crops go on the north side in the northern hemisphere (UCANR-PLAN). The reach is exact for an east-west row
    between the equinoxes; of 108 computed cases only strips on the pole side of a taller row fell under 6 h of sun.
Breaks it
    Climbing beans in strip 3 and lettuce in strip 1 (pole side) in July, at latitude 52 north.
Loosen it
    ``rules: {height_order: false}`` or other ``height_steps_cm``. Within 23.44 degrees of the equator the noon sun
    changes sides and the rule is off.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise, permutations
from typing import TYPE_CHECKING

from rotasolve.domain.claim import Breach, Claim
from rotasolve.domain.seasons import first_day, period_of, say_day
from rotasolve.relations.ground import (
    CLASS_WORDS,
    TROPIC_DEGREES,
    Shading,
    height_class,
    part_and_row,
    reach_factor,
)

if TYPE_CHECKING:
    from rotasolve.board import Board
    from rotasolve.domain.plan import Plan, Planting
    from rotasolve.relations.garden import Cell, Garden


def order_claim(bed: str) -> Claim:
    """Return the claim that heights fall from the pole side inside a bed."""
    return Claim(rule="pole-side", about=(bed,))


def shadow_claim(caster: str, receiver: str) -> Claim:
    """Return the claim that one bed casts no shadow on a lower crop in another."""
    return Claim(rule="pole-side", about=(caster, receiver))


def rule_is_on(garden: Garden) -> bool:
    """Return whether the height order is judged here at all."""
    return garden.scenario.rules.height_order and abs(garden.scenario.site.latitude) >= TROPIC_DEGREES


def _post_step(board: Board, cells: list[Cell], lower: frozenset[int], higher: frozenset[int]) -> None:
    """Let a border run through the part in each half month: higher crops on its pole side, lower ones beyond it.

    ``beyond`` is 1 for a strip on the equator side of the border; it never falls back from one strip to the next.
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
        for cell, mark in zip(cells, beyond, strict=True):
            board.at_most([*board.ground_terms(cell, period, now[0]), (mark, -1)], 0)
            board.at_most([*board.ground_terms(cell, period, now[1]), (mark, 1)], 1)


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
                _post_step(board, sorted(cells), lower, higher)

    @staticmethod
    def _post_between(garden: Garden, board: Board, shading: Shading) -> None:
        rules = garden.scenario.rules
        casting = tuple(cell for cell in garden.cells if cell.bed == shading.caster)
        shaded = tuple(cell for cell in garden.cells if cell.bed == shading.receiver)
        sizes = {n: (height_class(garden.crops[n], rules), garden.crops[n].height.usual) for n in garden.wanted}
        for period in board.periods_of(shaded):
            factor = reach_factor(garden.scenario.site, period)
            above = [(n, *sizes[board.crop_of(n)]) for cell in casting for n in board.on_cell(cell, period)]
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
        rules, site = garden.scenario.rules, garden.scenario.site
        gaps = {(shading.caster, shading.receiver): shading.gap_cm for shading in garden.shadings}
        for tall, low in permutations(plan.plantings, 2):
            crop, other = garden.crops[tall.crop], garden.crops[low.crop]
            high_class, low_class = height_class(crop, rules), height_class(other, rules)
            if high_class <= low_class or tall.start > low.clear or low.start > tall.clear:
                continue
            words = (
                f"{tall.crop} ({CLASS_WORDS[high_class]}, {crop.height.usual:g} cm) on the equator side of {low.crop}"
            )
            words += f" ({CLASS_WORDS[low_class]}, {other.height.usual:g} cm)"
            if tall.bed == low.bed:
                if _before_it(garden, tall, low):
                    since = say_day(max(tall.start, low.start))
                    yield Breach(claim=order_claim(tall.bed), found=f"{words} from {since}")
                continue
            gap = gaps.get((tall.bed, low.bed))
            if gap is None:
                continue
            together = range(period_of(max(tall.start, low.start)), period_of(min(tall.clear, low.clear)) + 1)
            worst = max(together, key=lambda period: reach_factor(site, period))
            reach = (crop.height.usual - other.height.usual) * reach_factor(site, worst)
            if reach > gap:
                yield Breach(
                    claim=shadow_claim(tall.bed, low.bed),
                    found=f"{words}, shadow {reach:.0f} cm over a {gap:.0f} cm gap about {say_day(first_day(worst))}",
                )

    def say(self, claim: Claim) -> str:
        """Say the claim in plain words."""
        if len(claim.about) == 1:
            return f"in {claim.about[0]} a taller crop never stands on the equator side of a lower one"
        caster, receiver = claim.about
        return f"no crop in {caster} is so tall that its shadow reaches a lower crop in {receiver}"


def _before_it(garden: Garden, tall: Planting, low: Planting) -> bool:
    """Return whether the tall planting has a strip on the equator side of a strip of the low one, in the same part."""
    bed = garden.beds[tall.bed]
    return any(
        part_and_row(bed, one)[0] == part_and_row(bed, other)[0]
        and part_and_row(bed, one)[1] > part_and_row(bed, other)[1]
        for one in tall.strips
        for other in low.strips
    )
