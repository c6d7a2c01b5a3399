"""How many equal round things, pots or plants, fit on a rectangle: in a square grid, or staggered."""

from __future__ import annotations

import math

_ROUNDING = 1e-9
"""Exact fits of irrational row distances (22.5 by 1 + 2 x the root of 3) would be lost to rounding without it."""


def square_count(length: float, width: float, apart: float) -> int:
    """Return how many places ``apart`` fit in a square grid, each half that distance from the edges.

    All three in the same unit, ``apart`` more than 0.
    """
    return _along(length, apart) * _along(width, apart)


def staggered_count(length: float, width: float, apart: float) -> int:
    """Return how many places fit in staggered rows along ``length``, each row half a place aside of the one before.

    Rows lie ``apart`` times half the root of 3 from each other, the first and the last half of ``apart`` from the edge.
    """
    if width + _ROUNDING < apart:
        return 0
    rows = math.floor((width - apart) / (apart * math.sqrt(3) / 2) + _ROUNDING) + 1
    return (rows + 1) // 2 * _along(length, apart) + rows // 2 * _along(length - apart / 2, apart)


def most_places(length: float, width: float, apart: float) -> int:
    """Return the most places of the square grid and of staggered rows either way; a few more may fit by mixing them."""
    staggered = max(staggered_count(length, width, apart), staggered_count(width, length, apart))
    return max(square_count(length, width, apart), staggered)


def _along(length: float, apart: float) -> int:
    return max(0, math.floor(length / apart + _ROUNDING))
