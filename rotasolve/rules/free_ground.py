"""Free ground: a strip holds one crop at a time.

What it asks
    From the day a crop is started until the day its ground is cleared, no other planting takes the same strip; a
    crop that still stands from before the plan keeps its strips to the end of the half month given in the history.
Why
    Common practice, no source: two full stands on the same ground give neither its spacing. Ground is given back
    by half months, so that clearing and starting again never fall into the same one.
Breaks it
    Peas in strip 2 until 15 July and leeks set out in strip 2 on 1 July.
Loosen it
    Cut the bed into shallower strips, so that two crops can share it side by side.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from typing import TYPE_CHECKING

from rotasolve.domain.claim import Breach, Claim
from rotasolve.domain.hindrance import Hindrance
from rotasolve.domain.seasons import first_day, last_day, period_of, say_day
from rotasolve.domain.strips import say_strips, strips_in_bed

if TYPE_CHECKING:
    from rotasolve.board import Board
    from rotasolve.domain.plan import Plan, Planting
    from rotasolve.relations.ground.garden import Cell, Garden


def ground_claim(bed: str) -> Claim:
    """Return the claim that each strip of a bed holds one crop at a time."""
    return Claim(rule="free-ground", about=(bed,))


class FreeGround:
    """One crop at a time on a strip."""

    key = "free-ground"

    def post(self, garden: Garden, board: Board) -> None:
        """In each half month the strips taken from a cell are no more than it has free."""
        for bed in garden.beds:
            with board.because(ground_claim(bed)):
                for cell, strips in garden.cells.items():
                    if cell.bed != bed:
                        continue
                    for _, terms in board.crowded(cell):
                        board.at_most(terms, strips)
                    self._post_held(garden, board, cell)

    @staticmethod
    def _post_held(garden: Garden, board: Board, cell: Cell) -> None:
        """Post the half months that an earlier planting makes tighter; it holds on from the plan's first day."""
        period = garden.first_period
        while taken := garden.taken_at_start(cell, period):
            terms = board.ground_terms(cell, period)
            if terms:
                board.at_most(terms, garden.cells[cell] - taken)
            period += 1

    def breaches(self, garden: Garden, plan: Plan) -> Iterator[Breach]:
        """Compare the dates of every two plantings that share a strip, and of those held from before."""
        for planting in plan.plantings:
            bed = garden.beds[planting.bed]
            beyond = [strip for strip in planting.strips if strip > strips_in_bed(bed) or strip < 1]
            if beyond:
                yield Breach(
                    claim=ground_claim(planting.bed), found=f"strip {beyond[0]} does not exist", plantings=(planting,)
                )
            if len(set(planting.strips)) < len(planting.strips):
                twice = f"{planting.crop} names a strip twice"
                yield Breach(claim=ground_claim(planting.bed), found=twice, plantings=(planting,))
            if planting.clear < planting.start:
                yield Breach(
                    claim=ground_claim(planting.bed),
                    found=f"{planting.crop} is cleared on {say_day(planting.clear)}, before it is started",
                    plantings=(planting,),
                )
            picked = [day for day in (planting.first_harvest, planting.last_harvest) if day is not None]
            if picked != sorted(picked) or any(not planting.start <= day <= planting.clear for day in picked):
                yield Breach(
                    claim=ground_claim(planting.bed),
                    found=f"{planting.crop} is picked on days on which it does not stand",
                    plantings=(planting,),
                )
            for past in garden.scenario.history:
                if past.bed != planting.bed or past.until is None:
                    continue
                if last_day(period_of(past.until)) < planting.start:
                    continue
                if not past.strips or set(past.strips) & set(planting.strips):
                    yield Breach(
                        claim=ground_claim(planting.bed),
                        found=f"{past.crop} from before the plan stands until {say_day(past.until)}, "
                        f"{planting.crop} starts on {say_day(planting.start)}",
                        plantings=(planting,),
                    )
        for one, other in combinations(plan.plantings, 2):
            shared = sorted(set(one.strips) & set(other.strips))
            if one.bed == other.bed and shared and one.start <= other.clear and other.start <= one.clear:
                yield Breach(
                    claim=ground_claim(one.bed),
                    found=f"strip {shared[0]} holds {one.crop} from {say_day(one.start)} to {say_day(one.clear)} "
                    f"and {other.crop} from {say_day(other.start)} to {say_day(other.clear)}",
                    plantings=(one, other),
                )

    def say(self, claim: Claim) -> str:
        """Say the claim in plain words."""
        return f"each strip of {claim.about[0]} holds one crop at a time"

    def hinders(self, garden: Garden, plan: Plan, planting: Planting) -> Iterator[Hindrance]:
        """Bar the strips that another planting holds in one of the same half months."""
        claim, first = ground_claim(planting.bed), period_of(planting.start)
        begin, end = first_day(first), last_day(period_of(planting.clear))
        for past in garden.scenario.history:
            if past.bed != planting.bed or past.until is None or period_of(past.until) < first:
                continue
            shared = tuple(strip for strip in planting.strips if not past.strips or strip in past.strips)
            if not shared:
                continue
            sentence = f"{say_strips(shared)} held by {past.crop} from before the plan until {say_day(past.until)}"
            yield Hindrance(claim=claim, sentence=sentence, strips=shared, until=past.until)
        for other in plan.plantings:
            if other.bed != planting.bed or other.clear < begin or other.start > end:
                continue
            shared = tuple(strip for strip in planting.strips if strip in other.strips)
            if not shared:
                continue
            days = f"from {say_day(other.start)} to {say_day(other.clear)}"
            sentence = f"{say_strips(shared)} held by {other.crop} {days}"
            yield Hindrance(claim=claim, sentence=sentence, strips=shared, until=other.clear, other=other)
