"""Manure interval: nothing is picked from a bed too soon after raw manure was spread on it.

What it asks
    From the day raw manure is worked into a bed (``manure`` in the scenario) to any harvest there lie at least 120 days
    if the part that is eaten touches the soil, and 90 days if it does not. A crop counts as touching unless its crop
    file says why it hangs clear (``clear_of_soil``).
Why
    Raw manure carries germs that make people ill. 120 and 90 days are the intervals of the United States' organic rule
    (7 CFR 205.203(c)(1)(ii) and (iii)). British guidance for crops eaten raw has asked for more: 6 months from fresh
    manure in an earlier version, 12 months in a later one (Food Standards Agency, before 2009 and 2009, both read at
    second hand). Compost made hot enough counts as compost and needs no wait there. Your local food-safety authority's
    rules go before these.
Breaks it
    Raw manure on 1 April and lettuce picked there on 10 June: 70 days, 120 are asked.
Loosen it
    Spread it in autumn, spread finished compost instead, or plan a crop there that is picked later. The settings
    ``manure_days_touching`` and ``manure_days_clear`` under ``rules`` are there for places that ask for longer.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from typing import TYPE_CHECKING

from rotasolve.domain.claim import Claim, Facts
from rotasolve.domain.hindrance import Hindrance
from rotasolve.domain.plan import Breach
from rotasolve.relations.ground.waits import days_after_manure

if TYPE_CHECKING:
    from rotasolve.board import Board
    from rotasolve.domain.plan import Plan, Planting
    from rotasolve.domain.scenario import RawManure
    from rotasolve.relations.ground.garden import Garden


@dataclass(frozen=True)
class ManureClaim(Claim):
    """After raw manure nothing that touches the soil, and nothing else, is picked from a bed for so many days."""

    rule = "manure-interval"
    bed: str
    spread: date
    touching_days: int
    clear_days: int


@dataclass(frozen=True)
class PickedTooSoon(Facts):
    """A crop is picked too few days after raw manure."""

    crop: str
    touches_soil: bool
    picked: date
    after_days: int
    asked_days: int


@dataclass(frozen=True)
class PickedFrom(Facts):
    """A crop may be picked in a bed from a day on after raw manure, not on the day it would be."""

    crop: str
    bed: str
    free: date
    spread: date
    first_harvest: date


def _once(garden: Garden) -> Iterator[tuple[RawManure, Claim]]:
    rules = garden.scenario.rules
    for manure in sorted(set(garden.scenario.manure), key=lambda one: (one.bed, one.spread)):
        if manure.bed in garden.beds:  # a garden cut down to one bed keeps the records of all
            touching, clear = rules.manure_days_touching, rules.manure_days_clear
            yield manure, ManureClaim(manure.bed, manure.spread, touching, clear)


class ManureInterval:
    """Harvests keep their distance from raw manure."""

    key = ManureClaim.rule
    holds_inside_a_bed = False

    def post(self, garden: Garden, board: Board) -> None:
        """Forbid every choice that is picked between the spreading and the end of its interval."""
        rules = garden.scenario.rules
        for manure, claim in _once(garden):
            early = []
            for number, choice in enumerate(garden.choices):
                first, last = choice.sowing.course.first_harvest, choice.sowing.course.last_harvest
                if choice.bed != manure.bed or first is None or last is None:
                    continue
                wait = timedelta(days=days_after_manure(garden.crops[choice.sowing.crop], rules))
                if first < manure.spread + wait and last >= manure.spread:
                    early.append(number)
            with board.because(claim):
                board.never(early)

    def breaches(self, garden: Garden, plan: Plan) -> Iterator[Breach]:
        """Count the days from each spreading to each planting's harvest."""
        rules = garden.scenario.rules
        for manure in dict.fromkeys(garden.scenario.manure):
            for planting in plan.plantings:
                first = planting.first_harvest
                if planting.bed != manure.bed or first is None or (planting.last_harvest or first) < manure.spread:
                    continue
                crop = garden.crops[planting.crop]
                asked = rules.manure_days_clear if crop.clear_of_soil else rules.manure_days_touching
                days = max((first - manure.spread).days, 0)
                if days < asked:
                    claim = ManureClaim(manure.bed, manure.spread, rules.manure_days_touching, rules.manure_days_clear)
                    touches, picked = crop.clear_of_soil is None, max(first, manure.spread)
                    yield Breach(claim, PickedTooSoon(crop.name, touches, picked, days, asked), (planting,))

    def hinders(self, garden: Garden, plan: Plan, planting: Planting) -> Iterator[Hindrance]:
        """Bar a planting that is picked too soon, until the start from which it would be picked late enough."""
        first = planting.first_harvest
        for manure, claim in _once(garden):
            if planting.bed != manure.bed or first is None or (planting.last_harvest or first) < manure.spread:
                continue
            free = manure.spread + timedelta(days=days_after_manure(garden.crops[planting.crop], garden.scenario.rules))
            if first < free:
                last = planting.start + (free - first) - timedelta(days=1)
                why = PickedFrom(planting.crop, manure.bed, free, manure.spread, first)
                yield Hindrance(claim, why, planting.strips, last)
