"""From counts to strips: which strips each planting of a bed takes."""

from __future__ import annotations

import threading
from collections import Counter
from typing import TYPE_CHECKING

from rotasolve.board import Board
from rotasolve.relations.ground.lie_of_beds import part_and_row
from rotasolve.rules import RULES
from rotasolve.solver.cpsat import Limits, run_cpsat
from rotasolve.solver.incumbent import Incumbent
from rotasolve.solver.program import freeze

if TYPE_CHECKING:
    from rotasolve.relations.ground.garden import Cell, Garden
    from rotasolve.relations.ground.sowings import Sowing

_EFFORT = 4.0
"""Deterministic units for one bed; a bed that is not arranged by then is solved strip by strip instead."""

StripRuns = dict["Sowing", list[tuple[int, ...]]]
"""For each sowing the runs of strips its lots take."""


def chosen_in(garden: Garden, values: tuple[int, ...], bed: str) -> Counter[Sowing]:
    """Return the lots of each sowing that ``values`` put into a bed."""
    lots: Counter[Sowing] = Counter()
    for choice, count in zip(garden.choices, values, strict=False):
        if choice.bed == bed and count:
            lots[choice.sowing] += count
    return lots


def places_in_exact(garden: Garden, values: tuple[int, ...], bed: str) -> StripRuns:
    """Return the strips of a bed that was modelled strip by strip."""
    places: StripRuns = {}
    for choice, count in zip(garden.choices, values, strict=False):
        if choice.bed == bed and count:
            places.setdefault(choice.sowing, []).append(tuple(cell.strip for cell in choice.cells))
    return places


def arrange(garden: Garden, bed: str, lots: Counter[Sowing], held: StripRuns | None = None) -> StripRuns | None:
    """Return strips for every lot of a bed, each sowing's lots side by side where possible, or None.

    Sowings in ``held`` keep the strips they have. Deterministic: the same lots always get the same strips.
    """
    held = held or {}
    lots = lots + Counter({sowing: len(runs) for sowing, runs in held.items()})
    if not lots:
        return {}
    small = garden.restricted(bed, sorted(lots, key=lambda sowing: sowing.name))
    board = inside_board(small)
    runs: dict[Sowing, list[int]] = {sowing: [] for sowing in lots}
    for number, choice in enumerate(small.choices):
        runs[choice.sowing].append(number)
        if choice.sowing in held:
            stays = int(tuple(cell.strip for cell in choice.cells) in held[choice.sowing])
            board.define([(number, 1)], low=stays, high=stays)
    cells = sorted(small.cells)
    for sowing, count in lots.items():
        board.define([(number, 1) for number in runs[sowing]], low=count, high=count)
        _charge_ends(small, board, cells, runs[sowing])
    program = freeze(board)
    incumbent = Incumbent(program)
    run_cpsat(program, incumbent, Limits(seconds=None, effort=_EFFORT), threading.Event())
    values, _ = incumbent.best()
    return None if values is None else places_in_exact(small, values, bed)


def inside_board(small: Garden) -> Board:
    """Return the board of one bed, strip by strip, with the rules that hold inside it."""
    board = Board(small)
    for rule in RULES:
        if rule.holds_inside_a_bed:
            rule.post(small, board)
    return board


def _charge_ends(garden: Garden, board: Board, cells: list[Cell], numbers: list[int]) -> None:
    """Lose a point for each strip where a sowing ends, so that its lots come to lie together."""
    on = {cell: [n for n in numbers if cell in garden.choices[n].cells] for cell in cells}
    for here, after in zip(cells, [*cells[1:], None], strict=True):
        bed = garden.beds[here.bed]
        together = after is not None and part_and_row(bed, here.strip)[0] == part_and_row(bed, after.strip)[0]
        beyond = on[after] if together and after is not None else []
        if on[here]:
            end = board.variable(f"end at {here.strip}", 1)
            board.define([*((n, 1) for n in on[here]), *((n, -1) for n in beyond), (end, -1)], high=0)
            board.lose(1, end)
