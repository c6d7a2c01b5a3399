"""The engine for a cluster: workers of dask.distributed on other machines, or on this one to try it out.

Only the text of an order and of its answer travels; the function that works on it is named, and has to be installed on
the workers. Whoever can reach a scheduler can run what they like on its workers: keep it in a network of your own, or
behind the TLS settings of dask.
"""

from __future__ import annotations

import os
import queue
import signal
import uuid
from contextlib import contextmanager
from multiprocessing import resource_tracker
from typing import TYPE_CHECKING, Any

from rotasolve.errors import NoEngine
from rotasolve.plots.engine import MOST_TRIES, POLL_SECONDS, Done, Order
from rotasolve.plots.work import plan_order

if TYPE_CHECKING:
    import threading
    from collections.abc import Iterable, Iterator

LOCAL = "local"
"""The address that stands for workers of this machine, started and ended with the engine."""
REACHED_SECONDS = 10
_WAITING_FOR_EACH = 2
"""Orders at the scheduler for each thread of a worker: one in hand, one to go on with."""


class Cluster:
    """The workers of a scheduler, reached as soon as this is made.

    Parameters
    ----------
    address
        The scheduler's, such as ``tcp://10.0.0.5:8786``, or LOCAL.
    workers
        How many workers to start, of LOCAL.

    Raises
    ------
    NoEngine
        If dask.distributed is not installed, or no scheduler answers.
    """

    def __init__(self, address: str, workers: int) -> None:
        try:
            import dask
            import distributed
        except ImportError as trouble:
            raise NoEngine(f"a cluster needs dask.distributed ({trouble}); install rotasolve[cluster]") from None
        library: Any = distributed  # its classes are untyped
        dask.config.set({"distributed.scheduler.allowed-failures": MOST_TRIES - 1})
        self._local: Any = None
        if address == LOCAL:
            # Else Python looks for a worker's modules in the current folder first, where files of others may lie.
            os.environ.setdefault("PYTHONSAFEPATH", "1")
            with _unheard_ctrl_c():
                self._local = library.LocalCluster(
                    n_workers=workers,
                    threads_per_worker=1,
                    processes=True,
                    dashboard_address="127.0.0.1:0",
                    silence_logs=50,
                )
        try:
            self._client: Any = library.Client(self._local or address, timeout=REACHED_SECONDS, set_as_default=False)
        except (OSError, ValueError, TypeError) as trouble:
            raise NoEngine(f"no scheduler answers at {address} ({trouble}); is it running there?") from None

    def run(self, orders: Iterable[Order], stop: threading.Event) -> Iterator[Done]:
        """Yield the answers as they are ready."""
        source, in_hand = iter(orders), dict[str, tuple[str, Any]]()
        ready: queue.SimpleQueue[Any] = queue.SimpleQueue()
        room = 0
        try:
            while not stop.is_set():
                room = self._room() if len(in_hand) >= room else room
                order = next(source, None) if len(in_hand) < room else None
                if order is not None:
                    future = self._client.submit(plan_order, order.text, key=f"rotasolve-{uuid.uuid4().hex}")
                    in_hand[future.key] = order.garden, future
                    future.add_done_callback(ready.put)
                    continue
                if not in_hand:
                    return
                try:
                    future = ready.get(timeout=POLL_SECONDS)
                except queue.Empty:
                    continue
                garden, _ = in_hand.pop(future.key)
                yield Done(garden, _text_of(future))
        finally:
            self._client.cancel([future for _, future in in_hand.values()], force=True)

    def _room(self) -> int:
        return _WAITING_FOR_EACH * max(1, int(sum(self._client.nthreads().values())))

    def close(self) -> None:
        """Take leave of the scheduler; workers started here are ended."""
        self._client.close()
        if self._local is not None:
            self._local.close()


@contextmanager
def _unheard_ctrl_c() -> Iterator[None]:
    """Keep Ctrl-C, which a terminal sends to all, from the processes of threads that are started meanwhile.

    It is ours to hear: workers that it ends in the middle of their start are waited for without end.
    """
    if not hasattr(signal, "pthread_sigmask"):
        yield
        return
    resource_tracker.ensure_running()  # it lets Ctrl-C through again as it starts, so it goes first
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


def _text_of(future: Any) -> str | None:
    """Return the text of an answer, None if each worker that tried it ended."""
    import distributed

    if future.status == "finished":
        return str(future.result())
    if future.status == "error":
        trouble = future.exception()
        if isinstance(trouble, distributed.KilledWorker):
            return None
        raise NoEngine(f"a worker cannot plan ({trouble}); is this version of rotasolve installed there?")
    raise NoEngine("the scheduler is gone; what was planned until then is kept")
