"""The estimated climate against the monthly normals of 18 stations, and its frost dates against theirs.

Stations, periods and sources stand in tests/data/station_normals.csv. The frost dates of 10 are published medians or
counted from the daily record (night at or below 0 degrees C); those of the other 8 are worked out from their own
nights by frosts.py. The temperatures of Ithaca, Albany and Toronto are from memory.
"""

from __future__ import annotations

import csv
import math
from datetime import date
from pathlib import Path

import pytest

from rotasolve.domain.seasons import MONTHS
from rotasolve.domain.site import Site
from rotasolve.relations.season.estimated_climate import climate_of, is_estimated
from rotasolve.relations.season.frosts import frosts_of

with (Path(__file__).parents[1] / "data" / "station_normals.csv").open(encoding="utf-8", newline="") as file:
    STATIONS = {row["station"]: row for row in csv.DictReader(file)}


def normals(station: str, which: str) -> list[float]:
    return [float(STATIONS[station][f"{which}_{month[:3]}"]) for month in MONTHS]


def site_of(station: str) -> Site:
    row = STATIONS[station]
    frosts = {end: {"half": row[end]} for end in ("last_frost", "first_frost")}
    return Site.model_validate({"latitude": float(row["latitude"]), **frosts})


def errors(station: str, which: str) -> list[float]:
    """Return estimate less normal for each month in degrees C."""
    climate = climate_of(site_of(station))
    estimated = climate.mean_minima_c if which == "min" else climate.mean_maxima_c
    return [ours - theirs for ours, theirs in zip(estimated, normals(station, which), strict=True)]


def root_mean_square(values: list[float]) -> float:
    return math.sqrt(sum(value**2 for value in values) / len(values))


def test_there_are_stations_enough_and_frost_dates_from_elsewhere() -> None:
    assert len(STATIONS) == 18
    assert sum("frosts.py" not in row["frost_basis"] for row in STATIONS.values()) == 10
    assert sum("memory" in row["source"] for row in STATIONS.values()) == 3
    assert all(is_estimated(site_of(station)) for station in STATIONS)


@pytest.mark.parametrize(("which", "all_months", "growing"), [("min", 2.3, 1.4), ("max", 3.3, 2.9)])
def test_the_error_is_the_one_the_module_states(which: str, all_months: float, growing: float) -> None:
    found = {station: errors(station, which) for station in STATIONS}
    assert root_mean_square([error for row in found.values() for error in row]) == pytest.approx(all_months, abs=0.05)
    warm = [
        error
        for station, row in found.items()
        for error, night in zip(row, normals(station, "min"), strict=True)
        if night > 2
    ]
    assert root_mean_square(warm) == pytest.approx(growing, abs=0.05)


@pytest.mark.parametrize(
    ("which", "station", "month", "error"),
    [("min", "Winnipeg Richardson, Manitoba", 0, 10.9), ("max", "Medford Experiment Station, Oregon", 1, -9.9)],
)
def test_the_worst_months_are_the_ones_the_module_states(which: str, station: str, month: int, error: float) -> None:
    worst = max(((abs(found), name, place) for name in STATIONS for place, found in enumerate(errors(name, which))))
    assert worst[1:] == (station, month)
    assert errors(station, which)[month] == pytest.approx(error, abs=0.1)


@pytest.mark.parametrize("station", list(STATIONS))
def test_the_nights_of_the_estimate_have_the_frost_dates_it_was_made_from(station: str) -> None:
    site = site_of(station)
    worked_out = frosts_of(Site(latitude=site.latitude, climate=climate_of(site)))
    for given, found in zip(frosts_of(site), worked_out, strict=True):
        apart = abs((date(2027, *given.half) - date(2027, *found.half)).days)
        assert min(apart, 365 - apart) <= 2
