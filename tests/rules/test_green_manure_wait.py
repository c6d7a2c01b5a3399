"""Green manure wait, by hand: the days between digging in and the next start on the same strip."""

from __future__ import annotations

from dataclasses import replace
from itertools import product

import pytest

from rotasolve.domain.plan import Planting
from rotasolve.domain.seasons import period_of
from rotasolve.referee import blank_plan
from rotasolve.relations.ground.garden import Cell, Garden, make_garden
from rotasolve.relations.ground.waits import days_after_digging_in
from rotasolve.rules.green_manure_wait import GreenManureWait, WaitClaim
from rotasolve.solver.program import build_program
from tests.helpers.agree import accepted, found_by, least_cost, number_of
from tests.helpers.tiny import KALE, LETTUCE, bed, catalogue, crop, day, figure, planting, scenario, start
from tests.helpers.words import said

KEY = "green-manure-wait"
# Sown 8 May, cut from 7 June on, kept for two weeks to 20 June; ground to 30 June. Waits 21 days, to 21 July.
MUSTARD = crop(
    "mustard",
    "cabbage covers",
    starts=[start(1, 30)],
    green_manure=True,
    counts_for_rest=False,
    wait_after=figure(3, "weeks"),
)
# Sown 11 May (3 days later), cleared 30 June too: it waits 2 weeks, so that kale of 17 July may follow.
BUCKWHEAT = crop("buckwheat", "docks", starts=[start(10 / 7, 30)], green_manure=True, wait_after=figure(2, "weeks"))
COVERS = catalogue((LETTUCE, KALE, MUSTARD, BUCKWHEAT), pathogens=[], neighbours=[])


def garden_of(*allowed: str, exact: bool | None = None, **more: object) -> Garden:
    return make_garden(scenario(allowed or ("mustard", "kale", "buckwheat"), **more), COVERS, exact)  # type: ignore[arg-type]


def judged(*plantings: Planting, garden: Garden | None = None) -> list[str]:
    garden = garden or garden_of()
    return found_by(garden, KEY, blank_plan(garden.scenario, plantings))


DUG_IN = planting("mustard", (1,), "2027-05-08", "2027-06-30")


@pytest.mark.parametrize(
    ("strips", "begin", "free"),
    [
        ((1,), "2027-07-01", False),  # 1 day
        ((1,), "2027-07-20", False),  # 20 days
        ((1,), "2027-07-21", True),  # 21 days = 3 weeks
        ((2,), "2027-07-01", True),  # the strip beside it
        ((1, 2), "2027-07-20", False),  # one strip shared
        ((1,), "2027-06-30", True),  # the day of clearing itself: that is for free-ground to say
        ((1,), "2027-04-01", True),  # before it
    ],
)
def test_three_weeks_from_clearing_to_the_next_start(strips: tuple[int, ...], begin: str, free: bool) -> None:
    assert (judged(DUG_IN, planting("kale", strips, begin, "2027-09-30")) == []) is free


def test_other_crops_leave_no_wait() -> None:
    lettuce = planting("lettuce", (1,), "2027-05-08", "2027-06-30")
    assert judged(lettuce, planting("kale", (1,), "2027-07-01", "2027-09-30")) == []


def test_another_bed_is_other_ground() -> None:
    garden = garden_of(beds=[bed(), bed("other")])
    assert judged(DUG_IN, planting("kale", (1,), "2027-07-01", "2027-09-30", bed="other"), garden=garden) == []


@pytest.mark.parametrize(("weeks", "free"), [(0, True), (2, True), (17 / 7, True), (18 / 7, False), (3, False)])
def test_the_setting_replaces_the_weeks_of_all(weeks: float, free: bool) -> None:
    # Kale starts on 17 July, 17 days after 30 June.
    garden = garden_of(rules={"green_manure_wait": weeks})
    assert days_after_digging_in(MUSTARD, garden.scenario.rules) == round(weeks * 7)
    assert (judged(DUG_IN, planting("kale", (1,), "2027-07-17", "2027-09-30"), garden=garden) == []) is free
    assert accepted(garden, [number_of(garden, "mustard", 2027), number_of(garden, "kale", 2027)]) is free


def test_model_keeps_kale_off_mustard_but_not_off_buckwheat() -> None:
    # 17 days: 21 asked after mustard, 14 after buckwheat.
    garden = garden_of()
    kale = number_of(garden, "kale", 2027)
    assert not accepted(garden, [number_of(garden, "mustard", 2027), kale])
    assert accepted(garden, [number_of(garden, "mustard", 2027, strip=2), kale])
    assert accepted(garden, [number_of(garden, "buckwheat", 2027), kale])


def standing_longest(garden: Garden) -> list[int]:
    """Return the choices of each crop that are cleared last: a green manure may be dug in sooner."""
    last = {
        c.sowing.crop: max(o.sowing.course.clear for o in garden.choices if o.sowing.crop == c.sowing.crop)
        for c in garden.choices
    }
    return [n for n, c in enumerate(garden.choices) if c.sowing.course.clear == last[c.sowing.crop]]


def test_model_and_referee_agree_on_every_combination() -> None:
    # 3 sowings on either strip or on both, each taken or not: 512 combinations, with both verdicts among them.
    garden = garden_of()
    program = build_program(garden, goals=False)
    to_the_end = standing_longest(garden)
    verdicts = {
        accepted(garden, [number for number, taken in zip(to_the_end, every, strict=True) if taken], program)
        for every in product((0, 1), repeat=len(to_the_end))
    }
    assert len(to_the_end) == 9
    assert verdicts == {True, False}


