"""Daily curves keep their monthly means; the soil's waves are damped and late as the equation says."""

from __future__ import annotations

import math
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rotasolve.relations.season.daily_curves import (
    MONTH_DAYS,
    Curve,
    curve_through,
    damping_depth_m,
    day_number,
    midway,
)
from tests.helpers.climates import CAMBRIDGE_MINIMA, INLAND


def month_means(curve: Curve) -> list[float]:
    days, found = list(curve.days), []
    for count in MONTH_DAYS:
        found.append(sum(days[:count]) / count)
        del days[:count]
    return found


@given(st.tuples(*[st.floats(-40, 45)] * 12))
def test_any_twelve_means_are_kept(means: tuple[float, ...]) -> None:
    # Mean-preserving as in Epstein 1991, Journal of Climate 4:365-368.
    assert month_means(curve_through(means)) == pytest.approx(means, abs=1e-6)


@pytest.mark.parametrize("means", [CAMBRIDGE_MINIMA, INLAND["mean_minima_c"], INLAND["mean_maxima_c"]])
def test_the_curve_stays_within_a_degree_of_the_months(means: tuple[float, ...]) -> None:
    # The same series with time counted from 1 January overshot by 0.7 to 5.5 degrees.
    days = curve_through(tuple(means)).days
    assert min(means) - 1 <= min(days)
    assert max(days) <= max(means) + 1


def test_equal_months_make_a_flat_year() -> None:
    assert curve_through((7.0,) * 12).days == pytest.approx([7.0] * 365)


def test_29_february_is_28_february() -> None:
    assert day_number(date(2028, 2, 29)) == day_number(date(2028, 2, 28)) == 59
    assert day_number(date(2028, 3, 1)) == 60
    assert day_number(date(2027, 12, 31)) == 365


def test_midway_is_the_mean_of_both() -> None:
    low, high = curve_through(INLAND["mean_minima_c"]), curve_through(INLAND["mean_maxima_c"])
    # 15 July: the mean of both ends.
    assert midway(low, high).at(196) == pytest.approx((low.at(196) + high.at(196)) / 2)


@pytest.mark.parametrize(
    # d = sqrt(2 D / omega), Oklahoma State University soil physics toolkit after Hillel 1982; numbers worked out once.
    ("turns", "diffusivity", "depth_m"),
    [(1, 2e-7, 1.417), (1, 5e-7, 2.24), (365, 5e-7, 0.117)],
)
def test_damping_depths(turns: float, diffusivity: float, depth_m: float) -> None:
    assert damping_depth_m(turns, diffusivity) == pytest.approx(depth_m, abs=0.01)


def yearly_wave(mean: float, swing: float, coldest: float) -> Curve:
    """Return mean - swing * cos(2 pi (day - coldest) / 365)."""
    ahead = 2 * math.pi / 365 * (coldest - 16)
    return Curve(mean, ((-swing * math.cos(ahead), -swing * math.sin(ahead)),))


def test_the_soil_on_day_105_at_three_depths() -> None:
    # Mean 10.47, swing 7.64, coldest on day 20.1 (fitted to Brussels 1976-2005): 9.65 at the surface, 9.36 at 10 cm,
    # 8.87 at 30 cm, 7.90 at 1 m.
    wave = yearly_wave(10.47, 7.64, 20.1)
    found = [wave.under_soil(depth).at(105) for depth in (0.0, 0.1, 0.3, 1.0)]
    assert found == pytest.approx([9.65, 9.36, 8.87, 7.90], abs=0.02)


def test_10_cm_keeps_956_thousandths_of_the_swing_and_is_2_and_a_half_days_late() -> None:
    # 10 cm / 2.24 m = 0.0446: exp(-0.0446) = 0.956, and 0.0446 * 365 / (2 pi) = 2.6 days.
    below = yearly_wave(0.0, 1.0, 20.0).under_soil(0.1)
    assert max(below.days) == pytest.approx(0.956, abs=0.001)
    late = 20 + 182.5 + 2.6
    assert below.at(late) > max(below.at(late - 1), below.at(late + 1))


def test_the_half_yearly_wave_is_damped_more() -> None:
    # sqrt(2) times as much: exp(-0.0631) = 0.939.
    twice = Curve(0.0, ((0.0, 0.0), (1.0, 0.0))).under_soil(0.1)
    assert max(twice.days) == pytest.approx(0.939, abs=0.001)
