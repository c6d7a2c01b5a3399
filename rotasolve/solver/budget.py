"""What is left of the limit of a search, in wall seconds or in deterministic units."""

from __future__ import annotations

import time
from dataclasses import replace
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from rotasolve.solver.cpsat import Limits


class Budget:
    """What is left of the limit: wall seconds since ``begun`` (now if None), or deterministic units granted.

    ``spare`` seconds are left for the referee.
    """

    def __init__(self, limits: Limits, spare: float = 0.0, begun: float | None = None) -> None:
        self._limits, self._granted, self._spare = limits, 0.0, spare
        self._begun = time.monotonic() if begun is None else begun

    @property
    def used(self) -> float:
        """Share of the limit used up, 0 to 1 and beyond."""
        if self._limits.effort is not None:
            return self._granted / self._limits.effort
        return (time.monotonic() - self._begun) / (self._limits.seconds or 1.0)

    def has_time_for(self, seconds: float) -> bool:
        """Return whether a step of so many seconds, and the referee after it, end within the limit."""
        if self._limits.effort is not None:
            return True
        return time.monotonic() - self._begun + seconds + self._spare <= (self._limits.seconds or 1.0)

    def grant(self, amount: float) -> Limits:
        """Return limits for a step of ``amount`` seconds or units, no more than what is left."""
        if self._limits.effort is not None:
            amount = min(amount, max(0.05, self._limits.effort - self._granted))
            self._granted += amount
            return replace(self._limits, effort=amount, workers=1)
        left = (self._limits.seconds or 1.0) - (time.monotonic() - self._begun)
        return replace(self._limits, seconds=max(0.05, min(amount, left)))

    def share(self, part: float) -> float:
        """Return a share of the whole limit."""
        return part * (self._limits.effort if self._limits.effort is not None else self._limits.seconds or 1.0)
