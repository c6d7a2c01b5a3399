"""The command as a program: 40 gardens on a pool and on a local cluster, ended at any moment, started again."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from rotasolve.files.plans import read_plan_text
from tests.helpers.many_plots import EFFORT, NO_DASK, wait_until, write_gardens
from tests.helpers.processes import PROC, children_of, resident_bytes, state_of

pytestmark = pytest.mark.skipif(not PROC.exists(), reason="processes are listed and ended as Linux does")
ROOT = Path(__file__).parents[2]
WORKER = "rotasolve.plots.worker"
SLACK_BYTES = 30_000_000
"""Memory that may come and go without being kept."""


def start(gardens: Path, plans: Path, *more: str) -> subprocess.Popen[str]:
    words = ["plots", str(gardens), "-o", str(plans), "--effort", str(EFFORT), "--workers", "2", *more]
    return subprocess.Popen(
        [sys.executable, "-m", "rotasolve", *words],
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        encoding="utf-8",
        start_new_session=True,
    )


def ended(process: subprocess.Popen[str]) -> tuple[str, str]:
    """Return what a program has said; one that does not end is ended with all that it has started."""
    try:
        return process.communicate(timeout=300)
    except subprocess.TimeoutExpired:
        os.killpg(process.pid, signal.SIGKILL)
        raise


def written(plans: Path) -> dict[str, bytes]:
    return {file.name: file.read_bytes() for file in plans.glob("*.plan.json")}


def taken_while(process: subprocess.Popen[str], plans: Path, most: int) -> int:
    """Return the most memory that a program and its workers take until so many plans are there."""
    peak = 0
    while len(list(plans.glob("*.plan.json"))) < most and process.poll() is None:
        tree = (process.pid, *children_of(process.pid, WORKER))
        peak = max(peak, sum(resident_bytes(one) for one in tree))
        time.sleep(0.05)
    return peak


def test_forty_gardens_are_the_same_from_a_pool_and_from_a_cluster_and_memory_stays_flat(tmp_path: Path) -> None:
    gardens, pooled, clustered = write_gardens(tmp_path / "gardens", 40), tmp_path / "pooled", tmp_path / "clustered"
    with start(gardens, pooled, "-q") as process:
        first = taken_while(process, pooled, 15)
        later = taken_while(process, pooled, 40)
        stdout, stderr = ended(process)
    assert process.returncode == 0, stderr
    assert "40 gardens: 40 planned." in stdout
    assert 0 < later <= first + SLACK_BYTES
    if NO_DASK:
        pytest.skip("dask.distributed is an extra; the pool has done its part")
    with start(gardens, clustered, "-q", "--cluster", "local") as process:
        stdout, stderr = ended(process)
    assert process.returncode == 0, stderr
    assert len(written(pooled)) == 40
    assert written(clustered) == written(pooled)


def test_what_ends_the_command_leaves_whole_plans_and_it_goes_on(tmp_path: Path) -> None:
    gardens, plans, alone = write_gardens(tmp_path / "gardens", 12), tmp_path / "plans", tmp_path / "alone"
    with start(gardens, plans) as process:
        wait_until(lambda: len(written(plans)) >= 2)
        os.killpg(process.pid, signal.SIGINT)  # as a terminal does: to all that it has started
        stdout, stderr = ended(process)
    assert process.returncode == 130, stderr
    assert "still to be planned" in stdout
    assert "goes on where it was" in stderr
    kept = written(plans)
    assert 2 <= len(kept) < 12
    with start(gardens, plans) as process:
        wait_until(lambda: len(written(plans)) >= len(kept) + 2)
        workers = children_of(process.pid, WORKER)
        process.kill()
        ended(process)
    assert len(workers) == 2
    wait_until(lambda: all(state_of(worker) in "XZ" for worker in workers), 30)
    for name, text in (there := written(plans)).items():
        assert read_plan_text(text.decode("utf-8"), name).plan.plantings
    assert {name: there[name] for name in kept} == kept
    assert len(there) < 12
    with start(gardens, plans) as process:
        stdout, stderr = ended(process)
    assert process.returncode == 0, stderr
    assert f"{12 - len(there)} planned, {len(there)} planned before." in stdout
    # Beside nothing that ended: the same plans.
    with start(gardens, alone, "--json", "-q") as process:
        assert '"state": "planned"' in ended(process)[0]
    assert written(alone) == written(plans)


@pytest.mark.skipif(NO_DASK, reason="dask.distributed is an extra")
def test_ctrl_c_in_a_terminal_ends_a_local_cluster_in_good_order(tmp_path: Path) -> None:
    gardens, plans = write_gardens(tmp_path / "gardens", 12), tmp_path / "plans"
    with start(gardens, plans, "--cluster", "local") as process:
        wait_until(lambda: len(written(plans)) >= 1)
        os.killpg(process.pid, signal.SIGINT)
        stdout, stderr = ended(process)
    assert process.returncode == 130, stderr
    assert "still to be planned" in stdout
    assert "Traceback" not in stderr
