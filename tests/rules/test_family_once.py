"""Family once, by hand: the same strip bears a family once in a growing season, and quick crops may be let off."""

from __future__ import annotations

from collections.abc import Iterable

import pytest

from rotasolve.domain.catalogue import Catalogue
from rotasolve.domain.plan import Planting
from rotasolve.files.crops import load_catalogue
from rotasolve.referee import blank_plan
from rotasolve.relations.ground.garden import Garden, make_garden
from rotasolve.rules.family_once import FamilyOnce, KinInSeason, OnceClaim
from rotasolve.solver.program import build_program
from rotasolve.views.words.look import Look
from rotasolve.views.words.rules import say
from tests.helpers.agree import accepted, found_by, number_of, plan_of, posted, taken_of
from tests.helpers.tiny import CATALOGUE, CROPS, bed, catalogue, crop, planting, scenario, start
from tests.helpers.words import said

KEY = "family-once"
TURNIP = crop("turnip", "cabbages", 30, starts=[start(14, 45)])
"""7 August, after radishes and rocket."""
QUICK = catalogue([*CROPS, TURNIP])


def garden_of(allowed: Iterable[str], years: int = 1, shelf: Catalogue = CATALOGUE, **more: object) -> Garden:
    return make_garden(scenario(allowed, years=years, **more), shelf)  # type: ignore[arg-type]


def quick_garden(**more: object) -> Garden:
    return garden_of(["radish", "rocket", "turnip"], 1, QUICK, **more)


def chosen(garden: Garden, *crops: str, strip: int = 1) -> list[int]:
    return [number_of(garden, name, 2027, strip) for name in crops]


def test_a_family_may_not_follow_itself_on_a_strip_in_one_season() -> None:
    # Radishes to 15 June, rocket from 19 June, turnips from 7 August: the ground is free each time.
    garden = quick_garden()
    for pair in (("radish", "turnip"), ("rocket", "turnip"), ("radish", "rocket")):
        assert not accepted(garden, chosen(garden, *pair))
    assert accepted(garden, chosen(garden, "radish"))


def test_side_by_side_a_family_is_welcome() -> None:
    garden = quick_garden()
    assert accepted(garden, [*chosen(garden, "radish"), *chosen(garden, "turnip", strip=2)])


def test_another_family_may_follow() -> None:
    # Lettuce, a daisy, to 31 July; turnips from 7 August.
    garden = garden_of(["lettuce", "turnip"], shelf=QUICK)
    assert accepted(garden, chosen(garden, "lettuce", "turnip"))


def test_quick_crops_may_follow_one_another_if_the_grower_says_so() -> None:
    garden = quick_garden(rules={"family_once": "except quick crops"})
    assert accepted(garden, chosen(garden, "radish", "rocket"))
    for pair in (("radish", "turnip"), ("rocket", "turnip")):
        assert not accepted(garden, chosen(garden, *pair))
    assert not accepted(garden, chosen(garden, "radish", "rocket", "turnip"))


def test_it_may_be_switched_off() -> None:
    garden = quick_garden(rules={"family_once": False})
    assert accepted(garden, chosen(garden, "radish", "rocket", "turnip"))


@pytest.mark.parametrize("asked", [True, False, "except quick crops"])
def test_hosts_of_a_known_disease_never_follow_one_another(asked: object) -> None:
    sick = [bed(diseases=("club root",), history_since=2000)]
    garden = quick_garden(beds=sick, rules={"family_once": asked})
    assert not accepted(garden, chosen(garden, "radish", "rocket"))
    assert accepted(garden, chosen(garden, "radish"))


def test_green_manures_that_are_no_hosts_may_follow() -> None:
    # Beans to 31 July, clover from 21 August, and clover before beans next year is no matter of this rule.
    garden = garden_of(["bean", "clover"])
    assert accepted(garden, chosen(garden, "bean", "clover"))


def test_a_winter_crop_is_judged_in_the_season_it_grows_in() -> None:
    # Garlic lifted in July 2028 and leeks set out on 16 August: both are hosts of 2028.
    garden = garden_of(["garlic", "leek"], 3)
    garlic = planting("garlic", (1,), "2027-10-15", "2028-08-15", "2028-07-21")
    leek = planting("leek", (1,), "2028-08-16", "2029-01-15", "2028-12-25")
    assert found_by(garden, KEY, blank_plan(garden.scenario, (garlic, leek))) == [
        "each strip of bed bears onions once in a growing season, but garlic and leek both grow on strip 1 in 2028"
    ]
    # Leeks of 2027 and garlic set in their place in October 2027 meet in no season: rest alone is against it.
    before = planting("leek", (1,), "2027-06-15", "2027-10-10", "2027-09-20")
    assert found_by(garden, KEY, blank_plan(garden.scenario, (before, garlic))) == []


