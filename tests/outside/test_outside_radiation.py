"""Radiation and day length against FAO-56's worked examples and two published normals.

Examples 8 and 9 stand in test_outside_fao56.py. Example 10 as quoted by open projects (NCL's help pages); 15, 17 and
18 from memory. Normals: Royal Meteorological Institute of Belgium, climate atlas, global radiation 1984-2013: a day of
December 530 Wh per m2 on average, of June 5070, of the year 2650 (High Fens) to 3000 (coast); Royal Netherlands
Meteorological Institute, news of 25 July 2012: 199 hours of sun in June, 1981-2010. 1 kWh is 3.6 MJ.
"""

from __future__ import annotations

from datetime import date

import pytest

from rotasolve.domain.climate import Climate
from rotasolve.relations.season.daily_curves import day_number
from rotasolve.relations.season.radiation import (
    daily_light,
    day_length,
    light_from_sunshine,
    light_from_warmth,
    radiation_above_air,
)
from tests.outside.test_outside_estimated_climate import normals


@pytest.mark.parametrize(
    ("latitude", "number", "hours", "above_air", "length", "light"),
    [
        # Example 10: Rio de Janeiro, 22 degrees 54' S, 15 May, 220 hours of sun in the month.
        (-22.9, 135, 220 / 31, 25.1, 10.9, 14.5),
        # Example 17: Bangkok, 13 degrees 44' N, 15 April.
        (13.73, 105, 8.5, 38.06, 12.31, 22.65),
        # Example 18: Brussels, 50 degrees 48' N, 6 July.
        (50.8, 187, 9.25, 41.09, 16.1, 22.07),
    ],
)
def test_examples_10_17_and_18_sunshine_to_radiation(
    latitude: float, number: int, hours: float, above_air: float, length: float, light: float
) -> None:
    assert radiation_above_air(latitude, number) == pytest.approx(above_air, abs=0.05)
    assert day_length(latitude, number) == pytest.approx(length, abs=0.05)
    assert light_from_sunshine(latitude, number, hours) == pytest.approx(light, abs=0.05)


def test_example_15_temperatures_to_radiation() -> None:
    # Lyon, 45 degrees 43' N, 15 July: 14.8 and 26.6 degrees C, 40.6 MJ above the air, 22.3 on the ground.
    assert radiation_above_air(45.72, 196) == pytest.approx(40.6, abs=0.05)
    assert light_from_warmth(45.72, 196, 14.8, 26.6) == pytest.approx(22.3, abs=0.05)


def test_no_more_light_than_from_a_clear_sky() -> None:
    # 25 degrees between night and day: 0.16 x 5 = 0.8, above the 0.75 of equation 36.
    assert light_from_warmth(45, 172, 5, 30) == pytest.approx(0.75 * radiation_above_air(45, 172))
    assert light_from_sunshine(45, 172, 24) == pytest.approx(0.75 * radiation_above_air(45, 172))
    assert light_from_warmth(66, 355, -20, -10) < 0.1


def mean_of(light: tuple[float, ...], first: date, last: date) -> float:
    days = light[day_number(first) - 1 : day_number(last)]
    return sum(days) / len(days)


def test_belgium_from_its_temperatures() -> None:
    climate = Climate(mean_minima_c=tuple(normals("Brussels", "min")), mean_maxima_c=tuple(normals("Brussels", "max")))
    light = daily_light(climate, 50.8)
    assert len(light) == 365
    june = mean_of(light, date(2027, 6, 1), date(2027, 6, 30)) / 3.6
    december = mean_of(light, date(2027, 12, 1), date(2027, 12, 31)) / 3.6
    assert june / 5.07 == pytest.approx(1.08, abs=0.02)
    assert december / 0.53 == pytest.approx(1.27, abs=0.02)
    assert sum(light) / 365 / 3.6 / 2.825 == pytest.approx(1.06, abs=0.02)


def test_sunshine_goes_before_temperatures() -> None:
    # The Dutch June, 199 hours, lies within a twentieth of the Belgian radiation.
    hours = (2.0, 3.0, 4.0, 5.9, 6.8, 199 / 30, 6.8, 6.3, 4.8, 3.6, 2.1, 1.6)
    minima, maxima = tuple(normals("Brussels", "min")), tuple(normals("Brussels", "max"))
    climate = Climate(mean_minima_c=minima, mean_maxima_c=maxima, sunshine_hours=hours)
    june = mean_of(daily_light(climate, 52), date(2027, 6, 1), date(2027, 6, 30)) / 3.6
    assert june / 5.07 == pytest.approx(1, abs=0.05)
