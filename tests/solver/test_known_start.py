"""A search that goes on from a plan made for other wishes, and one that may end near enough."""

from __future__ import annotations

import threading
from dataclasses import replace

import pytest

from rotasolve.relations.ground.garden import Garden, make_garden
from rotasolve.solver.budget import Budget
from rotasolve.solver.cpsat import Limits
from rotasolve.solver.improver import Improver
from rotasolve.solver.incumbent import Incumbent
from rotasolve.solver.known_plan import known_plan
from rotasolve.solver.neighbourhoods import shortages
from rotasolve.solver.parts import LaidOut
from rotasolve.solver.program import build_program
from rotasolve.solver.search import Found, Known, Search
from tests.helpers.agree import number_of, taken_of
from tests.helpers.tiny import CATALOGUE, bed, scenario

BY_WORK = Limits(seconds=None, effort=3.0)


def garden_of(kg: float, exact: bool = True, **more: object) -> Garden:
    targets = [{"crop": "lettuce", "kg": kg}, {"crop": "kale", "kg": kg}]
    rules = {"few_plantings": "not at all"}
    return make_garden(scenario(beds=[bed(strips=4)], targets=targets, rules=rules, **more), CATALOGUE, exact)  # type: ignore[arg-type]


def found_in(garden: Garden, known: Known | None = None) -> Found:
    found = Search(garden, BY_WORK, known=known).run()
    assert isinstance(found, Found)
    return found


@pytest.mark.parametrize("exact", [True, False])
def test_a_plan_for_other_wishes_is_a_start(exact: bool) -> None:
    found, garden = found_in(garden_of(2, exact)), garden_of(6, exact)
    start, program = known_plan(garden, found.plan.plantings), build_program(garden)
    assert start is not None
    heard: list[LaidOut] = []
    limits = replace(BY_WORK, effort=0.05)
    improver = Improver(program, Incumbent(program), Incumbent(program), limits, Budget(limits))
    improver.run(threading.Event(), heard.append, start)
    # The first plan heard of has the start's own choices, its points counted with the new wishes.
    count = len(garden.choices)
    assert heard[0].values[:count] == start.values[:count]
    assert program.holds(heard[0].values)
    assert found.plan.standing is not None
    assert heard[0].cost == program.cost(heard[0].values) > found.plan.standing.lost


@pytest.mark.parametrize("exact", [True, False])
def test_from_a_start_the_best_plan_is_found_as_from_nothing(exact: bool) -> None:
    garden = garden_of(6, exact)
    start = known_plan(garden, found_in(garden_of(2, exact)).plan.plantings)
    warm, cold = (found_in(garden, known).plan.standing for known in (Known(start), None))
    assert warm is not None
    assert cold is not None
    assert warm.lost == cold.lost


def test_a_start_that_breaks_a_rule_is_not_used() -> None:
    asked = [{"crop": "lettuce", "plants": 16}]
    garden = garden_of(2, must=asked)
    found = found_in(garden, Known(known_plan(garden, found_in(garden_of(2)).plan.plantings)))
    assert found.plan.verdict.breaches == ()
    assert sum(planting.plants for planting in found.plan.plantings if planting.crop == "lettuce") >= 16


def test_a_bound_from_outside_proves_a_plan() -> None:
    garden = garden_of(2)
    best = found_in(garden).plan.standing
    assert best is not None
    told = found_in(garden, Known(bound=lambda: best.lost))
    assert told.proven


def test_near_enough_ends_a_search() -> None:
    program = build_program(garden_of(2))
    incumbent = Incumbent(program, near_enough=0.5)
    nothing = tuple(0 for _ in program.upper)
    assert not incumbent.closed
    incumbent.cost, incumbent.values = program.cost_if_empty, nothing
    assert not incumbent.closed
    incumbent.cost = program.cost_if_empty // 2
    assert incumbent.closed
    assert not replace(incumbent, near_enough=0.0).closed
    incumbent.bound = incumbent.cost
    assert replace(incumbent, near_enough=0.0).closed


def test_shortages_by_hand() -> None:
    # 2 of 8 kg of lettuce, weight 2: three quarters short, twice; of kale nothing.
    garden = garden_of(8)
    values = taken_of(garden, [number_of(garden, "lettuce", 2027)])
    assert shortages(garden, values) == {("lettuce", 2027): 1.5, ("kale", 2027): 2.0}
