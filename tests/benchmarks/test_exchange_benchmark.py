"""The exchange curve of the family garden against its bars, and against as many searches from nothing."""

from __future__ import annotations

import time
from collections.abc import Callable
from typing import TYPE_CHECKING

import pytest

from rotasolve.files.crops import load_catalogue
from rotasolve.relations.ground.garden import make_garden
from rotasolve.solver.cpsat import Limits
from rotasolve.solver.search import Found, Search
from rotasolve.tasks.exchange import asked_for, exchange_curve, usual_amounts
from tests.benchmarks.registry import EXCHANGE

if TYPE_CHECKING:
    from rotasolve.domain.scenario import Scenario

    ScenarioOf = Callable[[str], Scenario]
    Tell = Callable[[str], None]

pytestmark = pytest.mark.bench


def test_six_points_in_a_minute_and_a_half_and_less_than_six_searches(scenario_of: ScenarioOf, tell: Tell) -> None:
    scenario, catalogue = scenario_of(EXCHANGE.scenario), load_catalogue()
    people = scenario.household.people
    assert people is not None
    begun = time.perf_counter()
    curve = exchange_curve(scenario, catalogue, usual_amounts(people))
    whole = time.perf_counter() - begun
    for point in curve.points:
        tell(
            f"{point.amount:g} people: lost {point.lost}, at least {point.at_least_lost}, gap {point.gap:.1%}, "
            f"{point.seconds:.1f} s of search"
        )
    cold = 0.0
    for point in curve.points:
        garden = make_garden(asked_for(scenario, catalogue, point.amount, None), catalogue)
        started = time.perf_counter()
        # From nothing, until it is as near to its bound as the curve's point, but no longer than a usual search.
        found = Search(garden, Limits(seconds=EXCHANGE.cold_seconds, gap=max(point.gap, 0.04))).run()
        seconds = time.perf_counter() - started
        cold += seconds
        assert isinstance(found, Found)
        assert found.plan.standing is not None
        tell(f"{point.amount:g} people from nothing: gap {found.plan.standing.gap:.1%} after {seconds:.1f} s")
    tell(f"exchange: {whole:.1f} s for {len(curve.points)} points; from nothing {cold:.1f} s")
    assert len(curve.points) == EXCHANGE.points
    assert max(point.gap for point in curve.points) <= EXCHANGE.most_gap
    assert whole <= EXCHANGE.most_seconds
    assert whole < cold
