"""Degree days against published worked examples, in degrees F as they are printed."""

from __future__ import annotations

import pytest

from rotasolve.relations.season.degree_days import degree_days_of_day


def test_iowa_state_70_and_50() -> None:
    # Iowa State University, Agron 541 lesson 2b, equation 2.1: 70 F and 50 F above 50 F make 10.
    assert degree_days_of_day(50, 70, 50) == 10


@pytest.mark.parametrize(("lowest", "highest", "printed"), [(65, 90, 25.5), (46, 72, 11), (42, 63, 6.5)])
def test_three_days_of_maize_by_86_and_50(lowest: float, highest: float, printed: float) -> None:
    # Waushara County, Wisconsin, extension column 2018: 25.5 + 11 + 6.5 = 43.
    assert degree_days_of_day(lowest, highest, 50, 86, "limits on both ends") == printed


def test_mcmaster_and_wilhelm_two_readings() -> None:
    # McMaster and Wilhelm 1997, Agricultural and Forest Meteorology 87:291-300; numbers worked out once, 4 and 18
    # degrees C above 10: (4 + 18) / 2 - 10 = 1, but (10 + 18) / 2 - 10 = 4.
    assert degree_days_of_day(4, 18, 10) == 1
    assert degree_days_of_day(4, 18, 10, method="limits on both ends") == 4


def test_peas_at_a_mean_of_55_above_40() -> None:
    # Wang 1960, Ecology 41:785: base 40 F, mean 55 F: 15.
    assert degree_days_of_day(50, 60, 40) == 15


def test_no_day_counts_below_nothing_or_above_the_ceiling() -> None:
    assert degree_days_of_day(-5, 5, 10) == degree_days_of_day(-5, 5, 10, method="limits on both ends") == 0
    # Maize: 0 to 36 a day (Iowa State).
    assert degree_days_of_day(90, 110, 50, 86, "limits on both ends") == 36
