"""The program in HiGHS: a linear relaxation gives bounds that CP-SAT alone does not reach."""

from __future__ import annotations

import threading
from collections.abc import Callable
from typing import TYPE_CHECKING, Any

import numpy

from rotasolve.errors import SolverMissing

try:
    import highspy
except ImportError as trouble:  # pragma: no cover - depends on the machine
    raise SolverMissing(f"HiGHS cannot be loaded ({trouble}); install the package highspy") from trouble

if TYPE_CHECKING:
    from rotasolve.solver.cpsat import Ending
    from rotasolve.solver.incumbent import Incumbent
    from rotasolve.solver.program import Program


class _Silent(highspy.Highs):  # type: ignore[misc]
    """HiGHS prints a banner while it is built, before its output can be switched off; stdout is for the answer."""

    def enableCallbacks(self) -> None:
        self.setOptionValue("output_flag", False)
        super().enableCallbacks()


_FAR = 10**11
"""Row ends beyond this mean no bound on that side."""


def linear_program(program: Program) -> Any:
    """Return the program as a HiGHS model, rows by their terms."""
    model = highspy.HighsLp()
    count, infinite = len(program.upper), highspy.kHighsInf
    model.num_col_, model.num_row_ = count, len(program.rows)
    costs = numpy.zeros(count)
    for number, points in program.points.items():
        costs[number] = points
    model.col_cost_ = costs
    model.col_lower_ = numpy.zeros(count)
    model.col_upper_ = numpy.array(program.upper, dtype=float)
    model.row_lower_ = numpy.array([row.low if row.low > -_FAR else -infinite for row in program.rows], dtype=float)
    model.row_upper_ = numpy.array([row.high if row.high < _FAR else infinite for row in program.rows], dtype=float)
    starts = numpy.cumsum([0, *(len(row.terms) for row in program.rows)])
    model.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
    model.a_matrix_.start_ = starts
    model.a_matrix_.index_ = numpy.array([number for row in program.rows for number, _ in row.terms])
    model.a_matrix_.value_ = numpy.array([value for row in program.rows for _, value in row.terms], dtype=float)
    model.integrality_ = [highspy.HighsVarType.kInteger] * count
    model.offset_ = float(program.constant)
    return model


def run_highs(
    program: Program,
    incumbent: Incumbent,
    seconds: float,
    seed: int,
    stop: threading.Event,
    finds: Incumbent | None = None,
) -> Ending:
    """Solve until the limit or ``stop``; bounds go to the incumbent, plans to ``finds`` (the incumbent if None).

    The incumbent's plan is handed to HiGHS whenever it is better than its own.
    """
    finds = incumbent if finds is None else finds
    if any(not row.terms and not row.low <= 0 <= row.high for row in program.rows):
        return "none possible"
    solver = _Silent()
    for option, value in (
        ("time_limit", float(seconds)),
        ("threads", 1),
        ("random_seed", seed),
        ("mip_rel_gap", 0.0),
        ("mip_abs_gap", 0.999),
    ):
        solver.setOptionValue(option, value)
    solver.passModel(linear_program(program))

    def interrupt(event: Any) -> None:
        incumbent.raise_bound(event.data_out.mip_dual_bound)
        event.interrupt(stop.is_set() or incumbent.closed)

    def improve(event: Any) -> None:
        finds.offer([round(value) for value in event.data_out.mip_solution])

    def help_along(event: Any) -> None:
        values, cost = incumbent.best()
        if values is not None and cost is not None and cost < event.data_out.mip_primal_bound - 0.5:
            event.data_in.setSolution(numpy.array(values, dtype=float))

    callbacks: list[tuple[str, Callable[[Any], None]]] = [
        ("cbMipInterrupt", interrupt),
        ("cbMipImprovingSolution", improve),
        ("cbMipUserSolution", help_along),
    ]
    for name, function in callbacks:
        getattr(solver, name).subscribe(function)
    solver.run()
    status, info = solver.getModelStatus(), solver.getInfo()
    incumbent.raise_bound(info.mip_dual_bound)
    if status in (highspy.HighsModelStatus.kInfeasible, highspy.HighsModelStatus.kUnboundedOrInfeasible):
        return "none possible"
    if info.primal_solution_status == highspy.SolutionStatus.kSolutionStatusFeasible:
        finds.offer([round(value) for value in solver.getSolution().col_value])
        return "best" if status == highspy.HighsModelStatus.kOptimal else "some"
    return "none found"


def relaxed_bound(program: Program) -> float:
    """Return what the linear relaxation proves: no plan loses fewer points. Deterministic."""
    solver = _Silent()
    solver.setOptionValue("solve_relaxation", True)
    solver.setOptionValue("threads", 1)
    solver.passModel(linear_program(program))
    solver.run()
    solved = solver.getModelStatus() == highspy.HighsModelStatus.kOptimal
    return float(solver.getInfo().objective_function_value) if solved else 0.0
