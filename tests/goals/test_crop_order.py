"""Crop order, by hand: points for what is started where a crop stood that it does badly after."""

from __future__ import annotations

import pytest

from rotasolve.domain.catalogue import Catalogue
from rotasolve.files.crops import load_catalogue
from rotasolve.goals.crop_order import CropOrder
from rotasolve.relations.ground.families import FamilyGraph
from rotasolve.relations.ground.garden import Garden, make_garden
from tests.helpers.agree import lost_both_ways, number_of, plan_of, taken_of
from tests.helpers.tiny import SOURCE, bed, catalogue, scenario
from tests.helpers.words import said

GOAL = CropOrder()


def order(before: str, after: str, evidence: str = "some", **more: object) -> dict[str, object]:
    return {"before": before, "after": after, "effect": "bad", "strength": evidence, "source": SOURCE, **more}


def known(*orders: dict[str, object]) -> Catalogue:
    return catalogue(successions=orders)


def garden_of(shelf: Catalogue, crops: tuple[str, ...], **more: object) -> Garden:
    return make_garden(scenario(crops, years=2, **more), shelf)  # type: ignore[arg-type]


@pytest.mark.parametrize(("evidence", "points"), [("some", 5), ("strong", 10), ("tradition", 0), ("contradictory", 0)])
def test_points_by_hand(evidence: str, points: int) -> None:
    # Kale stands in 2027; potatoes in 2028 follow it, potatoes in 2027 (lifted before it is sown) do not.
    garden = garden_of(known(order("kale", "potato", evidence)), ("kale", "potato"))
    kale, again = (number_of(garden, "kale", year) for year in (2027, 2028))
    potato, next_year = (number_of(garden, "potato", year, 2) for year in (2027, 2028))
    assert lost_both_ways(garden, GOAL, [kale]) == 0
    assert lost_both_ways(garden, GOAL, [kale, potato]) == 0
    assert lost_both_ways(garden, GOAL, [kale, next_year]) == points
    assert lost_both_ways(garden, GOAL, [again, potato]) == 0


@pytest.mark.parametrize(("before", "after", "points"), [("potato", "clover", 5), ("clover", "potato", 0)])
def test_within_a_year_it_counts_what_is_cleared_first(before: str, after: str, points: int) -> None:
    # Potatoes are cleared on 15 August, clover is sown on 21 August.
    garden = make_garden(scenario(["potato", "clover"]), known(order(before, after)))
    both = [number_of(garden, crop, 2027) for crop in ("potato", "clover")]
    assert lost_both_ways(garden, GOAL, both) == points


def test_what_stands_at_the_same_time_follows_nothing() -> None:
    # Lettuce to 31 July, kale from 17 July: they share a half month.
    garden = make_garden(scenario(["lettuce", "kale"]), known(order("lettuce", "kale")))
    both = [number_of(garden, "lettuce", 2027, 1), number_of(garden, "kale", 2027, 2)]
    assert lost_both_ways(garden, GOAL, both) == 0


def test_a_crop_is_charged_once_a_year_and_level_however_much_stood_before() -> None:
    shelf = known(order("kale", "potato"), order("lettuce", "potato"), order("bean", "potato", "strong"))
    garden = garden_of(shelf, ("kale", "lettuce", "bean", "potato"), beds=[bed(strips=4)])
    before = [number_of(garden, crop, 2027, strip) for strip, crop in enumerate(("kale", "lettuce", "bean"), 1)]
    after = [number_of(garden, "potato", 2028, strip) for strip in (1, 2)]
    assert lost_both_ways(garden, GOAL, [*before[:2], *after]) == 5
    assert lost_both_ways(garden, GOAL, [*before, *after]) == 15


def test_two_beds_are_two_grounds_and_two_strips_if_they_are_remembered_so() -> None:
    shelf, crops = known(order("kale", "potato")), ("kale", "potato")
    garden = garden_of(shelf, crops, beds=[bed(), bed("other")])
    kale = number_of(garden, "kale", 2027)
    assert lost_both_ways(garden, GOAL, [kale, number_of(garden, "potato", 2028, bed="other")]) == 0
    garden = garden_of(shelf, crops, rules={"rotation": "strip"})
    kale = number_of(garden, "kale", 2027)
    assert lost_both_ways(garden, GOAL, [kale, number_of(garden, "potato", 2028, 2)]) == 0
    assert lost_both_ways(garden, GOAL, [kale, number_of(garden, "potato", 2028, 1)]) == 5


def test_history_counts() -> None:
    for year, points in ((2026, 5), (2025, 0)):
        history = [{"bed": "bed", "crop": "kale", "year": year}]
        garden = garden_of(known(order("kale", "potato")), ("potato",), history=history)
        assert lost_both_ways(garden, GOAL, [number_of(garden, "potato", 2027)]) == points
    # Garlic until 20 June 2027 is a host of that year: kale is sown after it, lettuce before it is cleared.
    history = [{"bed": "bed", "crop": "garlic", "year": 2026, "until": "2027-06-20", "strips": [1]}]
    shelf = known(order("garlic", "kale"), order("garlic", "lettuce"))
    garden = garden_of(shelf, ("kale", "lettuce"), history=history)
    assert lost_both_ways(garden, GOAL, [number_of(garden, "kale", 2027, 2)]) == 5
    assert lost_both_ways(garden, GOAL, [number_of(garden, "lettuce", 2027, 2)]) == 0


def test_families_and_known_diseases_are_left_to_rest() -> None:
    shelf = known(order("leek", "garlic"), order("kale", "potato", only_where=["club root"]))
    garden = garden_of(shelf, ("kale", "potato", "leek", "garlic"), rules={"family_gap": 0})
    leek, kale = number_of(garden, "leek", 2027), number_of(garden, "kale", 2027, 2)
    assert lost_both_ways(garden, GOAL, [leek, number_of(garden, "garlic", 2028)]) == 0
    assert lost_both_ways(garden, GOAL, [kale, number_of(garden, "potato", 2028)]) == 0


def test_says_what_follows_what_and_why() -> None:
    garden = garden_of(known(order("kale", "potato", note="Scab.")), ("kale", "potato"))
    chosen = [number_of(garden, "kale", 2027), number_of(garden, "potato", 2028)]
    assert said(GOAL.score(garden, plan_of(garden, taken_of(garden, chosen)))) == (
        "a crop follows one that it does badly after 1 time: potato after kale in bed 2028 (some evidence: scab)"
    )
    assert said(GOAL.score(garden, plan_of(garden, taken_of(garden, [])))) == (
        "a crop follows one that it does badly after 0 times"
    )


def test_the_shipped_orders_are_those_of_the_trials() -> None:
    # The published orders with some or strong evidence that hold anywhere: facts read from the sources that
    # crops/families.yaml names beside each (URI-309, PNW-BEETSCAB, AMF-MAIZE, UCIPM-BASAL, UCIPM-PEPVERT).
    shipped = load_catalogue()
    # What holds for a crop holds for its kinds: tests/crops/test_kinds.py.
    found = FamilyGraph(shipped).bad_orders(frozenset(crop.name for crop in shipped.crops if crop.kind_of is None))
    assert found["beetroot", "some"] == {"potato", "carrot"}
    assert found["onion", "some"] >= {"cabbage", "swede", "beetroot", "bush bean"}
    assert found["sweet corn", "strong"] >= {"kale", "beetroot", "radish"}
    # Only where a disease is known, or of one family, or tradition alone, or while residues are fresh.
    assert not {"garlic", "cucumber", "tomato", "carrot"} & {after for after, _ in found}
