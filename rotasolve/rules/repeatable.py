"""Repeatable: the plan's last year may be followed by its first one, again and again.

What it asks
    Off unless the grower sets ``repeatable``. Then families, and hosts of known diseases, also rest long enough between
    the plan's last years and its first ones as they would come next, counted as the rule ``rest`` counts; and what
    stands on beyond the last year leaves the strips free on which something stands in those months of the first. What
    grew before the plan counts in its first round only. The order of heights, and a family's one turn in a season, are
    not asked of what meets there.
Why
    A rotation is meant to go round: who has planned three or four good years wants to begin again without a new plan.
    A plan of so many years as its longest rest and one more goes round most easily (three years for two of rest).
Breaks it
    A plan of two years with potatoes in one bed in its first, and a rest of two complete years.
Loosen it
    Plan more years, set a shorter ``family_gap``, or take ``rules: {repeatable: true}`` out.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from itertools import product
from typing import TYPE_CHECKING

from rotasolve.domain.claim import Claim, Facts
from rotasolve.domain.hindrance import Hindrance
from rotasolve.domain.plan import Breach
from rotasolve.domain.seasons import PERIODS_PER_YEAR, period_of, years_later
from rotasolve.recount.families import restings, stay_of
from rotasolve.relations.ground.garden import Cell
from rotasolve.relations.ground.hosts import rest_too_short

if TYPE_CHECKING:
    from rotasolve.board import Board
    from rotasolve.domain.plan import Plan, Planting
    from rotasolve.recount.families import Resting
    from rotasolve.relations.ground.families import RestGroup
    from rotasolve.relations.ground.garden import Garden


@dataclass(frozen=True)
class RepeatClaim(Claim):
    """The plan goes round every ``years``: a group rests ``gap_years`` on a bed (``strip`` 0) or strip.

    Without a ``group`` it is the bed's ground that must be free.
    """

    rule = "repeatable"
    bed: str
    strip: int
    group: str
    gap_years: int
    years: int

    @property
    def about(self) -> tuple[str, ...]:
        """Group or ground, the place, and the years of rest and of the round."""
        return self.group or "ground", str(Cell(self.bed, self.strip)), str(self.gap_years), str(self.years)


@dataclass(frozen=True)
class BackTooSoon(Facts):
    """A crop of one round and a crop of the next, each with its last, or first, year as a host, too near in time."""

    crop: str
    year: int
    again: str
    year_again: int
    between_years: int
    asked_years: int
    south: bool


@dataclass(frozen=True)
class RoundsMeet(Facts):
    """A crop stands on a strip until a day, and one of the next round is started there on another day before that."""

    strip: int
    crop: str
    until: date
    again: str
    start: date


def _rest_claim(group: RestGroup | Resting, zone: Cell, years: int) -> RepeatClaim:
    return RepeatClaim(zone.bed, zone.strip, group.name, group.gap, years)


class Repeatable:
    """The end may be followed by the start."""

    key = RepeatClaim.rule
    holds_inside_a_bed = True

    def post(self, garden: Garden, board: Board) -> None:
        """Compare visits, and ground half month by half month, with those of the next round."""
        if not garden.scenario.rules.repeatable:
            return
        years = garden.scenario.years
        for zone, cells in garden.zones.items():
            for group in garden.rest_groups(cells[0].bed):
                if group.closes or not group.gap or not board.members(cells, group.crops):
                    continue
                with board.because(_rest_claim(group, zone, years)):
                    visits = board.visits(zone, group)
                    for (one, mark), (other, again) in product(visits.items(), repeat=2):
                        if rest_too_short(one, (other[0] + years, other[1] + years), group.gap):
                            if one == other:
                                board.never([mark])
                            else:
                                board.not_both(mark, again)
        for bed in garden.beds:
            with board.because(RepeatClaim(bed, 0, "", 0, years)):
                for cell, strips in garden.cells.items():
                    if cell.bed == bed:
                        self._post_ground(board, cell, strips, years * PERIODS_PER_YEAR)

    @staticmethod
    def _post_ground(board: Board, cell: Cell, strips: int, around: int) -> None:
        """Where a bed is counted, what stands in both rounds has room together; on one strip only one of them does."""
        for period in board.periods_of([cell]):
            ends, begins = board.ground_terms(cell, period), board.ground_terms(cell, period - around)
            if not begins:
                continue
            if cell.strip:
                mark = board.stands((cell,), period, frozenset(number for number, _ in ends))
                if mark is not None:
                    board.each_at_most(begins, (mark, 1), 1)
            else:
                board.at_most([*ends, *begins], strips)

    def breaches(self, garden: Garden, plan: Plan) -> Iterator[Breach]:
        """Set a second round behind the plan, and compare every planting with every one of it."""
        if not garden.scenario.rules.repeatable:
            return
        for one, other in product(plan.plantings, repeat=2):
            if one.bed == other.bed:
                both = (one, other) if one != other else (one,)
                for claim, found, _ in _against(garden, one, other, by_days=True):
                    yield Breach(claim, found, both)

    def hinders(self, garden: Garden, plan: Plan, planting: Planting) -> Iterator[Hindrance]:
        """Bar the strips on which it would be too near to a planting of the round before or after, or to itself."""
        if not garden.scenario.rules.repeatable:
            return
        pairs: list[tuple[Planting, Planting, Planting | None]] = [(planting, planting, None)]
        for other in plan.plantings:
            if other.bed == planting.bed:
                pairs += [(planting, other, other), (other, planting, other)]
        for one, again, in_the_way in pairs:
            for claim, found, strips in _against(garden, one, again, by_days=False):
                barred = tuple(strip for strip in planting.strips if strip in strips or not strips)
                yield Hindrance(claim, found, barred, None, in_the_way)


def _against(
    garden: Garden, one: Planting, again: Planting, *, by_days: bool
) -> Iterator[tuple[RepeatClaim, Facts, tuple[int, ...]]]:
    """Yield what stands against a planting of one round with another of the next in its bed, and on which strips.

    No strips stand for the whole bed. Ground is compared by days or, as the solver does, by half months.
    """
    years, south = garden.scenario.years, garden.scenario.site.south
    shared = tuple(strip for strip in one.strips if strip in again.strips)
    start, clear = years_later(again.start, years), years_later(again.clear, years)
    meets = one.start <= clear and start <= one.clear
    if not by_days:
        meets = period_of(one.start) <= period_of(clear) and period_of(start) <= period_of(one.clear)
    if shared and meets:
        found = RoundsMeet(shared[0], one.crop, one.clear, again.crop, start)
        yield RepeatClaim(one.bed, 0, "", 0, years), found, shared
    by_strip = garden.scenario.rules.rotation == "strip"
    if by_strip and not shared:
        return
    for group in restings(garden.catalogue, garden.scenario, garden.beds[one.bed]):
        if group.closes or not {one.crop, again.crop} <= group.crops:
            continue
        ends, begins = stay_of(one, south), stay_of(again, south).later(years)
        rest = ends.rest_to(begins)
        if rest is None or rest >= group.gap:
            continue
        told = BackTooSoon(one.crop, ends.last, again.crop, begins.first, rest, group.gap, south)
        for strip in shared if by_strip else (0,):
            yield _rest_claim(group, Cell(one.bed, strip), years), told, (strip,) if strip else ()
