"""Many small gardens in a folder, and an engine that plans in this process."""

from __future__ import annotations

import os
import random
import threading
import time
from collections.abc import Callable, Iterable, Iterator
from importlib.util import find_spec
from pathlib import Path

from rotasolve.plots.engine import Done, Order
from rotasolve.plots.work import order_text, plan_order
from rotasolve.solver.cpsat import Limits

EFFORT = 0.1
CROPS = ("carrot", "kale", "leaf lettuce", "radish", "beetroot", "pea", "spinach", "chard", "onion", "potato")
GARDEN = """\
format: 1
title: Plot {number}
site: {{latitude: 52, last_frost: {{half: 5 May}}, first_frost: {{half: 15 October}}}}
first_year: 2027
years: 1
beds:
  - {{name: long bed, length: {length} m, width: 1.2 m}}
household:
  targets:
{targets}
"""
NO_DASK = find_spec("distributed") is None and not os.environ.get("ROTASOLVE_CI")
"""Whether tests of the cluster are left out: never where everything is tested."""


def garden_text(number: int) -> str:
    """Return a small garden, another one for each number."""
    chance = random.Random(number)
    crops = chance.sample(CROPS, 3)
    targets = "\n".join(f"    - {{crop: {crop}, kg: {chance.choice([1, 2, 4])}}}" for crop in crops)
    return GARDEN.format(number=number, length=chance.choice([1.2, 1.8]), targets=targets)


def write_gardens(folder: Path, count: int) -> Path:
    """Write so many gardens into a folder and return it."""
    folder.mkdir(exist_ok=True)
    for number in range(count):
        (folder / f"plot-{number:02d}.yaml").write_text(garden_text(number), encoding="utf-8")
    return folder


def orders(count: int) -> list[Order]:
    """Return the orders of so many gardens."""
    limits = Limits(seconds=None, effort=EFFORT)
    return [Order(f"plot-{n:02d}", order_text(garden_text(n), f"plot-{n:02d}", (), limits)) for n in range(count)]


class Here:
    """An engine that plans one garden after the other, in this process; ``most`` of them, and then it is stopped."""

    def __init__(self, most: int = 1000) -> None:
        self.most = most
        self.planned: list[str] = []

    def run(self, orders: Iterable[Order], stop: threading.Event) -> Iterator[Done]:
        """Yield an answer after the other."""
        for order in orders:
            if len(self.planned) == self.most:
                stop.set()
            if stop.is_set():
                return
            self.planned.append(order.garden)
            yield Done(order.garden, plan_order(order.text))

    def close(self) -> None:
        """Nothing is left to end."""


def wait_until(holds: Callable[[], bool], seconds: float = 120) -> None:
    """Wait until something holds; a busy machine gives each process its share only."""
    end = time.monotonic() + seconds
    while not holds():
        assert time.monotonic() < end, "waited in vain"
        time.sleep(0.02)
