"""The sun's bars: 24 beds tabled in under 3 s, and what planning with shade costs."""

from __future__ import annotations

import time
from collections.abc import Callable

import pytest

from rotasolve.domain.plan import Standing
from rotasolve.domain.result import Good, ProvenBest
from rotasolve.domain.scenario import Scenario
from rotasolve.files.crops import load_catalogue
from rotasolve.relations.sun.site_sun import sun_table
from rotasolve.solver.cpsat import Limits
from rotasolve.tasks.rotation import plan_rotation
from tests.helpers.tiny import bed, scenario

pytestmark = pytest.mark.bench

MOST_SECONDS = 3.0
MOST_RATIO = 1.5
SECONDS = 30.0

ScenarioOf = Callable[[str], Scenario]
Tell = Callable[[str], None]


def test_24_beds_4_obstacles_12_months(tell: Tell) -> None:
    beds = [bed(f"bed {n}", 6, east=n % 6 * 180, north=n // 6 * 420) for n in range(24)]
    obstacles = [
        {"name": f"wall {n}", "kind": "wall", "east": n * 300, "north": -100, "length": 250, "height": 200 + 50 * n}
        for n in range(4)
    ]
    garden = scenario(beds=beds, obstacles=obstacles)
    for why in (False, True):
        begun = time.perf_counter()
        table = sun_table(garden, why=why)
        seconds = time.perf_counter() - begun
        tell(f"sun of 24 beds, 4 obstacles, 12 months{', with casters' if why else ''}: {seconds:.2f} s")
        assert len(table) == 24 * 6 * 12
        assert seconds <= MOST_SECONDS


def test_planning_with_shade_reaches_the_gap_of_planning_without(scenario_of: ScenarioOf, tell: Tell) -> None:
    """In one run, one after the other: the gap after ``SECONDS`` without shade is reached in 1.5 times that with it."""
    garden, catalogue = scenario_of("family-garden"), load_catalogue()

    def standing(shade: bool, seconds: float) -> Standing:
        rules = garden.rules.model_copy(update={"least_sun": shade})
        found = plan_rotation(garden.model_copy(update={"rules": rules}), catalogue, Limits(seconds=seconds))
        assert isinstance(found, Good | ProvenBest)
        assert found.plan.standing is not None
        return found.plan.standing

    without, beside = standing(False, SECONDS), standing(True, SECONDS * MOST_RATIO)
    tell(
        f"family-garden without shade after {SECONDS:g} s: gap {without.gap:.1%}; "
        f"with shade after {SECONDS * MOST_RATIO:g} s: gap {beside.gap:.1%}"
    )
    assert beside.gap <= without.gap
