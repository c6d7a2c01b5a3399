"""HiGHS in a process of its own, started by its path from ``solver/highs.py``; imports nothing of rotasolve.

A process, because HiGHS calls back into Python so often that it would hold up the other side of the search, and
because a process can be stopped at any moment. It reads one line of JSON (sizes and options) and the arrays of the
program from standard input, then better plans as lines of JSON; it writes bounds and plans as lines of JSON.
"""

from __future__ import annotations

import io
import json
import os
import sys
import threading
from typing import Any, BinaryIO

import highspy
import numpy


class SilentHighs(highspy.Highs):
    """HiGHS prints a banner while it is built, before its output can be switched off; stdout is for answers."""

    def enableCallbacks(self) -> None:
        """Switch the output off first: the parent calls this while it is built."""
        self.setOptionValue("output_flag", False)
        super().enableCallbacks()  # type: ignore[no-untyped-call]


def model_of(arrays: Any) -> Any:
    """Return the arrays of a program (see ``highs.arrays_of``) as a HiGHS model."""
    model = highspy.HighsLp()
    count = len(arrays["cost"])
    model.num_col_, model.num_row_ = count, len(arrays["low"])
    model.col_cost_ = arrays["cost"]
    model.col_lower_ = numpy.zeros(count)
    model.col_upper_ = arrays["upper"]
    model.row_lower_, model.row_upper_ = arrays["low"], arrays["high"]
    model.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
    model.a_matrix_.start_ = arrays["starts"]
    model.a_matrix_.index_ = arrays["columns"]
    model.a_matrix_.value_ = arrays["factors"]
    model.integrality_ = [highspy.HighsVarType.kInteger] * count
    model.offset_ = float(arrays["constant"])
    return model


def prove(head: dict[str, Any], arrays: Any, feed: BinaryIO, out: BinaryIO) -> None:
    """Solve, telling ``out`` of each better bound and plan, and taking plans from ``feed`` meanwhile."""
    solver: Any = SilentHighs()  # type: ignore[no-untyped-call]
    for option, value in head["options"].items():
        solver.setOptionValue(option, value)
    solver.passModel(model_of(arrays))
    lock, told = threading.Lock(), [-1e30]
    given: list[numpy.typing.NDArray[numpy.float64]] = []

    def tell(**what: object) -> None:
        try:
            with lock:
                out.write(json.dumps(what).encode() + b"\n")
                out.flush()
        except BrokenPipeError:
            os._exit(0)  # nobody listens any more

    def take() -> None:
        for line in feed:
            given[:] = [numpy.array(json.loads(line), dtype=float)]
        os._exit(0)  # whoever asked is gone, perhaps killed: nobody waits for an answer

    def bound(event: Any) -> None:
        if event.data_out.mip_dual_bound > told[0] + 0.5:
            told[0] = event.data_out.mip_dual_bound
            tell(bound=told[0])

    def improve(event: Any) -> None:
        tell(values=[round(value) for value in event.data_out.mip_solution])

    def help_along(event: Any) -> None:
        if given:
            event.data_in.setSolution(given.pop())

    threading.Thread(target=take, daemon=True).start()
    solver.cbMipInterrupt.subscribe(bound)
    solver.cbMipImprovingSolution.subscribe(improve)
    solver.cbMipUserSolution.subscribe(help_along)
    solver.run()
    status, info = solver.getModelStatus(), solver.getInfo()
    if status in (highspy.HighsModelStatus.kInfeasible, highspy.HighsModelStatus.kUnboundedOrInfeasible):
        tell(ending="none possible")
        return
    found = info.primal_solution_status == highspy.SolutionStatus.kSolutionStatusFeasible
    if found:
        tell(values=[round(value) for value in solver.getSolution().col_value])
    if status == highspy.HighsModelStatus.kOptimal:
        tell(bound=info.objective_function_value, ending="best")
    else:
        tell(bound=max(info.mip_dual_bound, -1e30), ending="some" if found else "none found")


def main() -> None:
    """Read the program from standard input and prove it."""
    head = json.loads(sys.stdin.buffer.readline())
    with numpy.load(io.BytesIO(sys.stdin.buffer.read(head["bytes"]))) as arrays:
        prove(head, dict(arrays), sys.stdin.buffer, sys.stdout.buffer)
    sys.stdout.buffer.flush()
    # The feeding thread still waits on standard input; leaving at once does not wait for it.
    os._exit(0)


if __name__ == "__main__":
    main()
