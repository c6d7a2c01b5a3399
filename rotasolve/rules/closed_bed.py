"""Closed bed: nothing stands in a bed while the grower has closed it.

What it asks
    From the day on which a bed is closed (``closed`` in the scenario, ``bed closed`` in a diary) to the last day of its
    closing, both included, nothing stands in it. What stood there already when it was closed, and is kept from an
    earlier plan, may stand on to its end: say ``cleared`` or ``failed`` if it does not. Without a last day the bed
    stays closed.
Why
    A bed may be out of use for reasons that no other rule knows: it is built anew, flooded, full of a weed that is
    starved under a sheet, lent to a neighbour, or its soil is being tested for what makes it unsafe. Common practice,
    no source.
Breaks it
    A bed closed from 1 June to 31 August, and kale set out there on 17 July.
Loosen it
    Give an earlier last day, or take the closing out.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from rotasolve.domain.claim import Claim, Facts
from rotasolve.domain.hindrance import Hindrance
from rotasolve.domain.plan import Breach

if TYPE_CHECKING:
    from rotasolve.board import Board
    from rotasolve.domain.plan import Plan, Planting
    from rotasolve.domain.scenario import ClosedBed
    from rotasolve.relations.ground.garden import Garden


@dataclass(frozen=True)
class ClosedClaim(Claim):
    """Nothing stands in a bed from a day on, ``until`` another one if that is known."""

    rule = "closed-bed"
    bed: str
    since: date
    until: date | None

    @property
    def about(self) -> tuple[str, ...]:
        """Bed, first and last day."""
        return self.bed, str(self.since), str(self.until or "")


@dataclass(frozen=True)
class StandsWhileClosed(Facts):
    """A crop stands in a closed bed from one day to another."""

    crop: str
    start: date
    clear: date


@dataclass(frozen=True)
class ClosedThen(Facts):
    """A bed is closed from a day on, ``until`` another one if that is known, while a crop would stand there."""

    crop: str
    bed: str
    since: date
    until: date | None


def closed_claim(closed: ClosedBed) -> ClosedClaim:
    """Return the claim that a bed is closed."""
    return ClosedClaim(closed.bed, closed.since, closed.until)


class ClosedBeds:
    """Closed beds stay empty."""

    key = ClosedClaim.rule
    holds_inside_a_bed = False

    def post(self, garden: Garden, board: Board) -> None:
        """Forbid every choice that stands in a bed while it is closed."""
        for closed in dict.fromkeys(garden.scenario.closed):
            barred = []
            for number, choice in enumerate(garden.choices):
                sowing = choice.sowing
                stood_there = sowing.kept is not None and sowing.start <= closed.since
                overlaps = sowing.course.clear >= closed.since and (closed.until or date.max) >= sowing.start
                if choice.bed == closed.bed and overlaps and not stood_there:
                    barred.append(number)
            with board.because(closed_claim(closed)):
                board.never(barred)

    def breaches(self, garden: Garden, plan: Plan) -> Iterator[Breach]:
        """Look for a day of each planting on which its bed is closed."""
        for closed in dict.fromkeys(garden.scenario.closed):
            for planting in plan.plantings:
                if planting.bed == closed.bed and _stands_then(planting, closed):
                    found = StandsWhileClosed(planting.crop, planting.start, planting.clear)
                    yield Breach(closed_claim(closed), found, (planting,))

    def hinders(self, garden: Garden, plan: Plan, planting: Planting) -> Iterator[Hindrance]:
        """Bar the bed until it is open again."""
        for closed in dict.fromkeys(garden.scenario.closed):
            if planting.bed == closed.bed and _stands_then(planting, closed):
                why = ClosedThen(planting.crop, closed.bed, closed.since, closed.until)
                yield Hindrance(closed_claim(closed), why, planting.strips, closed.until)


def _stands_then(planting: Planting, closed: ClosedBed) -> bool:
    """Return whether a planting stands on a day on which its bed is closed, unless it is kept from before that."""
    if planting.kept and planting.start <= closed.since:
        return False
    ends_before = planting.clear < closed.since
    begins_after = closed.until is not None and planting.start > closed.until
    return not ends_before and not begins_after
