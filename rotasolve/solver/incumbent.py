"""The best plan and the best bound so far, shared by the solvers that race for them."""

from __future__ import annotations

import math
import threading
import time
from collections.abc import Sequence
from dataclasses import dataclass, field

from rotasolve.solver.program import Program


@dataclass(frozen=True)
class Progress:
    """One moment of the search: the points lost by the best plan so far, the bound, the seconds gone."""

    plans: int
    lost: int | None
    at_least: int
    lost_if_empty: int
    seconds: float

    @property
    def gap(self) -> float:
        """Share of the points within reach that the best plan may still be missing; 1 before the first plan."""
        return 1.0 if self.lost is None else gap_of(self.lost, self.at_least, self.lost_if_empty)


def gap_of(lost: int, at_least: int, lost_if_empty: int) -> float:
    """Return (lost - at_least) / (lost_if_empty - at_least), 0 where nothing is left to gain."""
    reach = lost_if_empty - at_least
    return 0.0 if lost <= at_least or reach <= 0 else min(1.0, (lost - at_least) / reach)


@dataclass
class Incumbent:
    """Keeps the best values and bound under a lock; callbacks of both solvers write here, nobody prints here.

    ``near_enough`` is the gap at which the search may end.
    """

    program: Program
    values: tuple[int, ...] | None = None
    cost: int | None = None
    bound: int = 0
    plans: int = 0
    near_enough: float = 0.0
    started: float = field(default_factory=time.monotonic)
    _lock: threading.Lock = field(default_factory=threading.Lock)

    def offer(self, values: Sequence[int]) -> bool:
        """Keep ``values`` if they are better than the best so far; return whether they were."""
        cost = self.program.cost(values)
        with self._lock:
            if self.cost is not None and cost >= self.cost:
                return False
            self.values, self.cost = tuple(values), cost
            self.plans += 1
        return True

    def raise_bound(self, bound: float) -> None:
        """Keep a bound if it is tighter; points are whole, so a fraction rounds up."""
        if math.isfinite(bound):
            whole = math.ceil(bound - 1e-6)
            with self._lock:
                self.bound = max(self.bound, whole if self.cost is None else min(whole, self.cost))

    def best(self) -> tuple[tuple[int, ...] | None, int | None]:
        """Return the best values and their cost."""
        with self._lock:
            return self.values, self.cost

    @property
    def closed(self) -> bool:
        """Whether the best plan is proven best, or as near as is asked for."""
        if self.cost is None or self.bound >= self.cost:
            return self.cost is not None
        near = self.near_enough
        return near > 0 and gap_of(self.cost, self.bound, self.program.cost_if_empty) <= near

    def progress(self) -> Progress:
        """Return the present moment."""
        with self._lock:
            return Progress(
                self.plans, self.cost, self.bound, self.program.cost_if_empty, time.monotonic() - self.started
            )
