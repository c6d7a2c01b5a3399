"""The graph of families, small and as shipped: who rests with whom, which troubles are shared, who helps whom."""

from __future__ import annotations

from fractions import Fraction
from itertools import combinations
from typing import Any

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from rotasolve.files.crops import load_catalogue
from rotasolve.relations.ground.families import FamilyGraph, RestGroup
from tests.helpers.tiny import CATALOGUE, SOURCE, catalogue

GRAPH = FamilyGraph(CATALOGUE)
SHIPPED = load_catalogue()
SHIPPED_GRAPH = FamilyGraph(SHIPPED)
EVERYTHING = frozenset(crop.name for crop in SHIPPED.crops)


def graph(**more: Any) -> FamilyGraph:
    return FamilyGraph(catalogue(**more))


def sick(name: str, *hosts: str, **more: Any) -> dict[str, Any]:
    return {"name": name, "hosts": hosts, "source": SOURCE, **more}


def test_a_name_means_a_crop_or_a_family() -> None:
    assert GRAPH.crops_meant("kale") == ("kale",)
    assert GRAPH.crops_meant("family:nightshades") == ("potato", "tomato")
    assert GRAPH.crops_meant("melon") == ()
    assert GRAPH.crops_meant("family:cucurbits") == ()


def test_families_rest_with_the_catalogues_gaps() -> None:
    groups = {group.name: group for group in GRAPH.family_groups()}
    assert groups["nightshades"] == RestGroup("nightshades", frozenset({"potato", "tomato"}), 2, 3)
    # Clover does not count for rest.
    assert groups["legumes"].crops == {"bean"}


def test_the_grower_may_replace_the_gaps() -> None:
    assert {(group.gap, group.gap_wished) for group in GRAPH.family_groups(gap=1, gap_wished=4)} == {(1, 4)}
    # The wish is never shorter than the rule.
    assert {(group.gap, group.gap_wished) for group in GRAPH.family_groups(gap=5)} == {(5, 5)}


def test_a_family_may_need_no_rest() -> None:
    families = [
        {"name": crop.family, "common_name": crop.family, "source": SOURCE, "rest": crop.family != "daisies"}
        for crop in {crop.family: crop for crop in CATALOGUE.crops}.values()
    ]
    names = {group.name for group in graph(families=families).family_groups()}
    assert names == {"cabbages", "nightshades", "onions", "legumes"}


def test_one_source_is_enough_to_close_the_ground() -> None:
    found = graph(pathogens=[sick("rot", "kale", gap_low=3), sick("rot", "garlic", closes=True)]).disease_group("rot")
    assert found.closes
    assert found.crops == {"kale", "garlic"}


def test_good_neighbours_need_evidence() -> None:
    def remark(one: str, other: str, effect: str, evidence: str) -> dict[str, str]:
        return {"one": one, "other": other, "effect": effect, "evidence": evidence, "source": SOURCE}

    known = graph(
        neighbours=[
            remark("tomato", "lettuce", "good", "strong"),
            remark("kale", "lettuce", "good", "some"),
            remark("lettuce", "kale", "good", "strong"),
            remark("bean", "lettuce", "good", "tradition"),
            remark("garlic", "lettuce", "good", "contradictory"),
            remark("potato", "lettuce", "bad", "strong"),
        ]
    )
    everything = frozenset(crop.name for crop in CATALOGUE.crops)
    assert known.pairs_beside("good", everything) == {("kale", "lettuce"): "strong", ("lettuce", "tomato"): "strong"}
    assert known.pairs_beside("good", everything - {"tomato"}) == {("kale", "lettuce"): "strong"}
    assert known.pairs_beside("bad", everything) == {("lettuce", "potato"): "strong"}


def test_a_family_is_no_neighbour_of_itself() -> None:
    itself = {"one": "family:nightshades", "other": "family:nightshades", "effect": "good", "evidence": "some"}
    known = graph(neighbours=[{**itself, "source": SOURCE}])
    assert known.pairs_beside("good", frozenset({"potato", "tomato"})) == {("potato", "tomato"): "some"}


@pytest.mark.parametrize(
    ("family", "members", "strangers"),
    # Source: Angiosperm Phylogeny Group, APG IV (2016), from memory. Beet and spinach stand with the amaranths,
    # onions with the amaryllids; radish and rocket are cabbages, lettuce is a daisy.
    [
        ("Brassicaceae", {"kale", "radish", "rocket", "swede", "turnip"}, {"chard", "head lettuce"}),
        ("Solanaceae", {"potato", "tomato", "aubergine", "sweet pepper"}, {"sweet potato"}),
        ("Amaranthaceae", {"beetroot", "chard", "spinach"}, {"turnip"}),
        ("Amaryllidaceae", {"onion", "garlic", "leek", "chives"}, {"bulb fennel"}),
        ("Apiaceae", {"carrot", "parsnip", "celery", "bulb fennel", "dill"}, {"beetroot"}),
        ("Fabaceae", {"pea", "bush bean", "broad bean", "runner bean"}, {"corn salad"}),
        ("Cucurbitaceae", {"cucumber", "melon", "pumpkin", "winter squash"}, {"aubergine"}),
        ("Asteraceae", {"head lettuce", "endive", "sunflower"}, {"corn salad"}),
        ("Poaceae", {"sweet corn"}, {"buckwheat", "winter rye", "oats"}),
    ],
)
def test_the_groups_that_rest_are_the_botanical_families(family: str, members: set[str], strangers: set[str]) -> None:
    groups = {group.name: group.crops for group in SHIPPED_GRAPH.family_groups()}
    assert members <= groups[family]
    assert strangers <= EVERYTHING - groups[family]