def test_history_takes_the_strips_it_names() -> None:
    # Sprouts of 2026 that stand on strip 1 to May 2027 are hosts of 2027 too.
    old = [{"bed": "bed", "crop": "sprouts", "year": 2026, "until": "2027-05-15", "strips": (1,)}]
    garden = garden_of(["kale"], history=old, rules={"family_gap": 0})
    assert [accepted(garden, chosen(garden, "kale", strip=strip)) for strip in (1, 2)] == [False, True]
    # Cleared a half month sooner they are not.
    garden = garden_of(["kale"], history=[{**old[0], "until": "2027-04-30"}], rules={"family_gap": 0})
    assert accepted(garden, chosen(garden, "kale"))


def test_quick_crops_of_the_history() -> None:
    old = [{"bed": "bed", "crop": "radish", "year": 2027, "until": "2027-05-31", "strips": (1,)}]
    garden = quick_garden(history=old, rules={"family_once": "except quick crops"})
    assert accepted(garden, chosen(garden, "rocket"))
    assert not accepted(garden, chosen(garden, "turnip"))
    assert accepted(garden, [*chosen(garden, "rocket"), *chosen(garden, "turnip", strip=2)])


def test_counted_beds_hold_it_as_strips_of_a_season() -> None:
    # Three strips: radishes on two and turnips on two would be four of the family in one season.
    garden = make_garden(scenario(["radish", "turnip"], [bed(strips=3)]), QUICK, exact=False)
    rows = [row for row in build_program(garden, goals=False).rows if row.claim == OnceClaim("cabbages", "bed", False)]
    # One, two or three strips of each.
    strips = {number: choice.block.strips for number, choice in enumerate(garden.choices)}
    assert sorted(strips.values()) == [1, 1, 2, 2, 3, 3]
    assert [(dict(row.terms), row.high) for row in rows] == [(strips, 3)]


def test_the_whole_sentence() -> None:
    assert said(OnceClaim("cabbages", "bed", False)) == "each strip of bed bears cabbages once in a growing season"
    assert said(OnceClaim("club root", "bed", True)) == (
        "each strip of bed bears hosts of club root, which is known there, once in a growing season"
    )
    assert (
        say(KinInSeason((1, 2), "kale", True, 2027, False), Look())
        == "kale of the same group is planned on strips 1-2 in 2027"
    )
    assert (
        say(KinInSeason((2,), "kale", False, 2027, True), Look()) == "kale of the same group grew on strip 2 in 2027/28"
    )
    old = [{"bed": "bed", "crop": "radish", "year": 2027, "until": "2027-05-31"}]
    garden = quick_garden(history=old)
    plan = plan_of(garden, taken_of(garden, chosen(garden, "turnip", strip=2)))
    assert found_by(garden, KEY, plan) == [
        "each strip of bed bears cabbages once in a growing season, "
        "but radish, from before the plan, and turnip both grow on strip 2 in 2027"
    ]


def _radish(strips: tuple[int, ...], begin: str, clear: str) -> Planting:
    return planting("radish", strips, begin, clear, clear)


def test_bars_the_shared_strips_until_the_year_is_over() -> None:
    garden = quick_garden()
    first, more = _radish((1,), "2027-05-08", "2027-06-15"), _radish((1, 2), "2027-07-01", "2027-08-15")
    (found,) = FamilyOnce().hinders(garden, blank_plan(garden.scenario, (first,)), more)
    assert (found.strips, str(found.until), found.other) == ((1,), "2027-12-31", first)
    (breach,) = FamilyOnce().breaches(garden, blank_plan(garden.scenario, (more, first)))
    assert breach.plantings == (first, more)


def test_claims_are_posted_where_two_of_a_family_can_meet() -> None:
    # Garlic alone meets no other of its family; beds closed to it by white rot bear none.
    beds = [bed(strips=1, diseases=("club root",)), bed("other", strips=1)]
    garden = garden_of(["radish", "turnip", "garlic"], 2, QUICK, beds=beds)
    assert posted(garden, KEY) == {
        OnceClaim("cabbages", "bed", False),
        OnceClaim("cabbages", "other", False),
        OnceClaim("club root", "bed", True),
    }


def test_the_shipped_quick_crops_are_salads_radishes_and_spinach() -> None:
    shelf = load_catalogue()
    quick = {crop.name for crop in shelf.crops if crop.again_in_season is not None}
    assert quick == {"leaf lettuce", "head lettuce", "radish", "rocket", "spinach"}
