"""The next year: what a plan and its diary leave behind, and three years long that rest is kept across the seams."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from datetime import date, timedelta
from random import Random
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rotasolve.domain.diary import Diary, Happening
from rotasolve.domain.next_year import NextYear
from rotasolve.domain.plan import Plan, Planting
from rotasolve.domain.result import Good, ProvenBest
from rotasolve.domain.scenario import Scenario
from rotasolve.errors import GardenFault
from rotasolve.referee import blank_plan, breaches_of, judge
from rotasolve.relations.ground.as_told import as_told
from rotasolve.relations.ground.following import followed
from rotasolve.relations.ground.garden import Garden, make_garden
from rotasolve.relations.ground.happened import happened_to
from rotasolve.solver.cpsat import Limits
from rotasolve.tasks.next_year import next_year
from rotasolve.tasks.replanning import Keep, plan_on
from rotasolve.tasks.rotation import plan_rotation
from tests.helpers.by_hand import WIDE, modest
from tests.helpers.strategies import scenarios
from tests.helpers.tiny import CATALOGUE, bed, planting, scenario

BY_WORK = Limits(seconds=None, effort=0.4)
LETTUCE = planting("lettuce", (1,), "2027-05-08", "2027-07-31", "2027-07-07")
KALE = planting("kale", (1,), "2027-08-01", "2027-10-15", "2027-09-20")
GARLIC = planting("garlic", (2,), "2027-10-15", "2028-08-15", "2028-07-21")
LEEK = planting("leek", (3,), "2027-07-17", "2028-01-15", "2027-12-25")
SPROUTS = planting("sprouts", (3,), "2027-06-26", "2028-05-15", "2028-04-11", bed="other")
BEDS = [bed("bed", 3), bed("other", 3)]
ALL = ("lettuce", "kale", "garlic", "leek", "sprouts")


def turned(*plantings: Planting, told: tuple[Happening, ...] = (), years: int = 1, **more: Any) -> NextYear:
    place = scenario(ALL, BEDS, 2, **more)
    garden = make_garden(place, CATALOGUE)
    plan = blank_plan(place, tuple(followed(garden, one) for one in plantings))
    return next_year(garden, place, plan, Diary(told), years)


def test_what_is_cleared_is_history_and_what_stands_is_pinned() -> None:
    found = turned(LETTUCE, KALE, GARLIC, LEEK, SPROUTS)
    assert [(p.bed, p.crop, p.year, p.strips, p.until) for p in found.history] == [
        ("bed", "kale", 2027, (1,), None),
        ("bed", "lettuce", 2027, (1,), None),
    ]
    assert [(p.bed, p.crop, p.start, p.strips, p.plants, p.until) for p in found.pinned] == [
        ("bed", "garlic", date(2027, 10, 15), (2,), 4, date(2028, 8, 15)),
        ("bed", "leek", date(2027, 7, 17), (3,), 4, date(2028, 1, 15)),
        ("other", "sprouts", date(2027, 6, 26), (3,), 4, date(2028, 5, 15)),
    ]
    assert (found.scenario.first_year, found.scenario.years) == (2028, 2)
    assert (found.told, found.silent) == (0, 5)


def test_after_two_years_each_planting_is_history_in_the_years_in_which_it_was_a_host() -> None:
    found = turned(GARLIC, LEEK, SPROUTS, years=2)
    assert found.pinned == ()
    # Garlic from October on is a host of the year in which it is lifted, leeks of that in which they grew, sprouts of
    # both: by the docstring of rules/rest.
    assert [(p.crop, p.year, p.until) for p in found.history] == [
        ("leek", 2027, None),
        ("sprouts", 2027, date(2028, 5, 15)),
        ("garlic", 2028, None),
    ]


def test_a_crop_on_the_whole_bed_names_no_strips() -> None:
    both = (LETTUCE, LETTUCE.model_copy(update={"strips": (2, 3), "plants": 8}))
    assert [(p.crop, p.strips) for p in turned(*both).history] == [("lettuce", ())]


def told(day: str, kind: Any, crop: str | None = None, where: str | None = "bed", **more: Any) -> Happening:
    return Happening(date.fromisoformat(day), kind, crop, where, **more)


def test_the_diary_goes_before_the_plan() -> None:
    lines = (
        told("2027-05-20", "sown", "lettuce"),
        told("2027-06-01", "failed", "lettuce"),
        told("2027-10-25", "sown", "garlic"),
        told("2027-12-01", "failed", "garlic", plants=1),
        told("2027-11-30", "cleared", "leek"),
    )
    found = turned(LETTUCE, GARLIC, LEEK, SPROUTS, told=lines)
    # Lettuce stood for 12 days only: it was no host. The leeks are gone before the year is.
    assert [(p.crop, p.year, p.strips) for p in found.history] == [("leek", 2027, (3,))]
    assert [(p.crop, p.start, p.plants) for p in found.pinned] == [
        ("garlic", date(2027, 10, 25), 3),
        ("sprouts", date(2027, 6, 26), 4),
    ]
    assert (found.told, found.silent) == (3, 1)


def test_what_was_in_no_plan_is_history_too() -> None:
    lines = (
        told("2027-05-01", "sown", "potato", strips=(2,)),
        told("2027-08-10", "cleared", "potato", strips=(2,)),
        told("2027-06-01", "disease seen", None, trouble="club root"),
        told("2027-03-01", "manured"),
    )
    found = turned(LETTUCE, told=lines)
    assert [(p.crop, p.year, p.strips) for p in found.history] == [("lettuce", 2027, (1,)), ("potato", 2027, (2,))]
    assert [happening.crop for happening in found.beside] == ["potato", "potato"]
    assert [(one.bed, one.disease, one.since) for one in found.scenario.seen] == [
        ("bed", "club root", date(2027, 6, 1))
    ]
    assert [(m.bed, m.spread) for m in found.manure] == [("bed", date(2027, 3, 1))]


def test_pins_and_demands_of_the_past_go() -> None:
    pins = [
        {"bed": "bed", "crop": "lettuce", "start": "2027-05-08"},
        {"bed": "bed", "crop": "lettuce", "start": "2028-05-08"},
    ]
    must = [{"crop": "lettuce", "plants": 4, "year": 2027}, {"crop": "lettuce", "plants": 4}]
    found = turned(LETTUCE, pinned=pins, must=must)
    assert (found.pins_gone, found.musts_gone) == ((0,), (0,))
    assert [pin.start.year for pin in found.scenario.pinned] == [2028]
    assert [must.year for must in found.scenario.household.must_have] == [None]


@pytest.mark.parametrize("years", [0, 3])
def test_a_year_beyond_the_plan_is_refused(years: int) -> None:
    with pytest.raises(GardenFault, match="comes 2029; the next plan cannot begin later, nor sooner"):
        turned(LETTUCE, years=years)


SEAMS = ("free-ground", "rest", "family-once", "host-years", "green-manure-wait", "pole-side", "bed-shadows")


def failures(garden: Garden, plan: Plan, dice: Random) -> Diary:
    """Return a diary of the plan's first year: some crops fail, some lose a plant, some are cleared a week sooner."""
    lines, end = [], date(plan.first_year + 1, 1, 1)
    for one in plan.plantings:
        if one.start.year != plan.first_year or one.start < garden.scenario.begins or garden.scenario.site.south:
            continue
        lot, days = dice.random(), (one.clear - one.start).days
        day = min(one.start + timedelta(days=dice.randrange(days + 1)), end - timedelta(days=1))
        if lot < 0.25:
            lines.append(Happening(day, "failed", one.crop, one.bed, one.strips))
        elif lot < 0.4 and one.plants > 1:
            lines.append(Happening(day, "failed", one.crop, one.bed, one.strips, plants=1))
        elif lot < 0.5 and one.clear < end:
            lines.append(Happening(one.clear - timedelta(days=min(7, days)), "cleared", one.crop, one.bed, one.strips))
    return Diary(tuple(sorted(lines, key=lambda line: line.day)))


