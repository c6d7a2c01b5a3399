"""The sun's place against published figures and pvlib, and the beam against hand and memory."""

from __future__ import annotations

import csv
import math
from datetime import date, datetime
from pathlib import Path

import numpy
import pytest

from rotasolve.relations.sun.sunlight import Sky, aloft, beam, julian_day, position, sky_of, sun_of

DATA = Path(__file__).parents[2] / "data"


def test_the_worked_example_of_nrel() -> None:
    # Source: Reda and Andreas, NREL/TP-560-34302 (rev. 2008), appendix: 17 October 2003, 12:30:30 at UTC-7,
    # 39.742476 N, 105.1786 W: geometric elevation 39.872046, azimuth 194.34024, declination -9.316179 degrees.
    moment = numpy.array([julian_day(date(2003, 10, 17), 19 + 30 / 60 + 30 / 3600)])
    elevation, azimuth = position(moment, 39.742476, -105.1786)
    assert elevation[0] == pytest.approx(39.872046, abs=0.02)
    assert azimuth[0] == pytest.approx(194.34024, abs=0.02)
    assert sun_of(moment)[0][0] == pytest.approx(-9.316179, abs=0.02)
    # Appendix table A5.1 of the same report gives the Julian day.
    assert moment[0] == pytest.approx(2452930.312847, abs=1e-6)


def test_against_pvlib_over_years_and_latitudes() -> None:
    """tests/data/sun_positions.csv was made once with pvlib 0.16.1 (its head says how): geometric, no refraction."""
    lines = [line for line in (DATA / "sun_positions.csv").read_text("utf-8").splitlines() if line[:1] != "#"]
    rows = list(csv.DictReader(lines))
    assert len(rows) > 350
    assert {row["utc"][:4] for row in rows} == {"2024", "2026", "2030"}
    for row in rows:
        moment = datetime.fromisoformat(row["utc"])
        julian = numpy.array([julian_day(moment.date(), moment.hour + moment.minute / 60)])
        elevation, azimuth = position(julian, float(row["latitude"]), float(row["longitude"]))
        ours, theirs = (float(elevation[0]), float(azimuth[0])), (float(row["elevation"]), float(row["azimuth"]))
        # 0.0151 degrees is the largest great-circle error measured over three full years.
        assert _apart(ours, theirs) < 0.02


def _apart(one: tuple[float, float], other: tuple[float, float]) -> float:
    """Return the angle between two directions given as (elevation, azimuth), in degrees."""
    (a, b), (c, d) = (tuple(math.radians(x) for x in place) for place in (one, other))
    cosine = math.sin(a) * math.sin(c) + math.cos(a) * math.cos(c) * math.cos(b - d)
    return math.degrees(math.acos(min(cosine, 1.0)))


@pytest.mark.parametrize("latitude", [-45.0, 0.0, 35.0, 51.5, 60.0])
def test_noon_and_the_equator(latitude: float) -> None:
    # Identity: elevation at noon = 90 - |latitude - declination|, due south or north.
    for lean in (-23.44, 0.0, 23.44):
        elevation, azimuth = aloft(numpy.array([0.0]), numpy.array([lean]), latitude)
        assert elevation[0] == pytest.approx(90 - abs(latitude - lean))
        if latitude != lean:
            assert azimuth[0] % 360 == pytest.approx(180 if latitude > lean else 0)


def test_day_length_of_fao_56() -> None:
    # Source: Allen, Pereira, Raes and Smith 1998, FAO Irrigation and Drainage Paper 56, example 9: 20 S, 3 September,
    # 11.7 hours.
    assert sky_of(-20, 9, (3,)).day_hours == pytest.approx(11.7, abs=0.1)


@pytest.mark.parametrize(("elevation", "watts"), [(10, 413), (30, 789), (70, 933)])
def test_the_beam_is_near_another_clear_sky(elevation: float, watts: float) -> None:
    # Source: pvlib 0.16.1, Ineichen's clear sky with turbidity 3, direct normal irradiance; extraterrestrial 1353 W/m2
    # as in Meinel's law.
    assert 1353 * float(beam(numpy.array([float(elevation)]))[0]) == pytest.approx(watts, rel=0.06)


@pytest.mark.parametrize(("north", "south"), [(6, 12), (4, 10), (9, 3)])
def test_the_southern_sky_mirrors_the_northern(north: int, south: int) -> None:
    # Half a year apart the declinations mirror to within a degree; put in exactly they mirror exactly.
    angles, leans = numpy.linspace(-1.5, 1.5, 31), numpy.full(31, 17.0)
    up, azimuth = aloft(angles, leans, 44.0)
    up_south, azimuth_south = aloft(angles, -leans, -44.0)
    assert up == pytest.approx(up_south)
    assert (180 - azimuth) % 360 == pytest.approx(azimuth_south % 360)
    assert sky_of(44, north).day_hours == pytest.approx(sky_of(-44, south).day_hours, abs=0.3)


@pytest.mark.parametrize("latitude", [-37.0, 10.0, 51.5])
def test_morning_and_evening_mirror_each_other(latitude: float) -> None:
    sky: Sky = sky_of(latitude, 5)
    assert float(sky.east @ sky.hours) == pytest.approx(0, abs=1e-9)
    assert float((sky.clock - 12) @ sky.beam) == pytest.approx(0, abs=1e-9)
    assert float(sky.beam.sum()) == pytest.approx(1)