def test_no_crop_rests_in_two_families_and_none_is_lost() -> None:
    groups = SHIPPED_GRAPH.family_groups()
    for one, other in combinations(groups, 2):
        assert not one.crops & other.crops
    resting = {family.name for family in SHIPPED.families if family.rest}
    assert {group.name for group in groups} == resting
    expected = {crop.name for crop in SHIPPED.crops if crop.family in resting and crop.counts_for_rest}
    assert frozenset().union(*(group.crops for group in groups)) == expected


def test_clovers_vetch_and_grasses_grown_as_covers_ask_for_no_rest() -> None:
    exempt = {crop.name for crop in SHIPPED.crops if not crop.counts_for_rest}
    legumes = {name for name in exempt if SHIPPED_GRAPH.family_of(name) == "Fabaceae"}
    assert legumes == {"crimson clover", "red clover", "winter vetch"}
    assert exempt - legumes == {"winter rye", "oats", "Italian ryegrass"}
    assert not any(group.crops & exempt for group in SHIPPED_GRAPH.family_groups(gap=9))


def test_all_brassicas_catch_clubroot() -> None:
    found = SHIPPED_GRAPH.disease_group("clubroot")
    # The shipped sources ask for at least 5, 6 and 7 years: the middle one.
    assert sorted(p.gap_low for p in SHIPPED.pathogens if p.name == "clubroot" and p.gap_low) == [5, 6, 7]
    assert (found.gap, found.closes, found.disease) == (6, False, True)
    assert found.crops == frozenset(SHIPPED_GRAPH.crops_meant("family:Brassicaceae"))


def test_onion_white_rot_closes_the_ground_to_onions_alone() -> None:
    found = SHIPPED_GRAPH.disease_group("onion white rot")
    assert found.closes
    assert found.crops == frozenset(SHIPPED_GRAPH.crops_meant("family:Amaryllidaceae"))
    closed = {p.name for p in SHIPPED.pathogens if p.closes}
    assert {p.name for p in SHIPPED.pathogens if SHIPPED_GRAPH.disease_group(p.name).closes} == closed


@given(st.lists(st.none() | st.integers(0, 50), min_size=1, max_size=7))
@example([2, 3, 7])  # 3, the middle one
@example([2, 3])  # 2.5, rounded up to 3
@example([4])
def test_the_gap_is_the_middle_of_the_lower_figures_rounded_up(lows: list[int | None]) -> None:
    records = [{"name": "rot", "hosts": ["kale"], "gap_low": low, "source": SOURCE} for low in lows]
    found = FamilyGraph(catalogue(pathogens=records)).disease_group("rot")
    known = sorted(low for low in lows if low is not None)
    # As many sources lie at or below the middle as at or above it; those that name no figure do not count.
    middle = Fraction(known[(len(known) - 1) // 2] + known[len(known) // 2], 2) if known else Fraction(0)
    assert found.gap == found.gap_wished == -(-middle // 1)


def test_only_some_or_strong_evidence_makes_good_neighbours() -> None:
    found = SHIPPED_GRAPH.pairs_beside("good", EVERYTHING)
    backed = {
        tuple(sorted((one, other)))
        for remark in SHIPPED.neighbours
        if remark.effect == "good" and remark.evidence in {"some", "strong"}
        for one in SHIPPED_GRAPH.crops_meant(remark.one)
        for other in SHIPPED_GRAPH.crops_meant(remark.other)
        if one != other
    }
    assert set(found) == backed
    assert list(found) == sorted(found)
    # The shipped catalogue also holds good effects that only tradition or quarrelling sources report.
    weak = {
        tuple(sorted((remark.one, remark.other)))
        for remark in SHIPPED.neighbours
        if remark.effect == "good" and remark.evidence in {"tradition", "contradictory"}
    }
    assert weak - backed
    assert not (weak - backed) & set(found)


def test_what_is_said_of_two_neighbours_is_said_whichever_comes_first() -> None:
    said = 0
    for one, other in combinations(sorted(EVERYTHING), 2):
        remarks = SHIPPED_GRAPH.said_of_neighbours(one, other)
        assert set(remarks) == set(SHIPPED_GRAPH.said_of_neighbours(other, one))
        assert len(remarks) == len(set(remarks))
        said += len(remarks)
    assert said >= len(SHIPPED.neighbours)


def test_the_order_of_two_crops_is_not_turned_round() -> None:
    remark = {"before": "potato", "after": "family:onions", "effect": "good", "strength": "some", "source": SOURCE}
    known = FamilyGraph(catalogue(successions=[remark]))
    assert [said.effect for said in known.said_of_order("potato", "leek")] == ["good"]
    assert known.said_of_order("leek", "potato") == ()
    assert known.said_of_order("tomato", "leek") == ()
