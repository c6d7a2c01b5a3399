"""The start windows against published planting calendars."""

from __future__ import annotations

from datetime import date, timedelta
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from rotasolve.domain.catalogue import Catalogue
    from rotasolve.domain.crop import Start

# S20 (Ithaca, New York): last planting dates; first frost 1 October.
FIRST_FROST = date(2017, 10, 1)
LAST_DATES = [
    ("melon", date(2017, 6, 10)),
    ("okra", date(2017, 6, 10)),
    ("basil", date(2017, 6, 10)),
    ("climbing bean", date(2017, 6, 30)),
    ("Brussels sprouts", date(2017, 6, 30)),
    ("aubergine", date(2017, 6, 30)),
    ("sweet pepper", date(2017, 6, 30)),
    ("celery", date(2017, 6, 30)),
    ("bush tomato", date(2017, 6, 30)),
    ("bush bean", date(2017, 7, 15)),
    ("cabbage", date(2017, 7, 15)),
    ("carrot", date(2017, 7, 15)),
    ("cauliflower", date(2017, 7, 15)),
    ("cucumber", date(2017, 7, 15)),
    ("parsnip", date(2017, 7, 15)),
    ("swede", date(2017, 7, 15)),
    ("summer squash", date(2017, 7, 15)),
    ("beetroot", date(2017, 7, 31)),
    ("broccoli", date(2017, 7, 31)),
    ("kale", date(2017, 7, 31)),
    ("kohlrabi", date(2017, 7, 31)),
    ("chard", date(2017, 7, 31)),
    ("leaf lettuce", date(2017, 8, 10)),
    ("radish", date(2017, 9, 10)),
]
# S19 (Cobleskill, New York): about 15 April, last frost 26 May: 41 days = 5.9 weeks before it.
EARLY = ["cabbage", "kale", "kohlrabi", "leaf lettuce", "endive", "onion", "pea", "spinach", "turnip", "mustard greens"]
# S19: after the last frost, or when the soil is warm.
LATE = [
    "bush bean",
    "sweet corn",
    "tomato",
    "aubergine",
    "sweet pepper",
    "basil",
    "cucumber",
    "melon",
    "okra",
    "pumpkin",
]


def _latest(start: Start) -> date:
    assert start.latest.unit == "weeks before first frost"
    return FIRST_FROST - timedelta(weeks=start.latest.usual)


@pytest.mark.parametrize(("crop", "published"), LAST_DATES)
def test_the_last_start_is_the_published_one(catalogue: Catalogue, crop: str, published: date) -> None:
    assert abs((_latest(catalogue.crop(crop).starts[0]) - published).days) <= 5


@pytest.mark.parametrize("crop", EARLY)
def test_cool_crops_start_in_mid_april(catalogue: Catalogue, crop: str) -> None:
    earliest = catalogue.crop(crop).starts[0].earliest
    assert earliest.unit == "weeks after last frost"
    assert earliest.least <= -5.9
    assert -6.5 <= earliest.usual <= -4


@pytest.mark.parametrize("crop", LATE)
def test_warm_crops_wait_for_the_last_frost(catalogue: Catalogue, crop: str) -> None:
    assert all(start.earliest.usual >= 0 for start in catalogue.crop(crop).starts)


# S66 (central Illinois): "warm-loving" crops 2.6 to 5.7 weeks after the frost-free date; the others before.
@pytest.mark.parametrize(("first", "then"), [("onion", "carrot"), ("carrot", "bush bean"), ("bush bean", "pumpkin")])
def test_the_order_of_the_classes_holds(catalogue: Catalogue, first: str, then: str) -> None:
    assert catalogue.crop(first).starts[0].earliest.usual < catalogue.crop(then).starts[0].earliest.usual
