"""The starts cover what growers in Europe do: each case names the calendar it comes from."""

from __future__ import annotations

from datetime import date, timedelta
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from rotasolve.domain.catalogue import Catalogue
    from rotasolve.domain.crop import Start
    from rotasolve.domain.figure import Figure

# Southern England: half of all years have their last frost by 1 May and their first by 1 November (common practice).
LAST_FROST, FIRST_FROST = date(2027, 5, 1), date(2027, 11, 1)


def _day(end: Figure) -> date:
    if end.unit == "weeks after last frost":
        return LAST_FROST + timedelta(weeks=end.usual)
    if end.unit == "weeks after longest day":
        return date(2027, 6, 21) + timedelta(weeks=end.usual)
    return FIRST_FROST + timedelta(weeks=end.usual * (1 if end.unit == "weeks after first frost" else -1))


def _open(start: Start, day: date) -> bool:
    return _day(start.earliest) <= day <= _day(start.latest)


@pytest.mark.parametrize(
    ("crop", "way", "day", "source"),
    [
        ("garlic", "sown in place", date(2027, 10, 20), "E14"),
        ("garlic", "sown in place", date(2027, 3, 15), "E15"),
        ("onion", "sown in place", date(2027, 10, 15), "E17"),
        ("onion", "sown in place", date(2027, 4, 15), "E14"),
        ("shallot", "sown in place", date(2027, 3, 15), "E20"),
        ("broad bean", "sown in place", date(2027, 11, 5), "E01"),
        ("broad bean", "sown in place", date(2027, 3, 10), "E01"),
        ("cabbage", "set out", date(2027, 9, 25), "E14"),
        ("cabbage", "set out", date(2027, 5, 20), "E14"),
        ("head lettuce", "set out", date(2027, 10, 1), "E01"),
        ("corn salad", "sown in place", date(2027, 9, 1), "E01"),
        ("leek", "set out", date(2027, 6, 25), "E39"),
        ("leek", "set out", date(2027, 7, 15), "E12"),
        ("kale", "set out", date(2027, 8, 5), "E02"),
        ("parsnip", "sown in place", date(2027, 4, 12), "E12"),
        ("swede", "sown in place", date(2027, 5, 25), "E01"),
        ("runner bean", "sown in place", date(2027, 5, 20), "E26"),
        ("beetroot", "sown in place", date(2027, 7, 10), "E01"),
    ],
)
def test_a_usual_day_lies_in_a_window(catalogue: Catalogue, crop: str, way: str, day: date, source: str) -> None:
    assert any(start.way == way and _open(start, day) for start in catalogue.crop(crop).starts), source


@pytest.mark.parametrize(
    ("crop", "day", "source"),
    [
        ("garlic", date(2027, 4, 20), "E15: spring planting ends with March"),
        ("shallot", date(2027, 5, 1), "E01: not later than mid April"),
        ("broad bean", date(2027, 5, 1), "E01: after mid April they fail"),
        ("corn salad", date(2027, 6, 1), "E01: mainly in August and September"),
    ],
)
def test_nothing_is_started_when_growers_would_laugh(catalogue: Catalogue, crop: str, day: date, source: str) -> None:
    assert not any(_open(start, day) for start in catalogue.crop(crop).starts), source


@pytest.mark.parametrize(
    ("crop", "started", "ripe_from", "ripe_to", "source"),
    [
        ("garlic", date(2026, 10, 20), date(2027, 6, 1), date(2027, 7, 31), "E14"),
        ("onion", date(2026, 10, 15), date(2027, 6, 1), date(2027, 7, 31), "E19"),
        ("broad bean", date(2026, 11, 5), date(2027, 5, 15), date(2027, 7, 31), "E01"),
        ("cabbage", date(2026, 9, 25), date(2027, 4, 1), date(2027, 6, 30), "E14"),
        ("head lettuce", date(2026, 10, 1), date(2027, 3, 1), date(2027, 5, 31), "E01"),
    ],
)
def test_what_stands_through_the_winter_is_ripe_in_its_season(
    catalogue: Catalogue, crop: str, started: date, ripe_from: date, ripe_to: date, source: str
) -> None:
    through = [start for start in catalogue.crop(crop).starts if start.days_to_harvest.usual >= 180]
    assert through
    for start in through:
        assert ripe_from <= started + timedelta(days=start.days_to_harvest.usual) <= ripe_to, source


def test_plants_set_out_are_ripe_sooner_than_seed_sown_in_place(catalogue: Catalogue) -> None:
    # The days of a start count from that start; a raised plant has its weeks indoors behind it.
    for crop in catalogue.crops:
        days: dict[str, list[float]] = {"sown in place": [], "set out": []}
        for start in crop.starts:
            if start.material == "seed" and start.days_to_harvest.usual < 140:
                days[start.way].append(start.days_to_harvest.usual)
        if days["sown in place"] and days["set out"]:
            assert min(days["set out"]) < min(days["sown in place"]), crop.name
