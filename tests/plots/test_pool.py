"""The pool: answers are those of this process, whatever ends its workers; a deadly order does not stop the others."""

from __future__ import annotations

import json
import os
import signal
import sys
import threading
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from rotasolve.plots import pool
from rotasolve.plots.engine import MOST_TRIES, Done, Order
from rotasolve.plots.pool import Pool, usual_workers
from rotasolve.plots.work import plan_order
from tests.helpers.many_plots import orders
from tests.helpers.processes import PROC, children_of

ECHO = """\
import json, os, sys
for line in sys.stdin:
    text = json.loads(line)
    open({tried!r}, "a").write(text + "\\n")
    if text == "deadly":
        os._exit(9)
    if text == "noisy":
        print("half a", end="", flush=True)
        os._exit(0)
    print(json.dumps("answer to " + text), flush=True)
"""
"""A worker that plans nothing, and dies of some orders."""


NEVER = "import sys, time; sys.stdin.readline(); time.sleep(600)"


def plan_of(text: str | None) -> str:
    assert text is not None
    return str(json.loads(text)["plan"])


@pytest.fixture
def echoing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    tried = tmp_path / "tried.txt"
    monkeypatch.setattr(pool, "_START", ECHO.format(tried=str(tried)))
    return tried


def test_every_order_is_answered_once(echoing: Path) -> None:
    given = [Order(f"garden {number}", f"order {number}") for number in range(20)]
    found = list(Pool(3).run(given, threading.Event()))
    assert sorted(found) == sorted(Done(order.garden, f"answer to {order.text}") for order in given)
    assert sorted(echoing.read_text().split("\n")) == sorted(["", *(order.text for order in given)])


@pytest.mark.parametrize("text", ["deadly", "noisy"])
def test_an_order_that_ends_its_workers_is_given_up_and_no_other(echoing: Path, text: str) -> None:
    given = [Order("a", "one"), Order("b", text), Order("c", "two"), Order("d", "three")]
    found = dict(Pool(2).run(given, threading.Event()))
    assert found == {"a": "answer to one", "b": None, "c": "answer to two", "d": "answer to three"}
    assert echoing.read_text().split().count(text) == MOST_TRIES


def test_orders_are_asked_for_only_when_there_is_room(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(pool, "_START", NEVER)
    asked, stop = list[int](), threading.Event()

    def given() -> Iterator[Order]:
        for number in range(100):
            asked.append(number)
            yield Order(str(number), str(number))

    threading.Timer(1.0, stop.set).start()
    assert list(Pool(2).run(given(), stop)) == []
    assert asked == [0, 1]


def test_what_goes_wrong_with_the_orders_is_told(echoing: Path) -> None:
    def given() -> Iterator[Order]:
        yield Order("a", "one")
        raise OSError("the disk is gone")

    with pytest.raises(OSError, match="the disk is gone"):
        list(Pool(2).run(given(), threading.Event()))


def test_stop_gives_up_what_is_in_hand(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(pool, "_START", NEVER)
    stop = threading.Event()
    threading.Timer(1.0, stop.set).start()
    begun = time.monotonic()
    assert list(Pool(2).run([Order("a", "x"), Order("b", "y")], stop)) == []
    assert time.monotonic() - begun < 60
    if PROC.exists():
        assert not children_of(os.getpid(), "time.sleep(600)")


@pytest.mark.skipif(not PROC.exists(), reason="processes are listed as Linux does")
def test_a_worker_killed_in_the_middle_is_replaced_and_the_plans_are_the_same() -> None:
    given = orders(6)
    running = Pool(2).run(given, threading.Event())
    found = dict([next(running)])
    before = children_of(os.getpid(), "rotasolve.plots.worker")
    assert len(before) == 2
    for process in before:  # both: one of them at least has an order in hand
        os.kill(process, signal.SIGKILL)
    found |= dict([next(running)])
    assert children_of(os.getpid(), "rotasolve.plots.worker") - before
    found |= dict(running)
    assert {name: plan_of(text) for name, text in found.items()} == {
        order.garden: plan_of(plan_order(order.text)) for order in given
    }
    assert not children_of(os.getpid(), "rotasolve.plots.worker")


def test_as_many_workers_as_cores_and_memory_allow(monkeypatch: pytest.MonkeyPatch) -> None:
    assert usual_workers() >= 1
    if sys.platform != "win32":
        monkeypatch.setattr(os, "sched_getaffinity", lambda process: range(64), raising=False)
        monkeypatch.setattr(os, "sysconf", lambda name: {"SC_PHYS_PAGES": 10**6, "SC_PAGE_SIZE": 8000}[name])
        assert usual_workers() == 8_000_000_000 // pool.BYTES_OF_A_SEARCH
