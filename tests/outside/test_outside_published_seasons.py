"""Published planting calendars of four climates against what we offer in the climate of a station near each place.

A row of tests/data/published_seasons.csv is a crop started in one way in one calendar, its kinds taken together, with
the first and the last day printed; an end that the calendar does not print is empty. Sowings in seed beds and under
heat are no starts in the ground and left out. The sources stand in tests/data/published_places.json.

Our season is the days that are open and good or possible (half of the best start, and more). A row agrees if each end
printed lies within 14 days of ours. Three readings, which are ours:

* Where calendars print half months, an end is any day of that half month.
* A last day may mean the last full crop or the last worth having: it may lie anywhere between our last good and our
  last possible day; likewise a first day.
* A row whose calendar is special (glass, one kind, mild winters) carries its reason, is not counted, and must not
  agree: a reason that is no longer needed has to go.
"""

from __future__ import annotations

import csv
import json
from datetime import date, timedelta
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from rotasolve.domain.site import Site
from rotasolve.files.crops import load_catalogue
from rotasolve.relations.season.growing import GOOD, POSSIBLE, growing
from rotasolve.relations.season.windows import share_of_best, windows_of_year

DATA = Path(__file__).parents[1] / "data"
YEAR, NEAR_DAYS, HALF_MONTH = 2027, 14, 14
MONTHS = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"]


def _rows(name: str) -> list[dict[str, str]]:
    with (DATA / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


STATIONS = {row["station"]: row for row in _rows("station_normals.csv")}
PLACES: dict[str, dict[str, Any]] = {
    place["calendar"]: place
    for place in json.loads((DATA / "published_places.json").read_text(encoding="utf-8"))["places"]
}
ROWS = _rows("published_seasons.csv")
CATALOGUE = load_catalogue()
OPEN = CATALOGUE.cover("open ground")


@cache
def _site(calendar: str) -> Site:
    place = dict(PLACES[calendar])
    station = STATIONS.get(place["station"])
    if station is not None:
        place["latitude"] = float(station["latitude"])
        place["mean_minima_c"] = [float(station[f"min_{month}"]) for month in MONTHS]
        place["mean_maxima_c"] = [float(station[f"max_{month}"]) for month in MONTHS]
    site = {
        "latitude": place["latitude"],
        "climate": {key: place[key] for key in ("mean_minima_c", "mean_maxima_c")},
    }
    for frost in ("last_frost", "first_frost"):
        if frost in place:
            # Where dates are counted from the average frost, nobody waits for a safe date: next to no spread.
            site[frost] = {"half": place[frost], "spread_days": 14 if place["half_months"] else 1}
    return Site.model_validate(site)


def _ours(row: dict[str, str], least: int) -> tuple[date, date] | None:
    """Return the first and the last day on which we offer a start that gives so many per cent of the best."""
    crop, site = CATALOGUE.crop(row["crop"]), _site(row["calendar"])
    days = []
    for start in crop.starts:
        grown = growing(crop, start, OPEN, site)
        if start.way != row["way"] or row["season"] not in ("", "spring" if grown.opens_in_spring else "autumn"):
            continue
        for window in windows_of_year(crop, start, OPEN, site, YEAR):
            day = window.earliest
            while day <= window.latest:
                if grown.air is None or share_of_best(grown, day) >= least:
                    days.append(day)
                day += timedelta(days=1)
    return (min(days), max(days)) if days else None


def _days_off(end: str, printed: str, days: tuple[date, date], half_months: bool) -> int:
    """Return how far the nearer of our good and possible ends lies from a printed day; 0 if it lies between them."""
    month, number = (int(part) for part in printed.split("-"))
    near = [min(((day - date(y, month, number)).days for y in (YEAR, YEAR + 1)), key=abs) for day in days]
    low, high = min(near), max(near)
    if half_months:
        low, high = (low - HALF_MONTH, high) if end == "first" else (low, high + HALF_MONTH)
    return 0 if low <= 0 <= high else min(low, high, key=abs)


@cache
def _agrees(number: int) -> bool:
    row = ROWS[number]
    possible = _ours(row, POSSIBLE)
    if possible is None:
        return False
    good = _ours(row, GOOD) or possible
    half_months = PLACES[row["calendar"]]["half_months"]
    return all(
        abs(_days_off(end, row[end], (possible[i], good[i]), half_months)) <= NEAR_DAYS
        for i, end in enumerate(("first", "last"))
        if row[end]
    )


def test_there_are_six_calendars_of_three_climates_with_britain() -> None:
    assert len({row["calendar"] for row in ROWS}) >= 6
    assert {row["calendar"] for row in ROWS} == set(PLACES)
    assert len({place["climate"] for place in PLACES.values()}) >= 3
    assert any(place["country"] == "Britain" for place in PLACES.values())
    assert all(row["first"] or row["last"] for row in ROWS)


def test_most_rows_agree_within_two_weeks() -> None:
    counted = [number for number, row in enumerate(ROWS) if not row["reason"]]
    missed = [ROWS[number] for number in counted if not _agrees(number)]
    assert len(counted) >= 190
    assert len(missed) <= 0.15 * len(counted), missed


def test_most_rows_of_each_climate_agree() -> None:
    for climate in {place["climate"] for place in PLACES.values()}:
        counted = [
            n for n, row in enumerate(ROWS) if not row["reason"] and PLACES[row["calendar"]]["climate"] == climate
        ]
        assert sum(_agrees(number) for number in counted) >= 0.75 * len(counted), climate


@pytest.mark.parametrize("number", [n for n, row in enumerate(ROWS) if row["reason"]])
def test_a_reason_is_needed(number: int) -> None:
    assert not _agrees(number), ROWS[number]
