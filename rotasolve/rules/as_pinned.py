"""As pinned: plantings the grower fixed stand where and when they were fixed.

What it asks
    A pinned planting is in the plan: that crop, in that bed, started on that day, on those strips (and perhaps more
    beside them) if any are named, with at least that many plants if a number is given, started in that way and cleared
    on that day if they are named; two plantings may make it up together. A planting kept from an earlier plan stands as
    it was: its crop, bed, strips, way, days and number of plants.
Why
    Some plantings are already in the ground, promised, or simply decided.
Breaks it
    ``pinned: [{bed: south bed, crop: garlic, start: 2027-10-16}]`` and no garlic in the south bed that day.
Loosen it
    Remove the pin, or leave out its strips; keep fewer plantings of the earlier plan.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from rotasolve.domain.claim import Claim, Facts
from rotasolve.domain.plan import Breach
from rotasolve.domain.seasons import say_day

if TYPE_CHECKING:
    from datetime import date

    from rotasolve.board import Board
    from rotasolve.domain.hindrance import Hindrance
    from rotasolve.domain.plan import Plan, Planting
    from rotasolve.domain.scenario import PinnedPlanting
    from rotasolve.relations.ground.garden import Choice, Garden


@dataclass(frozen=True)
class PinClaim(Claim):
    """A planting stands as the grower fixed it, or, ``kept``, as it stood in an earlier plan.

    Strips may be empty, way and last day None, where a pin leaves them open.
    """

    rule = "as-pinned"
    crop: str
    bed: str
    start: date
    strips: tuple[int, ...]
    plants: int
    way: str | None = None
    until: date | None = None
    kept: bool = False

    @property
    def about(self) -> tuple[str, ...]:
        """Crop, bed, day, strips and plants; then way and last day where one is given."""
        strips = ",".join(str(strip) for strip in self.strips) or "any"
        about: tuple[str, ...] = (self.crop, self.bed, say_day(self.start), strips, str(self.plants))
        if self.way is not None or self.until is not None:
            about += (self.way or "any", say_day(self.until) if self.until is not None else "any")
        return (*about, "kept") if self.kept else about


@dataclass(frozen=True)
class NotThere(Facts):
    """The planting is not in the plan at all, or, ``kept``, not as it was."""

    kept: bool = False


@dataclass(frozen=True)
class StripsWithout(Facts):
    """Strips that the grower named are without the planting."""

    strips: tuple[int, ...]


@dataclass(frozen=True)
class FewerPlants(Facts):
    """So many plants of those fixed are there."""

    plants: int
    wanted: int


def pin_claim(pin: PinnedPlanting) -> PinClaim:
    """Return the claim that a pinned planting stands."""
    return PinClaim(pin.crop, pin.bed, pin.start, tuple(sorted(pin.strips)), pin.plants or 1, pin.way, pin.until)


def kept_claim(planting: Planting) -> PinClaim:
    """Return the claim that a planting of an earlier plan is kept as it is."""
    one, strips = planting, tuple(sorted(planting.strips))
    return PinClaim(one.crop, one.bed, one.start, strips, one.plants, one.way, one.clear, kept=True)


def _standing_for(garden: Garden, planting: Planting) -> Iterator[int]:
    """Yield the choice that stands for a kept planting."""
    for number, choice in enumerate(garden.choices):
        sowing, kept = choice.sowing, choice.sowing.kept
        if kept is None or not kept.held:
            continue
        if (choice.bed, sowing.crop, sowing.way) != (planting.bed, planting.crop, planting.way):
            continue
        if (sowing.start, sowing.course.clear) != (planting.start, planting.clear):
            continue
        if (kept.strips, kept.plants) == (planting.strips, planting.plants):
            yield number


def _strips_of(choice: Choice) -> tuple[int, ...]:
    kept = choice.sowing.kept
    return tuple(cell.strip for cell in choice.cells) if kept is None else kept.strips


class AsPinned:
    """Pinned plantings stand."""

    key = PinClaim.rule
    holds_inside_a_bed = True

    def post(self, garden: Garden, board: Board) -> None:
        """Demand the pinned sowing on every named strip, and plants enough."""
        for pin in dict.fromkeys(garden.scenario.pinned):
            if pin.bed not in garden.beds:
                continue
            numbers = [
                number
                for number, choice in enumerate(garden.choices)
                if (choice.bed, choice.sowing.crop, choice.sowing.start) == (pin.bed, pin.crop, pin.start)
                and pin.way in (None, choice.sowing.way)
                and pin.until in (None, choice.sowing.course.clear)
            ]
            with board.because(pin_claim(pin)):
                board.at_least([(number, garden.choices[number].block.plants) for number in numbers], pin.plants or 1)
                for strip in pin.strips:
                    on_it = [n for n in numbers if strip in _strips_of(garden.choices[n])]
                    board.at_least([(number, 1) for number in on_it], 1)
        for planting in dict.fromkeys(garden.kept):
            if planting.bed in garden.beds:
                with board.because(kept_claim(planting)):
                    board.at_least([(number, 1) for number in _standing_for(garden, planting)], 1)

    def breaches(self, garden: Garden, plan: Plan) -> Iterator[Breach]:
        """Look for the pinned planting by bed, crop and day."""
        for pin in dict.fromkeys(garden.scenario.pinned):
            standing = [
                planting
                for planting in plan.plantings
                if (planting.bed, planting.crop, planting.start) == (pin.bed, pin.crop, pin.start)
                and pin.way in (None, planting.way)
                and pin.until in (None, planting.clear)
            ]
            strips = {strip for planting in standing for strip in planting.strips}
            plants = sum(planting.plants for planting in standing)
            if not standing:
                yield Breach(pin_claim(pin), NotThere())
            elif not set(pin.strips) <= strips:
                missing = tuple(sorted(set(pin.strips) - strips))
                yield Breach(pin_claim(pin), StripsWithout(missing), tuple(standing))
            elif plants < (pin.plants or 1):
                yield Breach(pin_claim(pin), FewerPlants(plants, pin.plants or 1), tuple(standing))
        there = {kept_claim(planting) for planting in plan.plantings}
        for planting in dict.fromkeys(garden.kept):
            if kept_claim(planting) not in there:
                yield Breach(kept_claim(planting), NotThere(kept=True))

    def hinders(self, garden: Garden, plan: Plan, planting: Planting) -> Iterator[Hindrance]:
        """Nothing: one more planting takes no pinned planting away; that they share ground is another rule's matter."""
        yield from ()
