"""As pinned: plantings the grower fixed stand where and when they were fixed.

What it asks
    A pinned planting is in the plan: that crop, in that bed, started on that day, on those strips (and perhaps more
    beside them) if any are named, with at least that many plants if a number is given, started in that way and
    cleared on that day if they are named. A planting kept from an earlier plan stands as it was: its crop, bed, strips,
    way, days and number of plants.
Why
    Some plantings are already in the ground, promised, or simply decided.
Breaks it
    ``pinned: [{bed: south bed, crop: garlic, start: 2027-10-16}]`` and no garlic in the south bed that day.
Loosen it
    Remove the pin, or leave out its strips; keep fewer plantings of the earlier plan.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from rotasolve.domain.claim import Breach, Claim
from rotasolve.domain.seasons import say_day
from rotasolve.domain.strips import say_strips

if TYPE_CHECKING:
    from rotasolve.board import Board
    from rotasolve.domain.hindrance import Hindrance
    from rotasolve.domain.plan import Plan, Planting
    from rotasolve.domain.scenario import PinnedPlanting
    from rotasolve.relations.ground.garden import Garden


def pin_claim(pin: PinnedPlanting) -> Claim:
    """Return the claim that a pinned planting stands."""
    strips = ",".join(str(strip) for strip in sorted(pin.strips)) or "any"
    about: tuple[str, ...] = (pin.crop, pin.bed, say_day(pin.start), strips, str(pin.plants or 1))
    if pin.way is not None or pin.until is not None:
        about += (pin.way or "any", say_day(pin.until) if pin.until is not None else "any")
    return Claim(rule="as-pinned", about=about)


def kept_claim(planting: Planting) -> Claim:
    """Return the claim that a planting of an earlier plan is kept as it is."""
    strips = ",".join(str(strip) for strip in sorted(planting.strips))
    about = (planting.crop, planting.bed, say_day(planting.start), strips, str(planting.plants))
    return Claim(rule="as-pinned", about=(*about, planting.way, say_day(planting.clear), "kept"))


def _standing_for(garden: Garden, planting: Planting) -> Iterator[int]:
    """Yield the choice that stands for a kept planting."""
    for number, choice in enumerate(garden.choices):
        sowing, kept = choice.sowing, choice.sowing.kept
        if kept is None or (choice.bed, sowing.crop, sowing.way) != (planting.bed, planting.crop, planting.way):
            continue
        if (sowing.start, sowing.course.clear) != (planting.start, planting.clear):
            continue
        if (kept.strips, kept.plants) == (planting.strips, planting.plants):
            yield number


class AsPinned:
    """Pinned plantings stand."""

    key = "as-pinned"

    def post(self, garden: Garden, board: Board) -> None:
        """Demand a lot of the pinned sowing on every named strip, and plants enough."""
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
                board.at_least([(number, garden.choices[number].lot.plants) for number in numbers], pin.plants or 1)
                for strip in pin.strips:
                    on_it = [n for n in numbers if any(cell.strip == strip for cell in garden.choices[n].cells)]
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
                yield Breach(claim=pin_claim(pin), found="it is not in the plan")
            elif not set(pin.strips) <= strips:
                missing = ", ".join(str(strip) for strip in sorted(set(pin.strips) - strips))
                yield Breach(claim=pin_claim(pin), found=f"strips {missing} are without it", plantings=tuple(standing))
            elif plants < (pin.plants or 1):
                few = f"only {plants} of {pin.plants} plants"
                yield Breach(claim=pin_claim(pin), found=few, plantings=tuple(standing))
        there = {kept_claim(planting) for planting in plan.plantings}
        for planting in dict.fromkeys(garden.kept):
            if kept_claim(planting) not in there:
                yield Breach(claim=kept_claim(planting), found="it is not in the plan as it was")

    def say(self, claim: Claim) -> str:
        """Say the claim in plain words."""
        crop, bed, day, strips, plants, *more = claim.about
        way, until, *kept = more or ("any", "any")
        how = f" {way}" if way != "any" else ""
        where = f", strips {strips}" if strips != "any" else ""
        end = f" to {until}" if until != "any" else ""
        count = f" with {plants} plants" if plants != "1" else ""
        if kept:
            where = say_strips(int(strip) for strip in strips.split(","))
            count = f" with {plants} {'plant' if plants == '1' else 'plants'}"
            return f"you keep {crop}{how} in {bed}, {where}, from {day}{end}{count}"
        return f"you fixed {crop}{how} in {bed}{where} from {day}{end}{count}"

    def hinders(self, garden: Garden, plan: Plan, planting: Planting) -> Iterator[Hindrance]:
        """Nothing: one more planting takes no pinned planting away; that they share ground is another rule's matter."""
        yield from ()
