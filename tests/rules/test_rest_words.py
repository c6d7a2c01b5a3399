"""Rest, word for word: what the rule asks and what it finds; and what it does not blame twice."""

from __future__ import annotations

import pytest

from rotasolve.domain.plan import Planting
from rotasolve.referee import blank_plan
from rotasolve.relations.ground.garden import make_garden
from rotasolve.rules.rest import Rest, RestClaim
from tests.helpers.agree import found_by, posted
from tests.helpers.tiny import CATALOGUE, bed, planting, scenario
from tests.helpers.words import said

KEY = "rest"


def judged(*plantings: Planting, **more: object) -> list[str]:
    garden = make_garden(scenario(["potato", "tomato", "garlic", "kale"], years=4, **more), CATALOGUE)  # type: ignore[arg-type]
    return found_by(garden, KEY, blank_plan(garden.scenario, plantings))


def potato(year: int, strips: tuple[int, ...] = (1,)) -> Planting:
    return planting("potato", strips, f"{year}-04-17", f"{year}-08-15", f"{year}-07-26")


@pytest.mark.parametrize(
    ("claim", "told"),
    [
        (
            RestClaim("nightshades", "bed", 0, 2, "family"),
            "nightshades rest for 2 complete years between plantings in bed",
        ),
        (
            RestClaim("nightshades", "bed", 3, 1, "family"),
            "nightshades rest for 1 complete year between plantings in bed, strip 3",
        ),
        (
            RestClaim("club root", "bed", 0, 4, "disease"),
            "hosts of club root stay out of bed for 4 complete years, because the disease is known there",
        ),
        (
            RestClaim("white rot", "bed", 0, 0, "closed"),
            "bed is closed to hosts of white rot, which lasts in the soil without end",
        ),
    ],
)
def test_says_what_it_asks(claim: RestClaim, told: str) -> None:
    assert said(claim) == told


def test_says_what_it_found() -> None:
    assert judged(potato(2028), history=[{"bed": "bed", "crop": "tomato", "year": 2026}]) == [
        "nightshades rest for 2 complete years between plantings in bed, "
        "but tomato in 2026, potato in 2028: 1 complete year between, 2 needed"
    ]
    assert judged(potato(2027), potato(2028)) == [
        "nightshades rest for 2 complete years between plantings in bed, "
        "but potato in 2027, potato in 2028: 0 complete years between, 2 needed"
    ]


def test_says_the_strip_with_rotation_by_strip() -> None:
    assert judged(potato(2027, (1, 2)), potato(2029, (2,)), rules={"rotation": "strip"}) == [
        "nightshades rest for 2 complete years between plantings in bed, strip 2, "
        "but potato in 2027, potato in 2029: 1 complete year between, 2 needed"
    ]


def test_says_southern_garden_years() -> None:
    first = planting("potato", (1,), "2027-10-18", "2028-02-15", "2028-01-26")
    second = planting("potato", (1,), "2028-10-18", "2029-02-15", "2029-01-26")
    assert judged(first, second, latitude=-50) == [
        "nightshades rest for 2 complete years between plantings in bed, "
        "but potato in 2027/28, potato in 2028/29: 0 complete years between, 2 needed"
    ]


def test_says_a_closed_bed_once() -> None:
    garlic = planting("garlic", (1,), "2027-10-15", "2028-08-15", "2028-07-21")
    assert judged(garlic, beds=[bed(diseases=("white rot",))]) == [
        "bed is closed to hosts of white rot, which lasts in the soil without end, but garlic in 2028"
    ]


def test_says_which_year_is_not_on_record() -> None:
    kale = planting("kale", (1,), "2029-07-17", "2029-09-30", "2029-09-05")
    asked = "hosts of club root stay out of bed for 4 complete years, because the disease is known there"
    sick = [bed(diseases=("club root",))]
    assert judged(kale, beds=sick) == [
        f"{asked}, but whatever grew in 2026, which is not on record, kale in 2029: 2 complete years between, 4 needed"
    ]
    garden = make_garden(scenario(["kale"], sick, years=4), CATALOGUE)
    (found,) = Rest().hinders(garden, blank_plan(garden.scenario), kale)
    assert said(found) == "what stood here in 2026 is not on record; hosts of club root may return in 2031"


def test_history_alone_is_not_blamed() -> None:
    old = [{"bed": "bed", "crop": "potato", "year": year} for year in (2024, 2025, 2026)]
    assert judged(potato(2029), history=old) == []
    assert judged(history=old) == []


def test_a_pair_of_crops_is_told_once() -> None:
    # Two plantings of potato in each year are one visit and one breach.
    assert len(judged(potato(2027, (1,)), potato(2027, (2,)), potato(2028, (1,)), potato(2028, (2,)))) == 1


def test_every_planting_that_breaks_it_is_named() -> None:
    # Potatoes on two strips in 2027, and again in 2028: whichever is moved, the others still stand too near.
    four = (potato(2027, (1,)), potato(2027, (2,)), potato(2028, (1,)), potato(2028, (2,)))
    garden = make_garden(scenario(["potato"], years=2), CATALOGUE)
    (breach,) = Rest().breaches(garden, blank_plan(garden.scenario, four))
    assert sorted(breach.plantings, key=lambda one: (one.start, one.strips)) == list(four)


def test_says_both_years_of_a_crop_that_grows_on() -> None:
    kale = planting("kale", (1,), "2029-07-17", "2029-09-30", "2029-09-05")
    sprouts = planting("sprouts", (2,), "2027-06-26", "2028-05-15", "2028-04-11")
    assert judged(sprouts, kale) == [
        "cabbages rest for 2 complete years between plantings in bed, "
        "but sprouts in 2027 and 2028, kale in 2029: 0 complete years between, 2 needed"
    ]


def test_claims_are_posted_for_grounds_that_can_be_visited() -> None:
    beds = [bed(diseases=("club root",)), bed("other")]
    garden = make_garden(scenario(["kale"], beds, years=2), CATALOGUE)
    assert {claim.about for claim in posted(garden, KEY)} == {
        ("cabbages", "bed", "2", "family"),
        ("club root", "bed", "4", "disease"),
        ("cabbages", "other", "2", "family"),
    }
