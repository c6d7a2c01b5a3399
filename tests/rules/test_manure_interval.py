"""Manure interval, by hand: the published days from raw manure to harvest, 120 touching the soil and 90 not.

7 CFR 205.203(c)(1)(ii) and (iii), United States, National Organic Program (text verified 2026).
"""

from __future__ import annotations

import pytest

from rotasolve.domain.plan import Planting
from rotasolve.files.crops import load_catalogue
from rotasolve.referee import blank_plan
from rotasolve.relations.ground.garden import Garden, make_garden
from rotasolve.relations.ground.waits import days_after_manure
from rotasolve.rules.manure_interval import ManureClaim, ManureInterval
from tests.helpers.agree import accepted, found_by, number_of
from tests.helpers.tiny import KALE, LETTUCE, SOURCE, bed, catalogue, crop, day, planting, scenario, start
from tests.helpers.words import said

KEY = "manure-interval"
# Sown 22 May, picked 21 July to 3 August; its pods hang clear of the soil.
POLE = crop("pole bean", "legumes", 200, starts=[start(3, 60)], clear_of_soil={"how": "pods hang", "source": SOURCE})
CROPS = catalogue((LETTUCE, KALE, POLE), pathogens=[], neighbours=[])


def garden_of(spread: str, *allowed: str, where: str = "bed", **more: object) -> Garden:
    written = scenario(
        allowed or ("lettuce", "pole bean"),
        manure=[{"bed": where, "spread": spread}],
        **more,  # type: ignore[arg-type]
    )
    return make_garden(written, CROPS)


def judged(garden: Garden, *plantings: Planting) -> list[str]:
    return found_by(garden, KEY, blank_plan(garden.scenario, plantings))


def test_the_shipped_intervals_are_the_published_ones() -> None:
    rules = scenario().rules
    assert (days_after_manure(LETTUCE, rules), days_after_manure(POLE, rules)) == (120, 90)


@pytest.mark.parametrize(
    ("crop_name", "spread", "free"),
    [
        ("lettuce", "2027-03-09", True),  # picked from 7 July on: 120 days
        ("lettuce", "2027-03-10", False),  # 119 days
        ("lettuce", "2027-07-20", False),  # spread on the last day of picking
        ("lettuce", "2027-07-21", True),  # all picked by then
        ("pole bean", "2027-04-22", True),  # picked from 21 July on: 90 days
        ("pole bean", "2027-04-23", False),  # 89 days
    ],
)
def test_both_sides_of_each_interval(crop_name: str, spread: str, free: bool) -> None:
    garden = garden_of(spread)
    assert accepted(garden, [number_of(garden, crop_name, 2027)]) is free


def test_another_bed_is_other_ground() -> None:
    garden = garden_of("2027-06-01", where="other", beds=[bed(), bed("other")])
    assert accepted(garden, [number_of(garden, "lettuce", 2027)])
    assert not accepted(garden, [number_of(garden, "lettuce", 2027, bed="other")])


@pytest.mark.parametrize(("days", "free"), [(182, False), (181, False), (119, True)])
def test_the_setting_replaces_the_days(days: int, free: bool) -> None:
    # 10 March to 7 July: 119 days.
    garden = garden_of("2027-03-10", rules={"manure_days_touching": days})
    assert accepted(garden, [number_of(garden, "lettuce", 2027)]) is free


def test_a_green_manure_is_not_picked() -> None:
    assert judged(garden_of("2027-06-01"), planting("lettuce", (1,), "2027-05-08", "2027-07-31")) == []


def test_hinders_until_a_later_start_is_picked_late_enough() -> None:
    # Free from 1 April + 120 days = 30 July; picked 7 July, 23 days too soon, so starts to 8 May + 22 are barred.
    garden = garden_of("2027-04-01")
    lettuce = planting("lettuce", (1, 2), "2027-05-08", "2027-07-31", "2027-07-07")
    (told,) = ManureInterval().hinders(garden, blank_plan(garden.scenario), lettuce)
    assert (told.strips, str(told.until)) == ((1, 2), "2027-05-30")
    assert said(told) == (
        "lettuce may be picked in bed from 30 July 2027 on, after the raw manure of 1 April 2027, not on 7 July 2027"
    )


def test_says_what_it_asks_and_what_it_found() -> None:
    told = (
        "raw manure was spread on bed on 1 April 2027, so for 120 days nothing is picked there that touches the soil, "
        "and for 90 days nothing else"
    )
    assert said(ManureClaim("bed", day("2027-04-01"), 120, 90)) == told
    lettuce = planting("lettuce", (1,), "2027-05-08", "2027-07-31", "2027-07-07")
    assert judged(garden_of("2027-04-01"), lettuce) == [
        f"{told}, but lettuce, which touches the soil, is picked on 7 July 2027: 97 days after it, 120 needed"
    ]
    pole = planting("pole bean", (1,), "2027-05-08", "2027-07-31", "2027-07-07")
    assert judged(garden_of("2027-05-01"), pole) == [
        "raw manure was spread on bed on 1 May 2027, so for 120 days nothing is picked there that touches the soil, "
        "and for 90 days nothing else, but pole bean, which does not touch the soil, is picked on 7 July 2027: 67 days "
        "after it, 90 needed"
    ]


def test_roots_leaves_and_what_lies_on_the_ground_touch_the_soil() -> None:
    # The longer interval is the safe side: only crops whose file says why they hang clear get the shorter one.
    shipped = {crop.name for crop in load_catalogue().crops if crop.clear_of_soil is not None}
    assert {"climbing bean", "sweet corn", "tomato"} <= shipped
    assert not {"carrot", "potato", "leaf lettuce", "spinach", "winter squash", "cucumber", "bush bean"} & shipped
