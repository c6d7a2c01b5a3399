"""What plans many gardens side by side: orders go in, answers come out as they are ready, both as plain text."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple, Protocol

if TYPE_CHECKING:
    import threading
    from collections.abc import Iterable, Iterator

MOST_TRIES = 3
"""Times that an order is begun before its garden is blamed for the end of its workers."""
POLL_SECONDS = 0.2


class Order(NamedTuple):
    """One garden to be planned: its name among the plots, and JSON that ``work.plan_order`` understands."""

    garden: str
    text: str


class Done(NamedTuple):
    """The answer to an order as JSON; None if the workers that tried it ended without one, each time."""

    garden: str
    text: str | None


class Engine(Protocol):
    """Workers on this machine or on others. The same order gets the same plan from each, if effort limits it."""

    def run(self, orders: Iterable[Order], stop: threading.Event) -> Iterator[Done]:
        """Yield the answers as they are ready; an order is only asked for when there is room for it.

        A worker that ends in the middle of an order is replaced, and the order begun anew. Once ``stop`` is set no more
        is yielded and what is in hand is given up.

        Raises
        ------
        NoEngine
            If no worker can do the work.
        """

    def close(self) -> None:
        """End what was started for it."""