@pytest.mark.parametrize(("mustard", "kale", "holds"), [(1, 1, True), (2, 0, True), (2, 1, False), (1, 2, False)])
def test_counted_beds_hold_waiting_and_full_strips_together(mustard: int, kale: int, holds: bool) -> None:
    # 2 strips: on 17 July those that wait and those that stand full are at most 2.
    garden = garden_of("mustard", "kale", exact=False)
    wished = {"mustard": mustard, "kale": kale}
    longest = standing_longest(garden)
    taken = [int(n in longest and c.block.strips == wished[c.sowing.crop]) for n, c in enumerate(garden.choices)]
    assert (least_cost(build_program(garden, goals=False), taken) is not None) is holds


@pytest.mark.parametrize(
    ("until", "strips", "free"),
    [
        ("2027-06-26", (), True),  # 21 days before 17 July
        ("2027-06-27", (), False),
        ("2027-06-30", (1,), False),
        ("2027-06-30", (2,), True),
    ],
)
def test_a_green_manure_from_before_the_plan_counts(until: str, strips: tuple[int, ...], free: bool) -> None:
    old = {"bed": "bed", "crop": "mustard", "year": 2027, "until": until, "strips": strips}
    garden = garden_of("kale", history=[old])
    assert (judged(planting("kale", (1,), "2027-07-17", "2027-09-30"), garden=garden) == []) is free
    assert accepted(garden, [number_of(garden, "kale", 2027)]) is free
    counted = garden_of("kale", history=[old], exact=False)
    assert [choice.block.strips for choice in counted.choices] == [1, 2]
    both = least_cost(build_program(counted, goals=False), [0, 1]) is not None
    assert both is (until == "2027-06-26")


def test_hinders_until_the_wait_is_over() -> None:
    garden = garden_of()
    plan = blank_plan(garden.scenario, (DUG_IN,))
    kale = planting("kale", (1, 2), "2027-07-17", "2027-09-30")
    (told,) = GreenManureWait().hinders(garden, plan, kale)
    assert (told.strips, str(told.until), told.other) == ((1,), "2027-07-20", DUG_IN)
    assert said(told) == "strip 1 cleared of mustard on 30 June 2027, which waits until 20 July 2027"
    later = kale.model_copy(update={"start": told.until})
    assert list(GreenManureWait().hinders(garden, plan, later))
    assert not judged(DUG_IN, kale.model_copy(update={"start": DUG_IN.clear.replace(month=7, day=21)}))


def test_hinders_a_green_manure_before_a_planting_that_stands() -> None:
    garden = garden_of()
    plan = blank_plan(garden.scenario, (planting("kale", (1,), "2027-07-17", "2027-09-30"),))
    (told,) = GreenManureWait().hinders(garden, plan, DUG_IN)
    assert said(told) == "strip 1 would wait until 21 July 2027, but kale starts there on 17 July 2027"
    assert told.until is None


def test_says_what_it_asks_and_what_it_found() -> None:
    assert said(WaitClaim("rye", "north bed", 14)) == ("ground in north bed waits 14 days after rye was dug in")
    assert judged(DUG_IN, planting("kale", (1,), "2027-07-01", "2027-09-30")) == [
        "ground in bed waits 21 days after mustard was dug in, but strip 1 cleared of mustard on 30 June 2027 takes "
        "kale on 1 July 2027, after 1 day"
    ]


def test_a_garden_cut_down_to_one_bed_keeps_its_waits() -> None:
    garden = garden_of(beds=[bed(), bed("other")])
    small = garden.restricted("bed", [choice for choice in garden.choices if choice.cells[0] == Cell("bed", 1)], [])
    assert not accepted(replace(small), [number_of(small, "mustard", 2027), number_of(small, "kale", 2027)])


@pytest.mark.parametrize(("until", "free"), [("2027-06-26", True), ("2027-06-27", False), ("2027-07-16", False)])
def test_the_day_on_which_the_wait_after_the_history_is_over(until: str, free: bool) -> None:
    # Kale of 17 July, 21 days after 26 June, is free; after 20 days or 1 it waits. The strip is free by half months: a
    # mustard of 16 July would hold it to the end of the month, so of it only the wait is asked.
    history = [{"bed": "bed", "crop": "mustard", "year": 2027, "until": until, "strips": [1]}]
    garden = garden_of("kale", history=history, exact=True)
    kale = planting("kale", (1,), "2027-07-17", "2027-09-30")
    hindered = list(GreenManureWait().hinders(garden, blank_plan(garden.scenario, ()), kale))
    assert (hindered == []) is free
    assert (judged(kale, garden=garden) == []) is free
    board = build_program(garden, goals=False)
    here = number_of(garden, "kale", 2027, 1)
    if period_of(day(until)) < period_of(kale.start):
        assert accepted(garden, [here], board) is free


def test_a_start_on_the_day_after_digging_in_waits_too() -> None:
    # Kale on 1 July: 8 May + 54 days, that is (54 + 7) / 7 weeks after 1 May; the mustard is dug in on 30 June.
    early = KALE.model_copy(update={"starts": crop("any", "any", starts=[start(61 / 7, 50)]).starts})
    garden = make_garden(scenario(["mustard", "kale"]), catalogue((MUSTARD, early), pathogens=[], neighbours=[]), True)
    kale, mustard = number_of(garden, "kale", 2027, 1), number_of(garden, "mustard", 2027, 1)
    assert garden.choices[kale].sowing.start == day("2027-07-01")
    assert not accepted(garden, [kale, mustard])
    assert accepted(garden, [number_of(garden, "kale", 2027, 2), mustard])
