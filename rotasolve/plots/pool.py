"""The engine for one machine: as many processes as cores and memory allow, each planning one garden at a time.

Orders and answers are lines of JSON on pipes: nothing is pickled, and a process can be ended at any moment.
"""

from __future__ import annotations

import json
import os
import queue
import subprocess
import sys
import threading
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING

import rotasolve
from rotasolve.plots.engine import MOST_TRIES, POLL_SECONDS, Done, Order

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

BYTES_OF_A_SEARCH = 1_000_000_000
"""Memory kept for each search: an allotment of 18 beds takes 0.8 GB, with the process that proves bounds."""
_START = "import sys; sys.path.append(sys.argv[1]); from rotasolve.plots.worker import main; main()"


def usual_workers() -> int:
    """Return how many gardens this machine plans side by side: as many as it has cores, and memory for."""
    cores = len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1
    try:
        memory = os.sysconf("SC_PHYS_PAGES") * os.sysconf("SC_PAGE_SIZE")
    except (AttributeError, ValueError, OSError):  # Windows does not say
        return cores
    return max(1, min(cores, memory // BYTES_OF_A_SEARCH))


class Pool:
    """So many processes of this machine; they start with the first order and end with ``run``."""

    def __init__(self, workers: int) -> None:
        self.workers = workers

    def run(self, orders: Iterable[Order], stop: threading.Event) -> Iterator[Done]:
        """Yield the answers as they are ready."""
        desk = _Desk(orders)
        threads = [threading.Thread(target=desk.serve, daemon=True) for _ in range(self.workers)]
        for thread in threads:
            thread.start()
        try:
            left = len(threads)
            while left and not stop.is_set():
                try:
                    found = desk.answers.get(timeout=POLL_SECONDS)
                except queue.Empty:
                    continue
                if found is None:
                    left -= 1
                elif isinstance(found, BaseException):
                    raise found
                else:
                    yield found
        finally:
            desk.close()
            for thread in threads:
                thread.join()

    def close(self) -> None:
        """Nothing is left to end."""


class _Desk:
    """Where the threads, one for each process, fetch orders and leave answers; None as they go home."""

    def __init__(self, orders: Iterable[Order]) -> None:
        self._orders = iter(orders)
        self._lock, self._over = threading.Lock(), False
        self._processes: set[_Process] = set()
        self.answers: queue.SimpleQueue[Done | BaseException | None] = queue.SimpleQueue()

    def close(self) -> None:
        with self._lock:
            self._over = True
            for process in self._processes:
                process.kill()  # its thread, which waits for an answer, does the rest

    def serve(self) -> None:
        process: _Process | None = None
        try:
            while (order := self._next()) is not None:
                text = None
                for _ in range(MOST_TRIES):
                    process = process or self._started()
                    text = None if process is None else process.ask(order.text)
                    if text is not None or self._over:
                        break
                    self._ended(process)
                    process = None
                if not self._over:
                    self.answers.put(Done(order.garden, text))
        except BaseException as trouble:  # carried to the thread that waits for answers
            self.answers.put(trouble)
        finally:
            self._ended(process)
            self.answers.put(None)

    def _next(self) -> Order | None:
        with self._lock:
            return None if self._over else next(self._orders, None)

    def _started(self) -> _Process | None:
        with self._lock:
            if self._over:
                return None
            process = _Process()
            self._processes.add(process)
            return process

    def _ended(self, process: _Process | None) -> None:
        if process is not None:
            with self._lock:
                self._processes.discard(process)
            process.end()


class _Process:
    def __init__(self) -> None:
        # With -P: else Python looks for modules in the current folder first, where files of somebody else may lie. In a
        # session of its own: Ctrl-C in a terminal is ours to hear.
        self._process = subprocess.Popen(
            [sys.executable, "-P", "-c", _START, str(Path(rotasolve.__file__).parents[1])],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            start_new_session=sys.platform != "win32",
        )

    def ask(self, text: str) -> str | None:
        """Return the answer to an order; None if the process ends before it has one."""
        assert self._process.stdin is not None
        assert self._process.stdout is not None
        try:
            self._process.stdin.write(json.dumps(text).encode("ascii") + b"\n")
            self._process.stdin.flush()
            line = self._process.stdout.readline()
            return str(json.loads(line)) if line.endswith(b"\n") else None
        except OSError:
            return None

    def kill(self) -> None:
        """End the process, which may have ended already."""
        self._process.kill()

    def end(self) -> None:
        """End the process and let go of it; only where nobody waits for its answer."""
        self._process.kill()
        self._process.wait()
        for stream in (self._process.stdin, self._process.stdout):
            assert stream is not None
            with suppress(OSError):
                stream.close()
