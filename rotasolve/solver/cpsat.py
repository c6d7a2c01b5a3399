"""The program in OR-Tools CP-SAT."""

from __future__ import annotations

import threading
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from rotasolve.errors import SolverMissing

try:
    from ortools.sat.python import cp_model
except ImportError as trouble:  # pragma: no cover - depends on the machine
    import platform

    raise SolverMissing(
        f"OR-Tools cannot be loaded on Python {platform.python_version()} ({trouble}); "
        "it ships for Python 3.11 to 3.14 on 64-bit Linux, macOS and Windows"
    ) from trouble

if TYPE_CHECKING:
    from rotasolve.board import Term
    from rotasolve.domain.claim import Claim
    from rotasolve.solver.incumbent import Incumbent
    from rotasolve.solver.program import Program

Ending = Literal["best", "some", "none possible", "none found"]
_ENDINGS: dict[object, Ending] = {
    cp_model.OPTIMAL: "best",
    cp_model.FEASIBLE: "some",
    cp_model.INFEASIBLE: "none possible",
    cp_model.UNKNOWN: "none found",
}


@dataclass(frozen=True)
class Limits:
    """When to stop and how to start: wall seconds or deterministic units, seed, workers.

    ``first_will_do`` ends with the first plan. A search that has come within ``gap`` of the best possible plan ends as
    well (0: only when that is proven).
    """

    seconds: float | None = 60.0
    effort: float | None = None
    seed: int = 1
    workers: int = 1
    first_will_do: bool = False
    gap: float = 0.0

    def words(self) -> str:
        """Say the limit as it is kept in the plan."""
        return f"effort {self.effort:g}" if self.effort is not None else f"{self.seconds:g} s"


def translate(
    program: Program, hint: Sequence[int] | None = None, fixed: Mapping[int, int] | None = None
) -> tuple[cp_model.CpModel, list[cp_model.IntVar], dict[Claim, cp_model.IntVar]]:
    """Return the program as a CP-SAT model with its variables (no switches: the third part is empty)."""
    return _translate(program, hint, fixed or {}, switched=False)


def translate_switched(
    program: Program,
) -> tuple[cp_model.CpModel, list[cp_model.IntVar], dict[Claim, cp_model.IntVar]]:
    """Return the program without goals, each claim's rows behind a switch of its own."""
    return _translate(program, None, {}, switched=True)


def add_row(
    model: cp_model.CpModel,
    variables: Sequence[cp_model.IntVar] | Mapping[int, cp_model.IntVar],
    terms: Sequence[Term],
    low: int,
    high: int,
) -> cp_model.Constraint | None:
    """Demand ``low <= sum of terms <= high``; None if there is nothing to demand of an empty sum."""
    if not terms:
        # An empty sum that must not be 0 cannot be met: an empty "or" says so.
        return None if low <= 0 <= high else model.add_bool_or([])
    expression = cp_model.LinearExpr.weighted_sum([variables[n] for n, _ in terms], [factor for _, factor in terms])
    return model.add_linear_constraint(expression, low, high)


def _translate(
    program: Program, hint: Sequence[int] | None, fixed: Mapping[int, int], switched: bool
) -> tuple[cp_model.CpModel, list[cp_model.IntVar], dict[Claim, cp_model.IntVar]]:
    model = cp_model.CpModel()
    variables = [
        model.new_int_var(fixed.get(number, 0), fixed.get(number, top), "") for number, top in enumerate(program.upper)
    ]
    switches: dict[Claim, cp_model.IntVar] = {}
    for row in program.rows:
        posted = add_row(model, variables, row.terms, row.low, row.high)
        if switched and posted is not None and row.claim is not None:
            if row.claim not in switches:
                switches[row.claim] = model.new_bool_var(str(row.claim))
            posted.only_enforce_if(switches[row.claim])
    if not switched and program.points:
        numbers = sorted(program.points)
        model.minimize(
            cp_model.LinearExpr.weighted_sum([variables[n] for n in numbers], [program.points[n] for n in numbers])
            + program.constant
        )
    if hint is not None:
        for variable, value in zip(variables, hint, strict=True):
            model.add_hint(variable, value)
    return model, variables, switches


class _Listener(cp_model.CpSolverSolutionCallback):
    """Hands each better plan to the incumbent; runs on a CP-SAT thread, so it only copies values."""

    def __init__(self, variables: list[cp_model.IntVar], incumbent: Incumbent, bounds: bool) -> None:
        super().__init__()
        self._variables, self._incumbent, self._bounds = variables, incumbent, bounds

    def on_solution_callback(self) -> None:
        self._incumbent.offer([self.value(variable) for variable in self._variables])
        if self._bounds:
            self._incumbent.raise_bound(self.best_objective_bound)


def solve_model(
    model: cp_model.CpModel,
    limits: Limits,
    stop: threading.Event,
    listener: cp_model.CpSolverSolutionCallback | None = None,
    on_bound: Callable[[float], None] | None = None,
) -> tuple[cp_model.CpSolver, Ending]:
    """Solve a model and return the solver with its values, and how it ended.

    CP-SAT's own Ctrl-C handling stays off, because after it the next Ctrl-C would kill the process; a helper
    thread asks it to stop instead, again and again, since asking before the search exists does nothing.
    """
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = limits.workers
    solver.parameters.random_seed = limits.seed
    solver.parameters.catch_sigint_signal = False
    # Nearly all rows are sums of 0/1 choices: the full linear relaxation proves parts several times sooner, and probing
    # and symmetry cost more than they find (measured on the family garden, parts of 1,000 choices). A first plan needs
    # none of them.
    solver.parameters.linearization_level = 0 if limits.first_will_do else 2
    solver.parameters.cp_model_probing_level = 0
    solver.parameters.symmetry_level = 0
    solver.parameters.stop_after_first_solution = limits.first_will_do
    if limits.effort is not None:
        solver.parameters.max_deterministic_time = limits.effort
    elif limits.seconds is not None:
        solver.parameters.max_time_in_seconds = max(0.01, limits.seconds)
    if on_bound is not None:
        solver.best_bound_callback = on_bound
    done = threading.Event()

    def watch() -> None:
        while not done.wait(0.1):
            if stop.is_set():
                solver.stop_search()

    watcher = threading.Thread(target=watch, daemon=True)
    watcher.start()
    try:
        status = solver.solve(model, listener)
    finally:
        done.set()
        watcher.join()
    ending = _ENDINGS.get(status)
    if ending is None:
        raise RuntimeError(f"CP-SAT refuses the model: {model.validate()}")
    return solver, ending


def run_cpsat(
    program: Program,
    incumbent: Incumbent,
    limits: Limits,
    stop: threading.Event,
    fixed: Mapping[int, int] | None = None,
    hint: Sequence[int] | None = None,
) -> Ending:
    """Solve until the limit or ``stop``; better plans go to the incumbent, and bounds unless values are ``fixed``."""
    model, variables, _ = translate(program, hint, fixed)
    whole = not fixed
    listener = _Listener(variables, incumbent, whole)
    solver, ending = solve_model(model, limits, stop, listener, incumbent.raise_bound if whole else None)
    if ending in ("best", "some"):
        incumbent.offer([solver.value(variable) for variable in variables])
        if whole:
            incumbent.raise_bound(solver.best_objective_bound)
    return ending
