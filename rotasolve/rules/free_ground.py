"""Free ground: a strip holds one crop at a time.

What it asks
    From the day a crop is started until the day its ground is cleared, no other planting takes the same strip; a
    crop that still stands from before the plan keeps its strips to the end of the half month given in the history.
    It is picked while it stands there, and its strips are strips of the bed, each named once.
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
from dataclasses import dataclass
from itertools import combinations
from typing import TYPE_CHECKING

from rotasolve.domain.claim import Claim, Facts
from rotasolve.domain.hindrance import Hindrance
from rotasolve.domain.plan import Breach
from rotasolve.domain.seasons import first_day, last_day, period_of
from rotasolve.recount.ground import cut_of

if TYPE_CHECKING:
    from datetime import date

    from rotasolve.board import Board
    from rotasolve.domain.plan import Plan, Planting
    from rotasolve.relations.ground.garden import Cell, Garden


@dataclass(frozen=True)
class GroundClaim(Claim):
    """Each strip of a bed holds one crop at a time."""

    rule = "free-ground"
    bed: str


@dataclass(frozen=True)
class NoSuchStrip(Facts):
    """A planting names a strip that the bed has not got."""

    strip: int


@dataclass(frozen=True)
class StripTwice(Facts):
    """A planting names one strip twice."""

    crop: str


@dataclass(frozen=True)
class ClearedBeforeStart(Facts):
    """A planting is cleared before it is started."""

    crop: str
    clear: date


@dataclass(frozen=True)
class PickedWhileAway(Facts):
    """A planting is picked on days on which it does not stand, or in the wrong order."""

    crop: str


@dataclass(frozen=True)
class StandsFromBefore(Facts):
    """A crop from before the plan still stands when another starts."""

    past: str
    until: date
    crop: str
    start: date


@dataclass(frozen=True)
class Stretch:
    """A crop on the ground, both days included."""

    crop: str
    first: date
    last: date


@dataclass(frozen=True)
class TwoCrops(Facts):
    """A strip holds two crops at once."""

    strip: int
    one: Stretch
    other: Stretch


@dataclass(frozen=True)
class Held(Facts):
    """Strips are held by another crop; ``since`` None: from before the plan."""

    strips: tuple[int, ...]
    crop: str
    since: date | None
    until: date


class FreeGround:
    """One crop at a time on a strip."""

    key = GroundClaim.rule
    holds_inside_a_bed = True

    def post(self, garden: Garden, board: Board) -> None:
        """In each half month the strips taken from a cell are no more than it has free."""
        for bed in garden.beds:
            with board.because(GroundClaim(bed)):
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
            beyond = [strip for strip in planting.strips if strip > cut_of(bed).strips or strip < 1]
            claim, mine = GroundClaim(planting.bed), (planting,)
            if beyond:
                yield Breach(claim, NoSuchStrip(beyond[0]), mine)
            if len(set(planting.strips)) < len(planting.strips):
                yield Breach(claim, StripTwice(planting.crop), mine)
            if planting.clear < planting.start:
                yield Breach(claim, ClearedBeforeStart(planting.crop, planting.clear), mine)
            picked = [day for day in (planting.first_harvest, planting.last_harvest) if day is not None]
            if picked != sorted(picked) or any(not planting.start <= day <= planting.clear for day in picked):
                yield Breach(claim, PickedWhileAway(planting.crop), mine)
            for past in garden.scenario.history:
                if past.bed != planting.bed or past.until is None:
                    continue
                if last_day(period_of(past.until)) < planting.start:
                    continue
                if not past.strips or set(past.strips) & set(planting.strips):
                    found = StandsFromBefore(past.crop, past.until, planting.crop, planting.start)
                    yield Breach(claim, found, mine)
        for one, other in combinations(plan.plantings, 2):
            shared = sorted(set(one.strips) & set(other.strips))
            if one.bed == other.bed and shared and one.start <= other.clear and other.start <= one.clear:
                stretches = [Stretch(each.crop, each.start, each.clear) for each in (one, other)]
                yield Breach(GroundClaim(one.bed), TwoCrops(shared[0], *stretches), (one, other))

    def hinders(self, garden: Garden, plan: Plan, planting: Planting) -> Iterator[Hindrance]:
        """Bar the strips that another planting holds in one of the same half months."""
        claim, first = GroundClaim(planting.bed), period_of(planting.start)
        begin, end = first_day(first), last_day(period_of(planting.clear))
        for past in garden.scenario.history:
            if past.bed != planting.bed or past.until is None or period_of(past.until) < first:
                continue
            shared = tuple(strip for strip in planting.strips if past.takes(strip))
            if not shared:
                continue
            yield Hindrance(claim, Held(shared, past.crop, None, past.until), shared, past.until)
        for other in plan.plantings:
            if other.bed != planting.bed or other.clear < begin or other.start > end:
                continue
            shared = tuple(strip for strip in planting.strips if strip in other.strips)
            if not shared:
                continue
            yield Hindrance(claim, Held(shared, other.crop, other.start, other.clear), shared, other.clear, other)
