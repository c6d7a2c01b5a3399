"""HiGHS alone on the counted program, built here from the program's rows, not by the code it is compared with."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import highspy
import numpy

if TYPE_CHECKING:
    from rotasolve.solver.program import Program

_NO_PLAN = 1e29
_OPEN_END = 1e11


@dataclass(frozen=True)
class Alone:
    """What HiGHS reached: points lost by its best plan of counts (None without one), its bound, its seconds."""

    lost: float | None
    at_least: float
    seconds: float


def highs_alone(program: Program, seconds: float) -> Alone:
    """Solve the program with HiGHS as it comes, on all cores, until it is done or the time is up."""
    make: Any = highspy.Highs  # it comes without types
    solver = make()
    for option, value in (("output_flag", False), ("time_limit", float(seconds)), ("mip_rel_gap", 0.0)):
        solver.setOptionValue(option, value)
    for number, top in enumerate(program.upper):
        solver.addVar(0.0, float(top))
        solver.changeColCost(number, float(program.points.get(number, 0)))
        solver.changeColIntegrality(number, highspy.HighsVarType.kInteger)
    for row in program.rows:
        low, high = (end if abs(end) < _OPEN_END else numpy.copysign(numpy.inf, end) for end in (row.low, row.high))
        numbers = numpy.array([number for number, _ in row.terms], dtype=numpy.int32)
        factors = numpy.array([factor for _, factor in row.terms], dtype=float)
        solver.addRow(float(low), float(high), len(numbers), numbers, factors)
    solver.changeObjectiveOffset(float(program.constant))
    solver.run()
    info = solver.getInfo()
    lost = float(info.objective_function_value)
    return Alone(None if abs(lost) > _NO_PLAN else lost, float(info.mip_dual_bound), float(solver.getRunTime()))
