"""Many plots: how much longer a pool takes than its searches, and a local cluster than the pool."""

from __future__ import annotations

import time
from pathlib import Path

import pytest

from rotasolve.files.shipped import shipped_folder
from rotasolve.plots.pool import usual_workers
from tests.benchmarks.conftest import Tell
from tests.benchmarks.registry import PLOTS, PlotsBenchmark
from tests.helpers.in_process import call

pytestmark = pytest.mark.bench


def seconds_of(benchmark: PlotsBenchmark, folder: Path, *more: str) -> float:
    """Plan the gardens of a folder and return how long that takes."""
    plans = folder.with_name(f"plans-{len(more)}")
    begun = time.monotonic()
    told = call("plots", folder, "-o", plans, "--seconds", benchmark.seconds, "-q", *more)
    assert told.status == 0, told.stdout + told.stderr
    assert len(list(plans.glob("*.plan.json"))) == benchmark.gardens
    return time.monotonic() - begun


def test_a_pool_adds_little_and_a_cluster_little_more(tmp_path: Path, tell: Tell) -> None:
    text = (shipped_folder("scenarios") / f"{PLOTS.scenario}.yaml").read_text(encoding="utf-8")
    folder = tmp_path / "gardens"
    folder.mkdir()
    for number in range(PLOTS.gardens):
        changed = text.replace("\ntitle: ", f"\ntitle: {number}, ", 1)
        (folder / f"plot-{number:02d}.yaml").write_text(changed, encoding="utf-8")
    searched = PLOTS.gardens * PLOTS.seconds / usual_workers()
    pool = seconds_of(PLOTS, folder)
    cluster = seconds_of(PLOTS, folder, "--cluster", "local")
    tell(
        f"{PLOTS.gardens} gardens of {PLOTS.seconds:g} s on {usual_workers()} workers: pool {pool:.0f} s "
        f"({pool / searched:.2f} times the searches), local cluster {cluster:.0f} s ({cluster / pool - 1:+.0%})"
    )
    assert pool <= PLOTS.most_times * searched + PLOTS.start_up_seconds
    assert cluster <= (1 + PLOTS.most_overhead) * pool
