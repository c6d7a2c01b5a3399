"""The cluster: a worker killed in the middle is survived, what cannot be reached or is not alike is told."""

from __future__ import annotations

import builtins
import json
import os
import signal
import threading
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from rotasolve.errors import NoEngine
from rotasolve.plots.cluster import LOCAL, Cluster
from rotasolve.plots.work import plan_order
from tests.helpers.in_process import call
from tests.helpers.many_plots import NO_DASK, orders, write_gardens

pytestmark = pytest.mark.skipif(NO_DASK, reason="dask.distributed is an extra")


@pytest.fixture(scope="module")
def cluster() -> Iterator[Cluster]:
    before = dict(os.environ)
    engine = Cluster(LOCAL, 2)
    yield engine
    engine.close()
    os.environ.clear()
    os.environ.update(before)


def plan_of(text: str | None) -> str:
    assert text is not None
    return str(json.loads(text)["plan"])


def test_a_worker_killed_in_the_middle_is_survived_with_the_same_plans(cluster: Cluster) -> None:
    given = orders(8)
    before = set(cluster._client.run(os.getpid).values())
    assert len(before) == 2
    running = cluster.run(given, threading.Event())
    found = dict([next(running)])
    os.kill(min(before), signal.SIGKILL)
    found |= dict(running)
    assert {name: plan_of(text) for name, text in found.items()} == {
        order.garden: plan_of(plan_order(order.text)) for order in given
    }
    after = set(cluster._client.run(os.getpid).values())
    assert min(before) not in after


def test_an_order_that_ends_every_worker_is_given_up(cluster: Cluster, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("rotasolve.plots.cluster.plan_order", _deadly)
    given = [order._replace(text=text) for order, text in zip(orders(3), ("fine", "deadly", "well"), strict=True)]
    found = dict(cluster.run(given, threading.Event()))
    assert found == {"plot-00": "fine", "plot-01": None, "plot-02": "well"}


def _deadly(text: str) -> str:
    if text == "deadly":
        os._exit(9)
    return text


def test_a_scheduler_is_reached_by_its_address_and_left_running(cluster: Cluster) -> None:
    other = Cluster(cluster._local.scheduler_address, 0)
    given = orders(2)
    found = dict(other.run(given, threading.Event()))
    other.close()
    assert {name: plan_of(text) for name, text in found.items()} == {
        order.garden: plan_of(plan_order(order.text)) for order in given
    }
    assert len(dict(cluster.run(given, threading.Event()))) == 2


def test_stop_gives_up_what_is_in_hand(cluster: Cluster) -> None:
    stop = threading.Event()
    running = cluster.run(orders(20), stop)
    next(running)
    stop.set()
    assert list(running) == []


def test_a_worker_without_this_program_is_told(cluster: Cluster, monkeypatch: pytest.MonkeyPatch) -> None:
    def missing(text: str) -> str:
        raise ModuleNotFoundError("No module named 'rotasolve'")

    monkeypatch.setattr("rotasolve.plots.cluster.plan_order", missing)
    with pytest.raises(NoEngine, match="is this version of rotasolve installed there"):
        list(cluster.run(orders(1), threading.Event()))


@pytest.mark.parametrize("address", ["tcp://127.0.0.1:9", "nonsense://x", "no such place:1"])
def test_a_scheduler_out_of_reach_is_told_before_anything_starts(
    address: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("rotasolve.plots.cluster.REACHED_SECONDS", 1)
    gardens = write_gardens(tmp_path / "gardens", 2)
    told = call("plots", gardens, "-o", tmp_path / "plans", "--effort", "0.1", "-q", "--cluster", address)
    assert (told.status, told.stdout) == (2, "")
    assert told.stderr.startswith("Error: no scheduler answers at ")
    assert list((tmp_path / "plans").iterdir()) == []


def test_without_the_library_it_says_what_to_install(monkeypatch: pytest.MonkeyPatch) -> None:
    there = builtins.__import__

    def without(name: str, *more: Any, **named: Any) -> Any:
        if name == "distributed":
            raise ImportError("No module named 'distributed'")
        return there(name, *more, **named)

    monkeypatch.setattr(builtins, "__import__", without)
    with pytest.raises(NoEngine, match=r"install rotasolve\[cluster\]"):
        Cluster(LOCAL, 1)
