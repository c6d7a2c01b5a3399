"""What the plots of an association need, use and have over, so that they can order, lend and swap."""

from __future__ import annotations

import hashlib
from datetime import date
from typing import Literal, NamedTuple

ShareKind = Literal["order", "kit", "tool", "compost", "lime", "to spare", "short", "swap"]
"""``order``: used up in a year; ``kit``: the most in use on one day of a year; ``tool`` and what is spread: by week;
``to spare``, ``short`` and ``swap``: by half month."""


class ShareRow(NamedTuple):
    """One thing of one garden in one span of days.

    Parameters
    ----------
    kind
        What kind of thing.
    garden
        The garden; of a swap the one that gives.
    year
        The garden year it belongs to.
    first, last
        The year, the week or the half month.
    ware, what
        The thing: its kind, as ``tuber``, and its name, as ``potato``.
    amount, unit
        How much of it.
    grams
        The weight of seeds where it is known.
    other
        Of a swap the garden that gets it.
    """

    kind: ShareKind
    garden: str
    year: int
    first: date
    last: date
    ware: str
    what: str
    amount: float
    unit: str
    grams: float | None = None
    other: str = ""

    @property
    def uid(self) -> str:
        """A name that stays the same when the amount changes."""
        parts = (self.kind, self.garden, self.other, self.first.isoformat(), self.ware, self.what, self.unit)
        return hashlib.sha256("\x1f".join(parts).encode("utf-8", "surrogatepass")).hexdigest()[:16]


class ShareSum(NamedTuple):
    """One thing of all gardens in one span of days, and how many of them it is for."""

    kind: ShareKind
    year: int
    first: date
    last: date
    ware: str
    what: str
    amount: float
    unit: str
    grams: float | None
    gardens: int


class Pair(NamedTuple):
    """Two gardens that could give each other something: kilograms by crop each way, the most first."""

    one: str
    other: str
    gives_kg: tuple[tuple[str, float], ...]
    gets_kg: tuple[tuple[str, float], ...]
