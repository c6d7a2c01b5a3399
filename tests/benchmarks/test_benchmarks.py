"""Speed and quality against the bars of the registry: ``pytest -m bench``."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path
from statistics import median
from typing import TYPE_CHECKING

import pytest

from rotasolve.files.crops import load_catalogue
from rotasolve.referee import recount
from rotasolve.relations.ground.garden import make_garden
from rotasolve.solver.program import build_program
from tests.benchmarks.highs_alone import highs_alone
from tests.benchmarks.registry import (
    BOUND_TOLERANCE,
    COMMANDS,
    PROVEN,
    SEARCHES,
    YIELD_BAND_KG_PER_M2,
    CommandBenchmark,
    SearchBenchmark,
)

if TYPE_CHECKING:
    from rotasolve.domain.plan import Plan
    from rotasolve.domain.scenario import Scenario

    ScenarioOf = Callable[[str], Scenario]
    Searched = Callable[[SearchBenchmark], Plan]
    Tell = Callable[[str], None]

pytestmark = pytest.mark.bench


def _run(benchmark: CommandBenchmark, folder: Path) -> tuple[float, str]:
    """Return the seconds and the answer of one run."""
    kept = {name: value for name, value in os.environ.items() if not name.startswith(("PYTHON", "ROTASOLVE"))}
    begun = time.perf_counter()
    done = subprocess.run(
        [sys.executable, "-m", "rotasolve", *benchmark.arguments],
        cwd=folder,
        env={**kept, "PYTHONPATH": str(Path(__file__).parents[2]), "PYTHONUTF8": "1"},
        stdin=subprocess.DEVNULL,
        capture_output=True,
        encoding="utf-8",
        timeout=120,
        check=True,
    )
    return time.perf_counter() - begun, done.stdout


@pytest.mark.parametrize("benchmark", COMMANDS, ids=lambda benchmark: benchmark.arguments[0])
def test_commands_answer_quickly(benchmark: CommandBenchmark, tmp_path: Path, tell: Tell) -> None:
    _run(benchmark, tmp_path)  # the first run writes byte code
    seconds = median(_run(benchmark, tmp_path)[0] for _ in range(benchmark.runs))
    tell(f"rotasolve {' '.join(benchmark.arguments)}: {seconds:.2f} s (bar {benchmark.most_seconds:g} s)")
    assert seconds <= benchmark.most_seconds


def test_the_cold_frame_is_proven_best_within_the_time_of_a_command(tmp_path: Path, tell: Tell) -> None:
    seconds, answer = _run(PROVEN, tmp_path)
    standing = json.loads(answer)["plan"]["standing"]
    tell(f"cold-frame: {standing['outcome']}, lost {standing['lost']}, whole command {seconds:.2f} s")
    assert standing["outcome"] == "proven best"
    assert seconds <= PROVEN.most_seconds


@pytest.mark.parametrize("benchmark", SEARCHES, ids=lambda benchmark: benchmark.scenario)
def test_a_search_comes_near_the_best(
    benchmark: SearchBenchmark, searched: Searched, scenario_of: ScenarioOf, tell: Tell
) -> None:
    plan = searched(benchmark)
    standing = plan.standing
    assert standing is not None
    tell(
        f"{benchmark.scenario} at {benchmark.seconds:g} s: lost {standing.lost}, at least {standing.at_least_lost}, "
        f"empty {standing.lost_if_empty}, gap {standing.gap:.1%} (bar {benchmark.most_gap:.0%}), "
        f"first refereed plan {standing.first_plan_seconds} s, {len(plan.plantings)} plantings, {standing.seconds} s"
    )
    assert recount(make_garden(scenario_of(benchmark.scenario), load_catalogue()), plan).verdict.breaches == ()
    assert standing.first_plan_seconds is not None
    assert standing.first_plan_seconds <= benchmark.first_plan_seconds
    assert standing.gap <= benchmark.most_gap


@pytest.mark.parametrize("benchmark", SEARCHES, ids=lambda benchmark: benchmark.scenario)
def test_a_search_is_no_worse_than_highs_alone(
    benchmark: SearchBenchmark, searched: Searched, scenario_of: ScenarioOf, tell: Tell
) -> None:
    # HiGHS has the easier task: its plan is one of counts, which need not be laid out.
    ours = searched(benchmark).standing
    assert ours is not None
    program = build_program(make_garden(scenario_of(benchmark.scenario), load_catalogue()))
    alone = highs_alone(program, benchmark.seconds)
    tell(
        f"{benchmark.scenario} at {benchmark.seconds:g} s: ours lost {ours.lost}, at least {ours.at_least_lost}; "
        f"HiGHS alone lost {alone.lost}, at least {alone.at_least:.0f}, {alone.seconds:.0f} s"
    )
    assert alone.at_least - ours.at_least_lost <= BOUND_TOLERANCE * (ours.lost_if_empty - alone.at_least)
    assert alone.lost is None or ours.lost <= alone.lost


def test_the_family_garden_yields_what_gardens_yield(searched: Searched, scenario_of: ScenarioOf, tell: Tell) -> None:
    (benchmark,) = (search for search in SEARCHES if search.scenario == "family-garden")
    plan, scenario = searched(benchmark), scenario_of("family-garden")
    area = sum(bed.length * bed.width for bed in scenario.beds) / 10_000
    kg = sum(planting.harvest.typical_kg for planting in plan.plantings)
    low, high = YIELD_BAND_KG_PER_M2
    yearly = kg / area / scenario.years
    tell(f"family-garden: typical harvest {yearly:.2f} kg/m2 of bed a year (published {low:g} to {high:g})")
    assert low <= yearly <= high
