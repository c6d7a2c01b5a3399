"""HiGHS in its own process, CP-SAT and the relaxation: what each says of the same program."""

from __future__ import annotations

import threading

import highspy
import pytest

from rotasolve.relations.ground.garden import make_garden
from rotasolve.solver.cpsat import Limits, run_cpsat
from rotasolve.solver.highs import relaxed_bound, run_highs
from rotasolve.solver.incumbent import Incumbent
from rotasolve.solver.program import Program, build_program
from tests.helpers.agree import least_cost
from tests.helpers.tiny import CATALOGUE, bed, scenario

WISHES = [{"crop": "lettuce", "kg": 3}, {"crop": "potato", "kg": 5}, {"crop": "kale", "kg": 2, "weight": 4}]


def program(exact: bool = True, **more: object) -> Program:
    wish = scenario(beds=[bed(strips=3), bed("other")], years=2, targets=WISHES, **more)  # type: ignore[arg-type]
    return build_program(make_garden(wish, CATALOGUE, exact))


@pytest.mark.parametrize("exact", [True, False])
def test_both_solvers_prove_the_same_optimum(exact: bool) -> None:
    both = program(exact)
    best = least_cost(both)
    assert best is not None
    assert 0 < best < both.cost_if_empty
    for name in ("HiGHS", "CP-SAT"):
        alone = Incumbent(both)
        if name == "HiGHS":
            ending = run_highs(both, alone, 60, 1, threading.Event())
        else:
            ending = run_cpsat(both, alone, Limits(seconds=None, effort=20), threading.Event())
        assert (name, ending, alone.cost, alone.bound, alone.closed) == (name, "best", best, best, True)
        assert alone.values is not None
        assert both.holds(alone.values)
    assert 0 < relaxed_bound(both) <= best


def test_a_bound_is_found_whatever_ran_before_in_the_process() -> None:
    one = program()
    before, other = relaxed_bound(one), highspy.Highs()  # type: ignore[no-untyped-call]
    other.setOptionValue("output_flag", False)
    other.setOptionValue("threads", 2)
    other.resetGlobalScheduler(True)
    other.addVariable(0, 1, -1)
    other.run()
    assert relaxed_bound(one) == before > 0


def test_both_solvers_find_that_nothing_is_possible() -> None:
    # 13 lettuces a year and 12 plants' room in one bed, 8 in the other: 21 are too many.
    none = program(must=[{"crop": "lettuce", "plants": 21, "year": 2027}])
    for ending in (
        run_highs(none, Incumbent(none), 60, 1, threading.Event()),
        run_cpsat(none, Incumbent(none), Limits(seconds=None, effort=20), threading.Event()),
    ):
        assert ending == "none possible"
    assert least_cost(program(must=[{"crop": "lettuce", "plants": 20, "year": 2027}])) is not None


def test_an_incumbent_keeps_the_better_plan_and_the_tighter_bound() -> None:
    two = program()
    kept = Incumbent(two)
    empty = [0] * len(two.upper)
    assert kept.offer(empty)
    assert not kept.offer(empty)
    assert kept.cost == two.cost(empty)
    kept.raise_bound(10.2)
    kept.raise_bound(5)
    # Points are whole: 10.2 means at least 11.
    assert kept.bound == 11
    assert not kept.closed
    # No bound lies above a plan that exists.
    kept.raise_bound(1e9)
    assert kept.bound == kept.cost
    assert kept.closed
    kept.raise_bound(float("-inf"))
    assert kept.closed
