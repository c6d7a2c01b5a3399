"""Waiting for a plan: progress on stderr, and signals that end the search early but keep the best plan."""

from __future__ import annotations

import math
import os
import signal
import sys
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING, TypeVar

from rotasolve.cli import exit_codes
from rotasolve.cli.terminal import can_rewrite, look_of_terminal, talk
from rotasolve.domain.signs import clean

if TYPE_CHECKING:
    from types import FrameType

    from rotasolve.solver.incumbent import Progress

Answer = TypeVar("Answer")

_POLL = 0.2
_LINE_EVERY = 5.0
_WIDEST_LINE = 200
_STOPPING = "Stopping; what was found so far is kept. Ctrl-C again leaves at once."


class Teller:
    """Tells of the search on stderr: one line rewritten on a terminal, else a line every few seconds."""

    def __init__(self, quiet: bool) -> None:
        self._quiet, self._rewrites = quiet, can_rewrite(sys.stderr)
        self._latest: Progress | None = None
        self._told = ""
        self._told_at: float | None = None
        self._begun = time.monotonic()
        self._of = ""

    def begin(self, name: str) -> None:
        """Note which of several searches begins; told before each line from now on."""
        self._of = f"{name}: "

    def hear(self, moment: Progress) -> None:
        """Keep the latest moment; called from the searching thread, so it does not print."""
        self._latest = moment

    def tell(self) -> None:
        """Print the latest moment if it is due."""
        now = time.monotonic()
        if self._quiet or not (self._rewrites or self._told_at is None or now - self._told_at >= _LINE_EVERY):
            return
        width = look_of_terminal(sys.stderr).width - 1 if self._rewrites else _WIDEST_LINE
        line = self.line(width)[:width]
        if not line or line == self._told:
            return
        self._told, self._told_at = line, now
        if not self._rewrites:
            talk(line)
            return
        sys.stderr.write("\r" + line.ljust(width))
        sys.stderr.flush()

    def line(self, width: int) -> str:
        """Return the latest moment in about so many columns, nothing if there is nothing to tell yet."""
        moment = self._latest
        if moment is None:
            waited = self._of and time.monotonic() - self._begun >= _LINE_EVERY
            return clean(f"looking at {self._of.removesuffix(': ')}") if waited else ""
        from rotasolve.views.words.standing import say_progress

        room = max(20, width - len(self._of))
        return clean(self._of) + say_progress(
            moment.plans, moment.lost, moment.at_least, moment.lost_if_empty, moment.gap, moment.seconds, room
        )

    def say(self, text: str) -> None:
        """Print a note on a line of its own."""
        if not self._quiet:
            self.wipe()
            talk(text)

    def wipe(self) -> None:
        """Take the rewritten line away."""
        if self._rewrites and self._told:
            sys.stderr.write("\r" + " " * (look_of_terminal(sys.stderr).width - 1) + "\r")
            sys.stderr.flush()
            self._told = ""


def wait_for(work: Callable[[], Answer], stop: threading.Event, teller: Teller, seconds: float = math.inf) -> Answer:
    """Run ``work`` on another thread and return its answer, telling of it and listening to signals meanwhile.

    The first Ctrl-C or SIGTERM sets ``stop``, and so do so many ``seconds``; the second leaves the program at once.

    Raises
    ------
    BaseException
        Whatever ``work`` raised.
    """
    answers: list[Answer] = []
    troubles: list[BaseException] = []
    done = threading.Event()
    end = time.monotonic() + seconds

    def run() -> None:
        try:
            answers.append(work())
        except BaseException as trouble:  # carried to the waiting thread below
            troubles.append(trouble)
        finally:
            done.set()

    with _signals_to(stop):
        threading.Thread(target=run, daemon=True).start()
        noted = False
        # A solver's call does not let Python's signal handlers run on its thread, so this one only waits, in short
        # steps: on Windows a signal cannot break a wait.
        while not done.wait(_POLL):
            teller.tell()
            if time.monotonic() >= end:
                stop.set()
            if stop.is_set() and not noted:
                noted = True
                teller.say(_STOPPING)
        teller.wipe()
    if troubles:
        raise troubles[0]
    return answers[0]


@contextmanager
def _signals_to(stop: threading.Event) -> Iterator[None]:
    if threading.current_thread() is not threading.main_thread():
        yield  # only the main thread may listen to signals
        return

    def hear(number: int, frame: FrameType | None) -> None:
        if stop.is_set():
            # Solver threads would hold up an orderly exit; nothing is half-written at this point.
            os.write(2, b"\n")
            os._exit(exit_codes.LEFT)
        stop.set()

    before = {number: signal.signal(number, hear) for number in (signal.SIGINT, signal.SIGTERM)}
    try:
        yield
    finally:
        for number, handler in before.items():
            # None stands for a handler that was not set from Python and cannot be put back from here.
            signal.signal(number, signal.SIG_DFL if handler is None else handler)
