"""The program both solvers get: the board's variables, rows and points, frozen."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from rotasolve.board import Board, Row
from rotasolve.goals import GOALS
from rotasolve.referee import blank_plan, score
from rotasolve.rules import RULES

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rotasolve.relations.ground.garden import Garden


@dataclass(frozen=True)
class Program:
    """Minimise ``constant`` + points x variables subject to the rows; variables run from 0 to ``upper``."""

    garden: Garden
    upper: tuple[int, ...]
    rows: tuple[Row, ...]
    points: dict[int, int]
    constant: int
    cost_if_empty: int = 0

    def cost(self, values: Sequence[int]) -> int:
        """Return the points lost at ``values``."""
        return self.constant + sum(points * values[number] for number, points in self.points.items())

    def holds(self, values: Sequence[int]) -> bool:
        """Return whether ``values`` meet every bound and row."""
        if any(not 0 <= value <= top for value, top in zip(values, self.upper, strict=True)):
            return False
        return all(row.low <= sum(c * values[n] for n, c in row.terms) <= row.high for row in self.rows)


def build_program(garden: Garden, goals: bool = True) -> Program:
    """Post every rule, and every goal unless ``goals`` is False, and return the program."""
    board = Board(garden)
    for rule in RULES:
        rule.post(garden, board)
    if not goals:
        return freeze(board)
    for goal in GOALS:
        goal.cost(garden, board)
    return freeze(board, sum(goal.lost for goal in score(garden, blank_plan(garden.scenario))))


def freeze(board: Board, cost_if_empty: int = 0) -> Program:
    """Return the board's program; ``cost_if_empty`` are the points that an empty garden loses."""
    points = {number: value for number, value in board.points.items() if value}
    return Program(board.garden, tuple(board.upper), tuple(board.rows), points, board.points_always, cost_if_empty)


def loosened(program: Program) -> Program:
    """Return the program with the rows that are meant of single terms put so, which asks nothing of the ground.

    Together they are tight, but on a strip that two crops take they cannot be met: they would forbid what only
    free-ground may forbid. Where claims are switched off one by one, as for a clash, each must bind for itself.
    """
    rows = [replace(row, terms=terms, each=None, singly=0) for row in program.rows for terms in row.loose]
    return replace(program, rows=tuple(dict.fromkeys(rows)))
