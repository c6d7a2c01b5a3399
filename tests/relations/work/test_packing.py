"""How many places fit on a rectangle, against published packings and counts made outside.

Published: packings of 10 x 10 and 22.5 x (1 + 2 root 3) from sillke, PUZZLES/packing-circles, University of Bielefeld;
8 x (2 + 3 root 3) and 8 x 8 from The Fiddler, solutions of 14 June 2024 (bradonzhang.com); the densities pi / 4 and
0.9069 (Fejes Toth's bound as quoted in arXiv 2107.14079). The beds of 1.2 x 2.4 m were counted by another program.
"""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rotasolve.relations.work.packing import most_places, square_count, staggered_count

ROOT3 = math.sqrt(3)


@pytest.mark.parametrize(
    ("length", "width", "apart", "square", "staggered"),
    [
        (10, 10, 1, 100, 105),  # published; 106 by mixing, which is not tried here
        (22.5, 1 + 2 * ROOT3, 1, 88, 110),  # published staggered: an exact fit, lost without a tolerance
        (8, 2 + 3 * ROOT3, 2, 12, 14),  # published: rows of 4, 3, 4 and 3
        (8, 8, 2, 16, 14),  # published square
    ],
)
def test_published_packings(length: float, width: float, apart: float, square: int, staggered: int) -> None:
    assert square_count(length, width, apart) == square
    assert staggered_count(length, width, apart) == staggered
    assert most_places(length, width, apart) >= max(square, staggered)


@pytest.mark.parametrize(
    ("apart", "square", "staggered"), [(0.30, 32, 32), (0.25, 36, 45), (0.60, 8, 7), (0.15, 128, 140)]
)
def test_a_bed_of_1_2_by_2_4_m(apart: float, square: int, staggered: int) -> None:
    assert square_count(2.4, 1.2, apart) == square
    assert max(staggered_count(2.4, 1.2, apart), staggered_count(1.2, 2.4, apart)) == staggered


def test_plants_on_the_edge_are_those_of_a_bed_one_distance_larger() -> None:
    assert square_count(2.4 + 0.15, 1.2 + 0.15, 0.15) == 153
    staggered = max(staggered_count(2.55, 1.35, 0.15), staggered_count(1.35, 2.55, 0.15))
    assert staggered == 165


def test_large_fields_come_near_the_published_densities() -> None:
    disc = math.pi / 4
    assert square_count(1000, 1000, 1) / 1e6 * disc == pytest.approx(math.pi / 4, abs=1e-3)
    assert staggered_count(1000, 1000, 1) / 1e6 * disc == pytest.approx(0.9069, abs=2e-3)


def test_nothing_fits_on_less_than_one_distance() -> None:
    assert (square_count(3, 0.9, 1), staggered_count(3, 0.9, 1), staggered_count(0.4, 3, 1)) == (0, 0, 0)


@given(st.floats(0.1, 40), st.floats(0.1, 40), st.floats(0.1, 5))
def test_never_denser_than_the_densest_packing(length: float, width: float, apart: float) -> None:
    # Groemer's and Oler's bound on points at least 1 apart: 2 / root 3 x area + half the border + 1.
    a, b = max(length - apart, 0) / apart + 1e-6, max(width - apart, 0) / apart + 1e-6
    bound = 2 / ROOT3 * a * b + a + b + 1 + 1e-6
    assert 0 <= most_places(length, width, apart) <= bound
    assert most_places(length, width, apart) == most_places(width, length, apart)
