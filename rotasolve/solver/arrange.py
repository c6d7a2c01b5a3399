"""From counts to strips: which strips each planting of a bed takes."""

from __future__ import annotations

import threading
from typing import TYPE_CHECKING

from rotasolve.board import Board
from rotasolve.rules import RULES
from rotasolve.solver.cpsat import Limits, run_cpsat
from rotasolve.solver.incumbent import Incumbent
from rotasolve.solver.program import freeze

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rotasolve.relations.ground.blocks import Block
    from rotasolve.relations.ground.garden import Choice, Garden
    from rotasolve.relations.ground.sowings import Sowing

_EFFORT = 4.0
"""Deterministic units for one bed; a bed that is not arranged by then is solved strip by strip instead."""

Strips = tuple[int, ...]
StripRuns = dict["Sowing", list[Strips]]
"""For each sowing the strips its blocks take."""


def places_in_exact(garden: Garden, values: Sequence[int], bed: str) -> StripRuns:
    """Return the strips of a bed that was modelled strip by strip."""
    places: StripRuns = {}
    for choice, taken in zip(garden.choices, values, strict=False):
        if choice.bed == bed and taken:
            places.setdefault(choice.sowing, []).append(tuple(cell.strip for cell in choice.cells))
    return places


def arrange(
    garden: Garden,
    bed: str,
    chosen: Sequence[Choice],
    held: StripRuns | None = None,
    worth: Sequence[int] | None = None,
) -> StripRuns | None:
    """Return strips for every chosen block of a bed, beside the ``held`` ones, or None if there is no way.

    With a ``worth`` for each of them, those that are worth least are left out where not all have room together.
    Deterministic: the same blocks always get the same strips.
    """
    standing = [(sowing, strips) for sowing, runs in (held or {}).items() for strips in runs]
    if not chosen and not standing:
        return {}
    worths = dict(zip(chosen, worth or [0] * len(chosen), strict=True))
    moving = sorted(chosen, key=lambda choice: choice.name)
    small = garden.restricted(bed, moving, standing)
    board = inside_board(small)
    for number in range(len(standing)):
        board.define([(number, 1)], low=1, high=1)
    by_block: dict[tuple[Sowing, Block], list[int]] = {}
    for number, choice in enumerate(small.choices[len(standing) :], start=len(standing)):
        by_block.setdefault((choice.sowing, choice.block), []).append(number)
    by_size = {(choice.sowing, choice.block): worths[choice] for choice in moving}
    for size, numbers in by_block.items():
        board.define([(number, 1) for number in numbers], low=int(worth is None), high=1)
        for number in numbers:
            board.lose(-by_size[size], number)
    incumbent = Incumbent(freeze(board))
    limits = Limits(seconds=None, effort=_EFFORT, first_will_do=worth is None)
    run_cpsat(incumbent.program, incumbent, limits, threading.Event())
    values, _ = incumbent.best()
    return None if values is None else places_in_exact(small, values, bed)


def inside_board(small: Garden) -> Board:
    """Return the board of one bed, strip by strip, with the rules that hold inside it."""
    board = Board(small)
    for rule in RULES:
        if rule.holds_inside_a_bed:
            rule.post(small, board)
    return board
