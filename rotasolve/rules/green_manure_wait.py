"""Green manure wait: ground on which a green manure was dug in lies for some weeks before anything is started on it.

What it asks
    A strip cleared of a green manure stays empty for the weeks its crop file gives (``wait_after``), counted in days
    from the day of clearing to the day the next crop is sown or set out. A green manure of the history with a last day
    (``until``) counts too.
Why
    Fresh residues hold back seedlings, small seeds above all, while they rot. Two weeks is the usual wait after rye
    (SARE-MCCP, UNL-RYE); mustard was ploughed in 30 days before planting (LARKIN-2011, MARSH-2009); the figures of the
    other green manures are from memory and say so.
Breaks it
    Winter rye dug in on 30 April and carrots sown on the same strip on 7 May: 7 days, 14 are asked.
Loosen it
    ``rules: {green_manure_wait: 1}`` sets the weeks for all of them, 0 switches the rule off.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from typing import TYPE_CHECKING

from rotasolve.domain.claim import Claim, Facts
from rotasolve.domain.hindrance import Hindrance
from rotasolve.domain.plan import Breach
from rotasolve.domain.seasons import last_day, period_of
from rotasolve.domain.strips import strips_in_bed
from rotasolve.relations.ground.waits import days_after_digging_in

if TYPE_CHECKING:
    from rotasolve.board import Board
    from rotasolve.domain.plan import Plan, Planting
    from rotasolve.domain.scenario import PastPlanting
    from rotasolve.relations.ground.garden import Cell, Garden


@dataclass(frozen=True)
class WaitClaim(Claim):
    """Ground in a bed waits for so many days after one green manure."""

    rule = "green-manure-wait"
    crop: str
    bed: str
    days: int


@dataclass(frozen=True)
class StartedTooSoon(Facts):
    """Strips cleared of a green manure take the next crop after too few days."""

    strips: tuple[int, ...]
    crop: str
    cleared: date
    following: str
    start: date
    waited_days: int


@dataclass(frozen=True)
class Waiting(Facts):
    """Strips cleared of a green manure wait until a day."""

    strips: tuple[int, ...]
    crop: str
    cleared: date
    until: date


@dataclass(frozen=True)
class WouldWait(Facts):
    """Strips would wait until a day, but another crop starts there before."""

    strips: tuple[int, ...]
    until: date
    following: str
    start: date


class GreenManureWait:
    """Ground waits after a green manure."""

    key = WaitClaim.rule
    holds_inside_a_bed = True

    def post(self, garden: Garden, board: Board) -> None:
        """Keep every start off the strips that wait; each green manure of each bed has its own claim."""
        full: _Full = {}
        for bed in garden.beds:
            cells = [cell for cell in garden.cells if cell.bed == bed]
            for crop, days in _green_manures(garden, bed):
                with board.because(WaitClaim(crop, bed, days)):
                    for cell in cells:
                        _post_history(garden, board, cell, crop, days)
                        _post_waits(garden, board, cell, crop, days, full)

    def breaches(self, garden: Garden, plan: Plan) -> Iterator[Breach]:
        """Compare the day each planting starts with the days on which its strips were last cleared."""
        for planting in plan.plantings:
            for crop, bed, strips, cleared, dug_in in [*_cleared(plan), *_cleared_before(garden)]:
                days, waited = _days_asked(garden, crop), (planting.start - cleared).days
                if bed != planting.bed or not 0 < waited < days:
                    continue
                shared = [strip for strip in planting.strips if not strips or strip in strips]
                if shared:
                    found = StartedTooSoon(tuple(shared), crop, cleared, planting.crop, planting.start, waited)
                    yield Breach(WaitClaim(crop, planting.bed, days), found, (*dug_in, planting))

    def hinders(self, garden: Garden, plan: Plan, planting: Planting) -> Iterator[Hindrance]:
        """Bar strips that wait when the planting starts, and a green manure after which another starts too soon."""
        rules = garden.scenario.rules
        for past in garden.scenario.history:
            if past.bed != planting.bed or past.until is None:
                continue
            days = days_after_digging_in(garden.crops[past.crop], rules)
            shared = tuple(strip for strip in planting.strips if past.takes(strip))
            if shared and 0 < (planting.start - past.until).days < days:
                yield self._too_soon(past.crop, planting.bed, days, past.until, shared, None)
        for other in plan.plantings:
            if other.bed != planting.bed:
                continue
            shared = tuple(strip for strip in planting.strips if strip in other.strips)
            if not shared:
                continue
            days = days_after_digging_in(garden.crops[other.crop], rules)
            if 0 < (planting.start - other.clear).days < days:
                yield self._too_soon(other.crop, planting.bed, days, other.clear, shared, other)
            days = days_after_digging_in(garden.crops[planting.crop], rules)
            if 0 < (other.start - planting.clear).days < days:
                claim = WaitClaim(planting.crop, planting.bed, days)
                why = WouldWait(shared, planting.clear + timedelta(days=days), other.crop, other.start)
                yield Hindrance(claim, why, shared, other=other)

    @staticmethod
    def _too_soon(
        crop: str, bed: str, days: int, cleared: date, shared: tuple[int, ...], other: Planting | None
    ) -> Hindrance:
        last = cleared + timedelta(days=days - 1)
        why = Waiting(shared, crop, cleared, last)
        return Hindrance(WaitClaim(crop, bed, days), why, shared, last, other)


def _days_asked(garden: Garden, crop: str) -> int:
    """Return the days that the referee asks for after a crop: the rules' weeks, else those of a green manure's file."""
    weeks, figure = garden.scenario.rules.green_manure_wait, garden.crops[crop].wait_after
    if weeks is None:
        weeks = 0 if figure is None else figure.usual
    return round(7 * weeks) if garden.crops[crop].green_manure else 0


def _green_manures(garden: Garden, bed: str) -> list[tuple[str, int]]:
    """Return (crop, days to wait) of the green manures that stand in a bed at any time, planned or before."""
    crops = {choice.sowing.crop for choice in garden.choices if choice.bed == bed}
    crops |= {past.crop for past in garden.scenario.history if past.bed == bed and past.until is not None}
    rules = garden.scenario.rules
    waits = [(crop, days_after_digging_in(garden.crops[crop], rules)) for crop in sorted(crops)]
    return [(crop, days) for crop, days in waits if days > 1]


_Full = dict[tuple["Cell", "date"], frozenset[tuple[int, int]]]
"""The strips of cells that stand full on a day, as terms."""
_Cleared = tuple[str, str, tuple[int, ...], "date", tuple["Planting", ...]]


def _cleared(plan: Plan) -> Iterator[_Cleared]:
    for planting in plan.plantings:
        yield planting.crop, planting.bed, planting.strips, planting.clear, (planting,)


def _cleared_before(garden: Garden) -> Iterator[_Cleared]:
    for past in garden.scenario.history:
        if past.until is not None:
            yield past.crop, past.bed, past.strips, past.until, ()


def _post_history(garden: Garden, board: Board, cell: Cell, crop: str, days: int) -> None:
    """Keep starts off the strips on which a green manure from before the plan was dug in."""
    pasts = [past for past in garden.scenario.history if (past.crop, past.bed) == (crop, cell.bed) and past.until]
    if not pasts:
        return
    starts = sorted({garden.choices[number].sowing.start for number in board.members([cell])})
    early = _given_back_early(garden, board, cell)
    for start in starts:
        waiting = [past for past in pasts if past.until and 0 < (start - past.until).days < days]
        taken = _strips_of(garden, cell, waiting)
        if not taken:
            continue
        if cell.strip:
            here = sorted(board.members([cell]))
            board.never(number for number in here if garden.choices[number].sowing.start == start)
        else:
            held = [past for past in garden.scenario.history if past.bed == cell.bed and past.until]
            standing = [past for past in held if past.until and last_day(period_of(past.until)) >= start]
            taken |= _strips_of(garden, cell, standing)
            board.at_most(_standing_on(garden, board, cell, start, early), garden.cells[cell] - len(taken))


def _strips_of(garden: Garden, cell: Cell, pasts: list[PastPlanting]) -> set[int]:
    here = (cell.strip,) if cell.strip else range(1, strips_in_bed(garden.beds[cell.bed]) + 1)
    return {strip for strip in here if any(past.takes(strip) for past in pasts)}


def _post_waits(garden: Garden, board: Board, cell: Cell, crop: str, days: int, full: _Full) -> None:
    """Keep starts off the strips on which a planned green manure waits.

    On a single strip each start is held against each green manure. In a counted bed, on every day on which something
    starts, the strips that stand full and those that wait are together no more than there are.
    """
    choices, here = garden.choices, sorted(board.members([cell]))
    lying = [(choices[number].sowing.course.clear, number) for number in here if choices[number].sowing.crop == crop]
    if not lying:
        return
    starting: dict[date, list[tuple[int, int]]] = {}
    for number in here:
        starting.setdefault(choices[number].sowing.start, []).append((number, 1))
    early = _given_back_early(garden, board, cell)
    crowds: list[frozenset[tuple[int, int]]] = []
    for start, terms in sorted(starting.items()):
        waiting = [number for clear, number in lying if 0 < (start - clear).days < days]
        if waiting and cell.strip:
            # All that start on one day meet each green manure in one row, for a strip holds one of them at most.
            for number in waiting:
                board.each_at_most(terms, (number, 1), 1)
        elif waiting:
            taken = [(number, choices[number].strips_per_cell) for number in waiting]
            if (cell, start) not in full:
                full[cell, start] = frozenset(_standing_on(garden, board, cell, start, early))
            crowds.append(full[cell, start].union(taken))
    for crowd in dict.fromkeys(crowds):
        # A crowd that is part of another asks nothing new.
        if not any(crowd < other for other in crowds):
            board.at_most(sorted(crowd), garden.cells[cell])


def _standing_on(garden: Garden, board: Board, cell: Cell, day: date, early: frozenset[int]) -> list[tuple[int, int]]:
    """Return the strips of a cell that stand full on a day, as terms; ``early`` as in ``_given_back_early``."""
    found = []
    for number in sorted({*board.on_cell(cell, period_of(day)), *early}):
        sowing = garden.choices[number].sowing
        if sowing.start <= day <= sowing.course.clear:
            found.append((number, garden.choices[number].strips_per_cell))
    return found


def _given_back_early(garden: Garden, board: Board, cell: Cell) -> frozenset[int]:
    """Return the choices that give their last half month back early: they stand in it all the same."""
    kept = board.members([cell], frozenset(planting.crop for planting in garden.kept))
    standing = {number: garden.choices[number].sowing.kept for number in kept}
    return frozenset(number for number, one in standing.items() if one is not None and one.gives_back_early)
