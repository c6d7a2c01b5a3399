"""Repeatable, by hand: rest and ground across the plan's end, on both sides of what is asked, and two rounds judged."""

from __future__ import annotations

from collections import Counter

import pytest
from hypothesis import given

from rotasolve.domain.plan import Planting
from rotasolve.domain.result import Good, ProvenBest
from rotasolve.domain.scenario import Scenario
from rotasolve.domain.seasons import years_later
from rotasolve.referee import blank_plan, breaches_of
from rotasolve.relations.ground.garden import Garden, make_garden
from rotasolve.solver.cpsat import Limits
from rotasolve.solver.program import build_program
from rotasolve.tasks.placement import find_places
from rotasolve.tasks.rotation import plan_rotation
from tests.helpers.agree import accepted, found_by, number_of, posted
from tests.helpers.by_hand import modest
from tests.helpers.strategies import scenarios
from tests.helpers.tiny import CATALOGUE, bed, planting, scenario

KEY = "repeatable"


def garden_of(years: int, *allowed: str, strips: int = 1, exact: bool = True, **rules: object) -> Garden:
    place = scenario(allowed, [bed(strips=strips)], years, rules={"repeatable": True, **rules})
    return make_garden(place, CATALOGUE, exact)


def test_off_it_asks_nothing() -> None:
    off = make_garden(scenario(["potato"], years=2), CATALOGUE)
    assert posted(off, KEY) == set()
    assert posted(garden_of(2, "potato"), KEY) != set()


@pytest.mark.parametrize(
    ("years", "gap", "fine"), [(2, 2, False), (3, 2, True), (2, 1, True), (1, 1, False), (1, 0, True)]
)
def test_a_crop_comes_again_after_so_many_years(years: int, gap: int, fine: bool) -> None:
    # Potatoes in the first year come again in the year after the last: years - 1 complete years between.
    garden = garden_of(years, "potato", family_gap=gap)
    assert accepted(garden, [number_of(garden, "potato", 2027)]) is fine


@pytest.mark.parametrize(("first", "second", "fine"), [(2027, 2030, True), (2027, 2031, False), (2028, 2031, True)])
def test_two_visits_of_one_family_rest_across_the_end(first: int, second: int, fine: bool) -> None:
    # Five years from 2027: after potatoes in 2031 come those of 2027 in 2032 again, 0 years between; from 2030 on 1
    # year, of which 1 is asked. From 2031 to those of 2028 in 2033 there is 1 too.
    garden = garden_of(5, "potato", "tomato", family_gap=1)
    assert accepted(garden, [number_of(garden, "potato", first), number_of(garden, "potato", second)]) is fine


def test_strip_by_strip_the_strips_count() -> None:
    garden = garden_of(2, "potato", strips=2, family_gap=1, rotation="strip")
    one, other = number_of(garden, "potato", 2027, 1, size=1), number_of(garden, "potato", 2028, 2, size=1)
    assert accepted(garden, [one, other])
    # On one strip: 0 years between 2028 and 2029, when the potatoes of 2027 come again.
    assert not accepted(garden, [one, number_of(garden, "potato", 2028, 1, size=1)])


@pytest.mark.parametrize(("crop", "fine"), [("lettuce", False), ("potato", False), ("kale", True)])
def test_what_stands_over_the_end_leaves_the_strip_free(crop: str, fine: bool) -> None:
    # Sprouts of 26 June 2028 stand to 15 May 2029, when lettuce of 8 May, or potatoes of 17 April, come again; kale
    # comes on 17 July.
    pin = {"bed": "bed", "crop": "sprouts", "start": "2028-06-26", "strips": (1,)}
    rules = {"repeatable": True, "family_gap": 0}
    garden = make_garden(scenario([crop], [bed(strips=1)], 2, rules=rules, pinned=[pin]), CATALOGUE)
    sprouts = [n for n, c in enumerate(garden.choices) if c.sowing.crop == "sprouts" and c.sowing.pinned]
    early = number_of(garden, crop, 2027)
    assert accepted(garden, [*sprouts[:1], early]) is fine


def test_ground_that_is_taken_is_said() -> None:
    garden = garden_of(2, "sprouts", "lettuce", family_gap=0)
    sprouts = planting("sprouts", (1,), "2028-06-26", "2029-05-15", "2029-04-12")
    lettuce = planting("lettuce", (1,), "2027-05-08", "2027-07-31", "2027-07-07")
    assert found_by(garden, KEY, blank_plan(garden.scenario, (sprouts, lettuce))) == [
        "the plan may begin again after 2 years: its end leaves bed free for its start, but strip 1 holds sprouts "
        "until 15 May 2029, and lettuce comes again on 8 May 2029"
    ]


def test_the_rest_is_said() -> None:
    garden = garden_of(2, "potato")
    plan = blank_plan(garden.scenario, (planting("potato", (1,), "2027-04-17", "2027-08-15", "2027-07-26"),))
    assert found_by(garden, KEY, plan) == [
        "the plan may begin again after 2 years: nightshades rest for 2 complete years in bed then too, but after "
        "potato in 2027 comes potato again in 2029: 1 complete year between, 2 needed"
    ]


def test_it_hinders_a_crop_that_could_not_come_again() -> None:
    from rotasolve.domain.place import Question

    place = scenario(["potato"], years=2, rules={"repeatable": True})
    found = find_places(place, CATALOGUE, Question(crop="potato"))
    assert found.places == ()
    assert {h.claim.rule for refusal in found.refusals for h in refusal.hindrances} == {KEY}


TWICE = ("rest", "free-ground")


def test_two_rounds_of_a_plan_are_judged_as_one_plan() -> None:
    """The referee's own rules, on a plan set twice behind itself: no family too soon, no strip taken twice."""
    seen: Counter[bool] = Counter()

    @modest(40)
    @given(scenarios(pins=False))
    def check(place: Scenario) -> None:
        rules = place.rules.model_copy(update={"repeatable": True})
        household = place.household.model_copy(update={"must_have": ()})
        place = place.model_copy(update={"rules": rules, "household": household})
        found = plan_rotation(place, CATALOGUE, Limits(seconds=None, effort=0.3))
        assert isinstance(found, ProvenBest | Good)
        first = found.plan.plantings
        second = tuple(later(one, place.years) for one in first)
        twice = place.model_copy(
            update={"years": 2 * place.years, "rules": rules.model_copy(update={"repeatable": False})}
        )
        broken = breaches_of(make_garden(twice, CATALOGUE), blank_plan(twice, (*first, *second)))
        assert [breach for breach in broken if breach.claim.rule in TWICE] == []
        seen[bool(first)] += 1

    check()
    assert seen[True] > 10


def later(one: Planting, years: int) -> Planting:
    days = ("raise_from", "start", "first_harvest", "last_harvest", "clear")
    moved = {name: day and years_later(day, years) for name in days if (day := getattr(one, name)) is not None}
    return one.model_copy(update=moved)


def test_it_needs_hardly_a_mark() -> None:
    wish = ["garlic", "kale", "lettuce"]
    on, off = (
        build_program(make_garden(scenario(wish, [bed(strips=4)], 3, rules=rules), CATALOGUE))
        for rules in ({"repeatable": True}, {})
    )
    # Marks of visits are those of rest; new are marks of what stands over the end, none for each choice.
    assert len(on.upper) - len(off.upper) < len(off.garden.choices)
