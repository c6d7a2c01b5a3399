"""A process of the pool: reads orders as lines from standard input, writes answers as lines to standard output."""

from __future__ import annotations

import json
import os
import queue
import sys
import threading
from typing import BinaryIO


def main() -> None:
    """Answer orders until nobody sends any more."""
    answers = os.fdopen(os.dup(1), "w", encoding="ascii", newline="\n")
    os.dup2(2, 1)  # whatever a library prints must not stand among the answers
    orders: queue.SimpleQueue[bytes] = queue.SimpleQueue()
    threading.Thread(target=_take, args=(sys.stdin.buffer, orders), daemon=True).start()

    from rotasolve.plots.work import plan_order

    while True:
        answer = plan_order(json.loads(orders.get()))
        answers.write(json.dumps(answer) + "\n")
        answers.flush()


def _take(feed: BinaryIO, orders: queue.SimpleQueue[bytes]) -> None:
    for line in feed:
        orders.put(line)
    os._exit(0)  # whoever asked is gone, perhaps killed: nobody waits for an answer
