"""Where a crop can go: worked by hand, and every place tried by pinning it, the plan staying as it is."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from rotasolve.domain.place import Place, Places, Question
from rotasolve.domain.plan import Plan, Planting
from rotasolve.domain.scenario import PinnedPlanting, Scenario
from rotasolve.errors import GardenFault
from rotasolve.referee import blank_plan, judge
from rotasolve.relations.ground.garden import Garden, make_garden
from rotasolve.relations.ground.plantings import choice_of, fits
from rotasolve.rules import WISHES
from rotasolve.solver.cpsat import Limits
from rotasolve.solver.program import Program, build_program, loosened
from rotasolve.solver.search import Found, Search
from rotasolve.tasks.placement import find_places
from tests.helpers.agree import least_cost
from tests.helpers.strategies import NAMES, gardens_with_plans
from tests.helpers.tiny import CATALOGUE, bed, catalogue, crop, figure, planting, scenario, start
from tests.helpers.words import said
from tests.rules.test_hindrances import claims_it_cannot_meet, sound_part

TOMATO_HERE = {"bed": "bed", "crop": "tomato", "year": 2025}


def ask(wish: Scenario, name: str, plan: Plan | None = None, **more: Any) -> Places:
    return find_places(wish, CATALOGUE, Question(crop=name, **more), plan)


def short(place: Place) -> tuple[str, tuple[int, ...], str, int]:
    return place.planting.bed, place.planting.strips, str(place.planting.start), place.planting.plants


def sentences(found: Places, rule: str | None = None) -> list[str]:
    return [
        said(hindrance)
        for refusal in found.refusals
        for hindrance in refusal.hindrances
        if rule in (None, hindrance.claim.rule)
    ]


def test_a_crop_goes_where_nothing_stands_against_it() -> None:
    # Two empty strips of 4 plants; one start day, 15 May (2 weeks after the last frost), half-way or whole.
    found = ask(scenario(["tomato"]), "tomato")
    assert [short(place) for place in found.places] == [("bed", (1, 2), "2027-05-15", 8)]
    (place,) = found.places
    # 8 plants of 0.5 kg; nothing else in the bed, before or after.
    assert place.planting.harvest.typical_kg == 4
    assert (place.free_strips, place.free_until, place.rest_years, place.shade) == ((), None, None, None)
    assert found.refusals == ()


def test_the_plants_asked_for_get_as_many_strips_as_they_need_and_no_more() -> None:
    # 5 plants need 2 rows of 4, so 2 of 3 strips: two ways to lie; they yield 5 x 0.5 kg.
    found = ask(scenario(["tomato"], [bed(strips=3)]), "tomato", plants=5)
    assert [short(place) for place in found.places] == [
        ("bed", (1, 2), "2027-05-15", 5),
        ("bed", (2, 3), "2027-05-15", 5),
    ]
    assert found.places[0].planting.rows == 2
    assert found.places[0].planting.harvest.typical_kg == 2.5
    assert [place.free_strips for place in found.places] == [(3,), (1,)]


def test_best_first_is_the_most_harvest_then_the_longest_rest() -> None:
    # Tomatoes in "old" in 2024: two complete years to 2027 are enough, three are wished. "small" holds one strip less.
    beds = [bed("small", 1), bed("old", 2), bed("new", 2)]
    wish = scenario(["tomato"], beds, history=[{"bed": "old", "crop": "tomato", "year": 2024}])
    assert [place.planting.bed for place in ask(wish, "tomato").places] == ["new", "old", "small"]
    assert [place.rest_years for place in ask(wish, "tomato").places] == [None, 2, None]


def test_the_year_in_which_a_family_may_return_is_told() -> None:
    found = ask(scenario(["tomato"], history=[TOMATO_HERE]), "potato")
    assert sentences(found) == ["tomato stood here in 2025; nightshades may return in 2028"]
    assert found.refusals[0].hindrances[0].until == date(2027, 12, 31)
    later = ask(scenario(["tomato"], years=2, history=[TOMATO_HERE]), "potato")
    assert [(place.planting.start.year, place.planting.bed) for place in later.places] == [(2028, "bed")]


def test_a_later_planting_of_the_family_is_told_too() -> None:
    wish = scenario(["potato"], years=3)
    plan = blank_plan(wish, (planting("potato", (1,), "2029-04-17", "2029-08-15", "2029-07-26"),))
    found = ask(wish, "tomato", plan, year=2027)
    assert sentences(found) == [
        "potato is planned here in 2029; nightshades need 2 complete years between and may come in 2032 again"
    ]
    assert found.refusals[0].hindrances[0].other == plan.plantings[0]


def test_ground_and_heights_are_told_with_their_days_and_all_of_them() -> None:
    wish = scenario(["lettuce", "tomato"], [bed(strips=2)])
    plan = blank_plan(
        wish,
        (
            planting("lettuce", (1,), "2027-05-08", "2027-07-31", "2027-07-07"),
            planting("kale", (1,), "2027-08-01", "2027-09-30", "2027-09-18"),
        ),
    )
    assert sentences(ask(wish, "tomato", plan)) == [
        "strip 1 held by lettuce from 8 May 2027 to 31 July 2027",
        "strip 1 held by kale from 1 August 2027 to 30 September 2027",
        "in strip 2 it (tall, 150 cm) would stand south of lettuce (low, 30 cm) until 31 July 2027",
        "in strip 2 it (tall, 150 cm) would stand south of kale (middle, 70 cm) until 15 September 2027",
    ]


def test_the_lower_crop_is_told_what_stands_on_its_sunny_side() -> None:
    wish = scenario(["lettuce", "tomato"], [bed(strips=2)], latitude=-50)
    plan = blank_plan(wish, (planting("tomato", (2,), "2027-11-15", "2028-03-15", "2028-01-14"),))
    found = ask(wish, "lettuce", plan)
    assert sentences(found, "pole-side") == [
        "in strip 1 tomato (tall, 150 cm) would stand north of it (low, 30 cm) until 31 January 2028"
    ]


def test_a_shadow_from_bed_to_bed_is_told_with_its_reach() -> None:
    # 150 - 30 cm x tan(50 - lean) over 10 cm: lean in early May and later is at least 14 degrees.
    beds = [bed("south", 1, east=0, north=0), bed("north", 1, east=0, north=70)]
    wish = scenario(["lettuce", "tomato"], beds)
    plan = blank_plan(wish, (planting("lettuce", (1,), "2027-05-08", "2027-07-31", "2027-07-07", bed="north"),))
    found = ask(wish, "tomato", plan)
    assert [place.planting.bed for place in found.places] == []
    (told,) = sentences(Places(question=found.question, places=(), refusals=found.refusals[:1]), "bed-shadows")
    assert told.startswith("its shadow (tall, 150 cm) would reach lettuce in north, ")
    assert told.endswith(" cm across a 10 cm gap about 1 May 2027")


@pytest.mark.parametrize(
    ("crop_more", "told"),
    [
        ({"spacing_in_row": figure(150, "cm")}, "needs 1.5 m in the row, 1.2 m free"),
        ({"spacing_between_rows": figure(180, "cm")}, "needs 1.8 m between rows, 1.2 m free"),
        ({"least_rows": figure(4, "rows")}, "needs a block of 4 rows 60 cm apart, 1.2 m free"),
    ],
)
def test_a_bed_too_small_says_what_is_needed_and_what_is_free(crop_more: dict[str, Any], told: str) -> None:
    wide = catalogue([crop("maize", "grasses", 200, **crop_more)])
    found = find_places(scenario(["maize"]), wide, Question(crop="maize"))
    assert sentences(found) == [told]


def test_more_plants_than_a_bed_holds_says_how_many_it_holds() -> None:
    assert sentences(ask(scenario(["tomato"]), "tomato", plants=9)) == ["9 plants, the whole bed holds 8"]


def test_a_day_out_of_season_says_when_it_opens_here_and_under_other_covers() -> None:
    # Last frost 1 May: tomatoes from 15 May in the open, 21 days sooner in the tunnel; nights of 1 degC.
    cool = crop(
        "tomato",
        "nightshades",
        150,
        starts=[start(2, 60, 4, way="set out")],
        hardiness={"level": "tender", "source": "common-practice"},
        least_night=figure(1, "degC"),
    )
    beds = [bed("open"), bed("house", cover="tunnel")]
    found = find_places(scenario(["tomato"], beds), catalogue([cool]), Question(crop="tomato", on=date(2027, 4, 28)))
    assert [place.planting.bed for place in found.places] == ["house"]
    assert sentences(found) == [
        "tomato is set out from 15 May 2027 to 29 May 2027 in open ground: 2 weeks after the last frost, 1 May (1 year "
        "in 2 has one after it); from 24 April 2027 to 29 May 2027 under a tunnel: 2 weeks after the last frost, 1 May "
        "(1 year in 2 has one after it), 21 days earlier in the tunnel; it wants nights of 1 degC or more"
    ]
    assert found.refusals[0].hindrances[0].until == date(2027, 5, 14)


def test_a_disease_is_named_and_a_closed_bed_says_for_good() -> None:
    sick = scenario(
        ["kale", "garlic"],
        [bed(diseases=("club root", "white rot"), history_since=2023)],
        2,
        history=[{"bed": "bed", "crop": "kale", "year": 2024}],
    )
    assert sentences(ask(sick, "kale", year=2027)) == [
        "kale stood here in 2024; hosts of club root may return in 2029",
    ]
    assert sentences(ask(sick, "garlic", year=2027)) == [
        "white rot is known here and lasts in the soil without end, hosts stay out for good"
    ]


def test_what_still_stands_from_before_the_plan_is_told() -> None:
    held = [{"bed": "bed", "crop": "kale", "year": 2026, "until": "2027-05-31", "strips": [2]}]
    found = ask(scenario(["tomato"], history=held), "tomato")
    assert [short(place) for place in found.places] == [("bed", (1,), "2027-05-15", 4)]
    full = [{"bed": "bed", "crop": "kale", "year": 2026, "until": "2027-05-31"}]
    assert sentences(ask(scenario(["tomato"], history=full), "tomato")) == [
        "strips 1-2 held by kale from before the plan until 31 May 2027"
    ]


def test_fixed_plantings_count_when_there_is_no_plan() -> None:
    pins = [
        {"bed": "bed", "crop": "lettuce", "start": "2027-05-08", "strips": [2]},
        {"bed": "bed", "crop": "bean", "start": "2027-05-29"},
    ]
    found = ask(scenario(["tomato"], pinned=pins), "tomato")
    assert [short(place) for place in found.places] == [("bed", (1,), "2027-05-15", 4)]
    assert [(pin.crop, pin.bed) for pin in found.loose_pins] == [("bean", "bed")]


def test_the_noon_shade_of_a_neighbour_is_told() -> None:
    # Kale 70 cm and potato 60 cm are both of the middle class, so nothing forbids kale south of potatoes.
    wish = scenario(["potato", "kale"], [bed(strips=2)])
    plan = blank_plan(wish, (planting("kale", (2,), "2027-07-17", "2027-09-30", "2027-09-05"),))
    shades = {place.planting.strips: place.shade for place in ask(wish, "potato", plan).places}
    (shade,) = shades.values()
    assert shade is not None
    assert (shade.crop, shade.bed, shade.month) == ("kale", "bed", 8)
    # 10 cm x tan(50 - 13.9 degrees on 15 August) = 7.3 cm; the simple rule's declination is 13.8 there.
    assert shade.depth_cm == pytest.approx(7.3, abs=0.3)


def test_questions_that_cannot_be_asked_say_why() -> None:
    wish = scenario(["tomato"])
    with pytest.raises(GardenFault, match="the crop 'tomatoe' is not known"):
        ask(wish, "tomatoe")
    with pytest.raises(GardenFault, match="2031 lies outside the planned years, 2027; ask for a day within them"):
        ask(wish, "tomato", on=date(2031, 5, 1))
    with pytest.raises(GardenFault, match="tomato is never sown in place; leave the way out or ask for another one"):
        ask(wish, "tomato", way="sown in place")
    stranger = blank_plan(wish, (planting("kale", (1,), "2027-07-17", "2027-09-30", bed="elsewhere"),))
    with pytest.raises(GardenFault, match="the bed 'elsewhere'"):
        ask(wish, "tomato", stranger)


@st.composite
def questions(draw: st.DrawFn) -> tuple[Garden, Plan, Question]:
    garden, chosen = draw(gardens_with_plans())
    plan = sound_part(garden, chosen)
    plants = draw(st.sampled_from([None, 1, 4, 6]))
    return garden, plan, Question(crop=draw(st.sampled_from(NAMES)), plants=plants)


@settings(max_examples=60, deadline=None)
@given(questions(), st.data())
def test_every_place_offered_gives_a_refereed_plan_when_pinned_and_solved(
    question: tuple[Garden, Plan, Question], data: st.DataObject
) -> None:
    garden, plan, asked = question
    found = find_places(garden.scenario, CATALOGUE, asked, plan)
    assume(found.places)
    place = data.draw(st.sampled_from(found.places))
    beside = blank_plan(garden.scenario, (*plan.plantings, place.planting))
    assert not [reason for reason in judge(garden, beside).breaches if reason.claim.rule not in WISHES]
    household = garden.scenario.household.model_copy(update={"must_have": ()})
    wish = garden.scenario.model_copy(
        update={"pinned": tuple(pin_of(p) for p in beside.plantings), "household": household}
    )
    solved = Search(make_garden(wish, CATALOGUE, exact=True), Limits(effort=2)).run()
    assert isinstance(solved, Found)
    assert solved.plan.verdict.breaches == ()
    # Two pins of one sowing in one bed are one planting on the ground, and may be cut into blocks another way.
    alike = (place.planting.bed, place.planting.crop, place.planting.start)
    taken = {strip for p in solved.plan.plantings if (p.bed, p.crop, p.start) == alike for strip in p.strips}
    assert set(place.planting.strips) <= taken


def pin_of(p: Planting) -> PinnedPlanting:
    """Pin a planting; its plants are not named, for a part empty row is filled when it is planned anew."""
    return PinnedPlanting(bed=p.bed, crop=p.crop, start=p.start, strips=p.strips, way=p.way, until=p.clear)


@settings(max_examples=60, deadline=None)
@given(questions(), st.data())
def test_every_strip_refused_is_forbidden_by_each_claim_named_alone(
    question: tuple[Garden, Plan, Question], data: st.DataObject
) -> None:
    garden, plan, asked = question
    found = find_places(garden.scenario, CATALOGUE, asked, plan)
    assume(found.refusals)
    refusal = data.draw(st.sampled_from(found.refusals))
    hindrance = data.draw(st.sampled_from(refusal.hindrances))
    wanted = garden.scenario.model_copy(update={"also_allowed": (*garden.scenario.also_allowed, asked.crop)})
    wider = replace(garden, scenario=wanted)
    # On one of the strips it names; a planting too big for the bed is refused whole.
    strip = data.draw(st.sampled_from(hindrance.strips))
    strips = refusal.planting.strips if hindrance.claim.rule == "spacing-capacity" else (strip,)
    there = refusal.planting.model_copy(update={"strips": strips})
    assert hindrance.claim in claims_it_cannot_meet(wider, plan, there)


@settings(max_examples=60, deadline=None)
@given(questions())
def test_places_and_refusals_leave_no_bed_and_year_out(question: tuple[Garden, Plan, Question]) -> None:
    garden, plan, asked = question
    found = find_places(garden.scenario, CATALOGUE, asked, plan)
    south = garden.scenario.site.south
    served = {(p.planting.bed, p.planting.start.year - (south and p.planting.start.month < 7)) for p in found.places}
    refused = {(refusal.bed, refusal.year) for refusal in found.refusals}
    assert not served & refused
    every = {(name, year) for name in garden.beds for year in garden.scenario.planned_years}
    # A winter crop's autumn window in the last year would be harvested after the plan: neither offered nor refused.
    assert every - served - refused <= {(name, garden.scenario.planned_years[-1]) for name in garden.beds}
    for place in found.places:
        assert fits(garden, place.planting)
        assert asked.plants in (None, place.planting.plants)
        assert place.planting.start + timedelta(0) <= place.planting.clear


def test_a_refused_claim_is_really_posted() -> None:
    # The helper above would pass on a claim nobody posts if it judged no rows at all.
    wish = scenario(["tomato"], history=[TOMATO_HERE])
    garden = make_garden(wish, CATALOGUE, exact=True)
    there = planting("tomato", (1,), "2027-05-15", "2027-09-15", "2027-07-14", way="set out")
    small = replace(garden, only=(choice_of(garden, there),))
    program = loosened(build_program(small, goals=False))
    assert least_cost(Program(small, program.upper, program.rows, {}, 0), [1]) is None
    assert {claim.rule for claim in claims_it_cannot_meet(garden, blank_plan(wish), there)} == {"rest"}
