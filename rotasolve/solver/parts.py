"""Improve a plan part by part: some beds in some years move, strip by strip, while all else stays.

The counted program knows how many strips each sowing takes, not which; a plan of counts often cannot be laid out
with tall crops to the pole side. So the best plan is always kept laid out: each step takes the counted program with
everything outside the part fixed, and adds the strips of the part's beds with the rules that hold inside a bed.
"""

from __future__ import annotations

import threading
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy
import numpy.typing
from ortools.sat.python import cp_model

from rotasolve.solver.arrange import StripRuns, Strips, inside_board
from rotasolve.solver.cpsat import Ending, Limits, add_row, solve_model

if TYPE_CHECKING:
    from rotasolve.relations.ground.blocks import Block
    from rotasolve.relations.ground.sowings import Sowing
    from rotasolve.solver.program import Program

Flags = numpy.typing.NDArray[numpy.bool_]
Numbers = numpy.typing.NDArray[numpy.int64]


@dataclass(frozen=True)
class LaidOut:
    """A whole plan: the counted program's values, and the strips of every bed."""

    values: tuple[int, ...]
    places: Mapping[str, StripRuns]
    cost: int


class PartSolver:
    """Solves parts of one counted program."""

    def __init__(self, program: Program) -> None:
        self.program, self.garden = program, program.garden
        starts = numpy.cumsum([0, *(len(row.terms) for row in program.rows)])
        self._columns = numpy.array([n for row in program.rows for n, _ in row.terms], dtype=numpy.int64)
        self._factors = numpy.array([c for row in program.rows for _, c in row.terms], dtype=numpy.int64)
        self._row_of = numpy.repeat(numpy.arange(len(program.rows)), numpy.diff(starts))

    def solve(
        self, part: frozenset[int], now: LaidOut, limits: Limits, stop: threading.Event, lay_out: bool = True
    ) -> tuple[LaidOut | None, Ending]:
        """Return the plan with the choices of ``part`` moved for the better, or None if nothing was found.

        Without ``lay_out`` the counts move alone, and the places of the part's beds no longer fit them.
        """
        choices, model = self.garden.choices, cp_model.CpModel()
        before = numpy.array(now.values, dtype=numpy.int64)
        free = self._freed(part)
        variables = {int(n): model.new_int_var(0, self.program.upper[n], "") for n in numpy.flatnonzero(free)}
        if not self._add_rows(model, variables, free, before):
            return None, "none possible"
        strips: dict[str, list[tuple[Sowing, Strips, cp_model.IntVar]]] = {}
        moving: dict[str, list[int]] = {}
        for number in sorted(part) if lay_out else ():
            if choices[number].bed in self.garden.exact_beds:
                continue
            moving.setdefault(choices[number].bed, []).append(number)
        for bed, numbers in moving.items():
            strips[bed] = self._add_strips(model, variables, bed, numbers, now.places[bed])
        points = {n: value for n, value in self.program.points.items() if n in variables}
        fixed_points = self.program.constant + sum(
            value * int(before[n]) for n, value in self.program.points.items() if n not in variables
        )
        model.minimize(
            cp_model.LinearExpr.weighted_sum([variables[n] for n in points], list(points.values())) + fixed_points
        )
        for number, variable in variables.items():
            model.add_hint(variable, int(before[number]))
        solver, ending = solve_model(model, limits, stop)
        if ending not in ("best", "some"):
            return None, ending
        values = [solver.value(variables[n]) if n in variables else int(before[n]) for n in range(len(before))]
        places = dict(now.places)
        for bed, here in strips.items():
            laid: StripRuns = {}
            for sowing, run, variable in here:
                if solver.value(variable):
                    laid.setdefault(sowing, []).append(run)
            places[bed] = laid
        return LaidOut(tuple(values), places, self.program.cost(values)), ending

    def to_mend(self, values: tuple[int, ...]) -> Iterator[frozenset[int]]:
        """Yield nothing, then the choices of the rows that a plan breaks alone, then all in their beds and years."""
        yield frozenset()
        count, choices = len(self.garden.choices), self.garden.choices
        meant: set[int] = set()
        for row in self.program.rows:
            alone = all(number < count for number, _ in row.terms)
            if alone and not row.low <= sum(factor * values[number] for number, factor in row.terms) <= row.high:
                meant |= {number for number, _ in row.terms}
        yield frozenset(meant)
        places = {(choices[number].bed, choices[number].sowing.crop_year) for number in meant}
        yield frozenset(n for n, choice in enumerate(choices) if (choice.bed, choice.sowing.crop_year) in places)

    def _freed(self, part: frozenset[int]) -> Flags:
        """Return which variables move; all others keep their values, which already meet every row.

        The part's choices move, the marks and goal variables in a row with one of them, and those in a row with these.
        """
        count = len(self.garden.choices)
        free = numpy.zeros(len(self.program.upper), dtype=bool)
        if not part:
            free[count:] = True
            return free
        free[sorted(part)] = True
        for _ in range(2):
            touched = numpy.zeros(len(self.program.rows), dtype=bool)
            touched[self._row_of[free[self._columns]]] = True
            found = self._columns[touched[self._row_of]]
            free[found[found >= count]] = True
        return free

    def _add_rows(
        self,
        model: cp_model.CpModel,
        variables: Mapping[int, cp_model.IntVar],
        free: Flags,
        before: Numbers,
    ) -> bool:
        """Add the rows that touch the part, all else moved to their bounds; False if a row cannot hold."""
        of_free = free[self._columns]
        held = numpy.bincount(
            self._row_of[~of_free],
            weights=(self._factors[~of_free] * before[self._columns[~of_free]]).astype(float),
            minlength=len(self.program.rows),
        )
        terms: dict[int, list[tuple[int, int]]] = {}
        for row, column, factor in zip(
            self._row_of[of_free], self._columns[of_free], self._factors[of_free], strict=True
        ):
            terms.setdefault(int(row), []).append((int(column), int(factor)))
        for number, row in enumerate(self.program.rows):
            rest, here = round(held[number]), terms.get(number)
            if here is None:
                if not row.low <= rest <= row.high:
                    return False
                continue
            add_row(model, variables, here, row.low - rest, row.high - rest)
        return True

    def _add_strips(
        self,
        model: cp_model.CpModel,
        variables: Mapping[int, cp_model.IntVar],
        bed: str,
        numbers: list[int],
        before: StripRuns,
    ) -> list[tuple[Sowing, Strips, cp_model.IntVar]]:
        """Add the bed's strips and the rules inside it; sowings that do not move keep the strips they have."""
        moving = [self.garden.choices[number] for number in numbers]
        moved = {choice.sowing for choice in moving}
        held = [(sowing, strips) for sowing, runs in before.items() if sowing not in moved for strips in runs]
        small = self.garden.restricted(bed, moving, held)
        inner = inside_board(small)
        marks = [model.new_int_var(0, top, "") for top in inner.upper]
        for row in inner.rows:
            add_row(model, marks, row.terms, row.low, row.high)
        found = []
        on: dict[tuple[Sowing, Block], list[cp_model.IntVar]] = {}
        for mark, (nth, choice) in zip(marks, enumerate(small.choices), strict=False):
            strips = tuple(cell.strip for cell in choice.cells)
            found.append((choice.sowing, strips, mark))
            if nth < len(held):
                model.add(mark == 1)
            else:
                on.setdefault((choice.sowing, choice.block), []).append(mark)
                model.add_hint(mark, int(strips in before.get(choice.sowing, ())))
        for number, choice in zip(numbers, moving, strict=True):
            model.add(cp_model.LinearExpr.sum(on[choice.sowing, choice.block]) == variables[number])
        return found