def days_in_season(planting: Planting) -> int:
    """Count day by day how long a planting stands from April to September; the longest season of all."""
    days = Counter[int]()
    for number in range((planting.clear - planting.start).days + 1):
        day = planting.start + timedelta(days=number)
        days[day.year] += 4 <= day.month <= 9
    return max(days.values())


def test_three_years_long_every_plan_holds_and_rest_is_kept_across_the_seams() -> None:
    """Plan, a year with failures, next year, three times over: then all that really stood is judged as one plan."""
    seen: Counter[str] = Counter()

    @modest(15)
    @given(scenarios(pins=False), st.integers(0, 1000))
    def check(place: Scenario, seed: int) -> None:
        household = place.household.model_copy(update={"must_have": ()})
        start = place.model_copy(update={"household": household, "years": 2})
        dice, real, now = Random(seed), list[Planting](), start
        found = plan_rotation(now, WIDE, BY_WORK)
        assert isinstance(found, ProvenBest | Good)
        plan = found.plan
        for _ in range(3):
            garden = make_garden(now, WIDE)
            diary = failures(garden, plan, dice)
            turn = next_year(garden, now, plan, diary)
            happened, left = happened_to(plan.plantings, diary)
            assert left == ()
            stood = [as_told(garden, one) for one in happened]
            # What was pinned was counted in the year before.
            real += [p for p in stood if now.begins <= p.start < turn.scenario.begins]
            seen["failed"] += sum(bool(one.of("failed")) for one in happened)
            seen["pinned"] += len(turn.pinned)
            now = turn.scenario
            later = tuple(p for p in plan.plantings if p.start >= now.begins)
            again = plan_on(make_garden(now, WIDE), blank_plan(now, later), Keep(changed=False), BY_WORK)
            assert isinstance(again.result, ProvenBest | Good), again
            plan = again.result.plan
            assert judge(make_garden(now, WIDE), plan).breaches == ()
            for pin in turn.pinned:
                assert any((p.bed, p.crop, p.start) == (pin.bed, pin.crop, pin.start) for p in plan.plantings)
        whole = start.model_copy(update={"years": 6})
        everything = [p.model_copy(update={"kept": False}) for p in (*real, *plan.plantings) if p.start >= start.begins]
        everything = [p for p in everything if p.first_harvest or p.crop == "clover" or days_in_season(p) > 30]
        grand = blank_plan(whole, tuple(dict.fromkeys(everything)))
        broken = [b for b in breaches_of(make_garden(whole, WIDE), grand) if b.claim.rule in SEAMS]
        assert broken == []
        seen["gardens"] += 1

    check()
    assert seen["gardens"] > 5
    assert seen["failed"] > 5
    assert seen["pinned"] > 5


def test_a_planting_no_line_speaks_of_is_as_planned() -> None:
    garden = make_garden(scenario(ALL, BEDS, 2), CATALOGUE)
    one = followed(garden, LETTUCE)
    (silent,), _ = happened_to((one,), Diary())
    assert as_told(garden, silent) is one
    late = replace(silent, told=(told("2027-05-15", "sown", "lettuce"),))
    assert (as_told(garden, late).start, as_told(garden, late).clear) == (date(2027, 5, 15), date(2027, 7, 31))
