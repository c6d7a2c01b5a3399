"""Free ground, by hand: one crop at a time on a strip, to the day."""

from __future__ import annotations

import pytest

from rotasolve.domain.plan import Planting
from rotasolve.referee import blank_plan
from rotasolve.relations.ground.garden import Garden, make_garden
from rotasolve.rules.free_ground import FreeGround, GroundClaim
from tests.helpers.agree import accepted, found_by, number_of, posted
from tests.helpers.tiny import CATALOGUE, bed, planting, scenario
from tests.helpers.words import said

KEY = "free-ground"
SAID = "each strip of bed holds one crop at a time, but "


def garden_of(*allowed: str, **more: object) -> Garden:
    return make_garden(scenario(allowed or ("lettuce", "kale"), **more), CATALOGUE)  # type: ignore[arg-type]


def judged(*plantings: Planting, garden: Garden | None = None) -> list[str]:
    garden = garden or garden_of()
    return found_by(garden, KEY, blank_plan(garden.scenario, plantings))


LETTUCE = planting("lettuce", (1, 2), "2027-05-08", "2027-07-31")


@pytest.mark.parametrize(
    ("strips", "begin", "clear", "free"),
    [
        ((1,), "2027-08-01", "2027-09-30", True),  # the day after the lettuce is cleared
        ((1,), "2027-07-31", "2027-09-30", False),  # the day it is cleared
        ((2,), "2027-04-01", "2027-05-07", True),  # cleared the day before the lettuce is sown
        ((2,), "2027-04-01", "2027-05-08", False),
        ((2,), "2027-06-01", "2027-06-02", False),  # inside its time
        ((3,), "2027-05-08", "2027-07-31", True),  # the strip beside it
        ((2, 3), "2027-05-08", "2027-07-31", False),  # one strip shared
    ],
)
def test_the_ground_is_free_the_day_after(strips: tuple[int, ...], begin: str, clear: str, free: bool) -> None:
    ground = garden_of(beds=[bed(strips=3)])
    found = judged(LETTUCE, planting("kale", strips, begin, clear), garden=ground)
    assert (found == []) is free


def test_another_bed_is_other_ground() -> None:
    garden = garden_of(beds=[bed(), bed("other")])
    assert judged(LETTUCE, planting("kale", (1,), "2027-05-08", "2027-07-31", bed="other"), garden=garden) == []


def test_model_lets_nothing_share_a_half_month() -> None:
    # Lettuce 8 May to 31 July, kale from 17 July: both need strip 2 in the second half of July.
    garden = garden_of()
    lettuce = number_of(garden, "lettuce", 2027, strip=2)
    assert not accepted(garden, [lettuce, number_of(garden, "kale", 2027, strip=2)])
    assert accepted(garden, [lettuce, number_of(garden, "kale", 2027, strip=1)])


def test_model_lets_one_crop_follow_another() -> None:
    # Bean to 31 July, then clover from 21 August, in the same strip.
    garden = garden_of("bean", "clover")
    assert accepted(garden, [number_of(garden, "bean", 2027), number_of(garden, "clover", 2027)])


@pytest.mark.parametrize(
    ("until", "strips", "free"),
    [
        ("2027-04-30", (), True),
        ("2027-05-01", (), False),
        ("2027-06-30", (1,), False),
        ("2027-06-30", (2,), True),
    ],
)
def test_an_earlier_crop_keeps_its_strips_until_its_day(until: str, strips: tuple[int, ...], free: bool) -> None:
    # Lettuce is sown in strip 1 on 8 May; the history names the strips (all if none) and the day,
    # which counts to the end of its half month.
    old = {"bed": "bed", "crop": "garlic", "year": 2026, "until": until, "strips": strips}
    garden = garden_of(history=[old])
    found = judged(planting("lettuce", (1,), "2027-05-08", "2027-07-31"), garden=garden)
    assert (found == []) is free


def test_model_holds_an_earlier_crop_to_half_months() -> None:
    # Until 30 April the garlic is gone before the half month of 8 May; until 15 May it takes that one whole.
    for until, free in (("2027-04-30", True), ("2027-05-15", False)):
        garden = garden_of(history=[{"bed": "bed", "crop": "garlic", "year": 2026, "until": until}])
        assert accepted(garden, [number_of(garden, "lettuce", 2027)]) is free


def test_counted_beds_hold_back_what_an_earlier_crop_takes() -> None:
    # 1 of 2 strips held until 30 June, so at most 1 lot of lettuce from 8 May.
    old = {"bed": "bed", "crop": "garlic", "year": 2026, "until": "2027-06-30", "strips": (1,)}
    garden = make_garden(scenario(["lettuce"], history=[old]), CATALOGUE, exact=False)
    assert posted(garden, KEY) == {GroundClaim("bed")}
    assert [garden.taken_at_start(cell, garden.choices[0].sowing.periods[0]) for cell in garden.cells] == [1]


def test_says_what_it_asks() -> None:
    assert said(GroundClaim("north bed")) == ("each strip of north bed holds one crop at a time")


def test_says_what_it_found() -> None:
    kale = planting("kale", (2,), "2027-07-17", "2027-09-30")
    assert judged(LETTUCE, kale) == [
        SAID + "strip 2 holds lettuce from 8 May 2027 to 31 July 2027 and kale from 17 July 2027 to 30 September 2027"
    ]
    assert judged(planting("kale", (3,), "2027-07-17", "2027-09-30")) == [SAID + "strip 3 does not exist"]
    assert judged(planting("kale", (2,), "2027-07-17", "2027-07-16")) == [
        SAID + "kale is cleared on 16 July 2027, before it is started"
    ]
    old = {"bed": "bed", "crop": "garlic", "year": 2026, "until": "2027-07-20"}
    assert judged(kale, garden=garden_of(history=[old])) == [
        SAID + "garlic from before the plan stands until 20 July 2027, kale starts on 17 July 2027"
    ]


def test_what_stands_for_one_day_is_no_breach() -> None:
    assert judged(planting("kale", (1,), "2027-08-01", "2027-08-01")) == []


@pytest.mark.parametrize(("begin", "free"), [("2027-05-15", False), ("2027-05-16", True)])
def test_a_start_on_the_last_day_of_the_half_month_hinders(begin: str, free: bool) -> None:
    # Cleared on 10 May, the ground is given back with the half month, on the 15th.
    garden = garden_of()
    plan = blank_plan(garden.scenario, (planting("kale", (1,), begin, "2027-09-30"),))
    asked = planting("lettuce", (1,), "2027-04-01", "2027-05-10")
    assert (list(FreeGround().hinders(garden, plan, asked)) == []) is free
