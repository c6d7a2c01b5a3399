"""The program in HiGHS: a linear relaxation gives bounds that CP-SAT alone does not reach."""

from __future__ import annotations

import io
import json
import subprocess
import sys
import threading
from contextlib import suppress
from typing import TYPE_CHECKING, Any

import numpy

from rotasolve.errors import SolverMissing

try:
    import highspy
except ImportError as trouble:  # pragma: no cover - depends on the machine
    raise SolverMissing(f"HiGHS cannot be loaded ({trouble}); install the package highspy") from trouble

from rotasolve.solver import prover
from rotasolve.solver.prover import SilentHighs, model_of

if TYPE_CHECKING:
    from rotasolve.solver.cpsat import Ending
    from rotasolve.solver.incumbent import Incumbent
    from rotasolve.solver.program import Program

_FAR = 10**11
"""Row ends beyond this mean no bound on that side."""
_POLL_SECONDS = 0.2


def arrays_of(program: Program) -> dict[str, Any]:
    """Return the program as arrays: costs, upper ends, rows by their terms."""
    costs = numpy.zeros(len(program.upper))
    for number, points in program.points.items():
        costs[number] = points
    infinite = highspy.kHighsInf
    return {
        "cost": costs,
        "upper": numpy.array(program.upper, dtype=float),
        "low": numpy.array([row.low if row.low > -_FAR else -infinite for row in program.rows], dtype=float),
        "high": numpy.array([row.high if row.high < _FAR else infinite for row in program.rows], dtype=float),
        "starts": numpy.cumsum([0, *(len(row.terms) for row in program.rows)]),
        "columns": numpy.array([number for row in program.rows for number, _ in row.terms], dtype=numpy.int64),
        "factors": numpy.array([value for row in program.rows for _, value in row.terms], dtype=float),
        "constant": program.constant,
    }


def run_highs(
    program: Program,
    incumbent: Incumbent,
    seconds: float,
    seed: int,
    stop: threading.Event,
    finds: Incumbent | None = None,
) -> Ending:
    """Solve until the limit or ``stop``; bounds go to the incumbent, plans to ``finds`` (the incumbent if None).

    The incumbent's plan is handed to HiGHS whenever it becomes better. HiGHS runs in a process of its own.

    Raises
    ------
    SolverMissing
        If that process cannot be started or fails.
    """
    finds = incumbent if finds is None else finds
    if any(not row.terms and not row.low <= 0 <= row.high for row in program.rows):
        return "none possible"
    options = {"time_limit": float(seconds), "threads": 1, "random_seed": seed}
    options |= {"mip_rel_gap": 0.0, "mip_abs_gap": 0.999}
    body = io.BytesIO()
    numpy.savez(body, **arrays_of(program))
    head = json.dumps({"options": options, "bytes": body.getbuffer().nbytes}).encode()
    process = _started()
    ending: list[Ending] = []
    assert process.stdin is not None
    listener = threading.Thread(target=_listen, args=(process, incumbent, finds, ending), daemon=True)
    listener.start()
    try:
        process.stdin.write(head + b"\n" + body.getvalue())
        process.stdin.flush()
        sent = None
        while listener.is_alive():
            listener.join(_POLL_SECONDS)
            values, cost = incumbent.best()
            if values is not None and cost != sent and listener.is_alive():
                sent = cost
                process.stdin.write(json.dumps(values).encode() + b"\n")
                process.stdin.flush()
            if stop.is_set() or incumbent.closed:
                break
    except BrokenPipeError:
        pass  # it ended between two looks; what it said has been heard, and its exit is judged below
    finally:
        process.kill()
        listener.join()
        process.wait()
        with suppress(BrokenPipeError):
            process.stdin.close()
    if not ending and not stop.is_set() and not incumbent.closed:
        raise SolverMissing("the HiGHS process ended without an answer")
    return ending[-1] if ending else "some" if finds.cost is not None else "none found"


def _started() -> subprocess.Popen[bytes]:
    # By its own path and with -P: else Python looks for modules in the current folder first, and a numpy.py that lies
    # beside a scenario from somebody else would be run.
    command = [sys.executable, "-P", prover.__file__]
    # In a session of its own: Ctrl-C in a terminal is ours to hear, and the best plan is kept.
    return subprocess.Popen(
        command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, start_new_session=sys.platform != "win32"
    )


def _listen(process: subprocess.Popen[bytes], incumbent: Incumbent, finds: Incumbent, ending: list[Ending]) -> None:
    """Pass on what the process tells until it closes its end."""
    assert process.stdout is not None
    with process.stdout as lines:
        for line in lines:
            told = json.loads(line)
            if "values" in told:
                finds.offer(told["values"])
            if "bound" in told:
                incumbent.raise_bound(told["bound"])
            if "ending" in told:
                ending.append(told["ending"])


def relaxed_bound(program: Program) -> float:
    """Return what the linear relaxation proves: no plan loses fewer points. Deterministic.

    Raises
    ------
    SolverMissing
        If HiGHS can neither solve it nor show that no plan can be.
    """
    # HiGHS refuses another count of threads than it was first run with in a process.
    SilentHighs.resetGlobalScheduler(True)
    solver: Any = SilentHighs()  # type: ignore[no-untyped-call]
    solver.setOptionValue("solve_relaxation", True)
    solver.setOptionValue("threads", 1)
    solver.passModel(model_of(arrays_of(program)))
    solver.run()
    status = solver.getModelStatus()
    if status == highspy.HighsModelStatus.kOptimal:
        return float(solver.getInfo().objective_function_value)
    if status == highspy.HighsModelStatus.kModelEmpty:
        return float(program.constant)
    if status in (highspy.HighsModelStatus.kInfeasible, highspy.HighsModelStatus.kUnboundedOrInfeasible):
        return 0.0  # there is no plan, of which nothing need be proven
    raise SolverMissing(f"HiGHS ended without a bound ({solver.modelStatusToString(status)})")
