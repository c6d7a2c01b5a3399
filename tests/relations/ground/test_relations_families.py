"""The family graph of the shipped catalogue, and a disease on which sources disagree."""

from __future__ import annotations

from fractions import Fraction
from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rotasolve.files.crops import load_catalogue
from rotasolve.relations.ground.families import FamilyGraph
from tests.helpers.tiny import SOURCE, catalogue

SHIPPED = load_catalogue()
GRAPH = FamilyGraph(SHIPPED)
EVERYTHING = frozenset(crop.name for crop in SHIPPED.crops)


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
        ("Poaceae", {"sweet corn", "winter rye"}, {"buckwheat"}),
    ],
)
def test_the_groups_that_rest_are_the_botanical_families(family: str, members: set[str], strangers: set[str]) -> None:
    groups = {group.name: group.crops for group in GRAPH.family_groups()}
    assert members <= groups[family]
    assert strangers <= EVERYTHING - groups[family]


def test_no_crop_rests_in_two_families_and_none_is_lost() -> None:
    groups = GRAPH.family_groups()
    for one, other in combinations(groups, 2):
        assert not one.crops & other.crops
    resting = {family.name for family in SHIPPED.families if family.rest}
    assert {group.name for group in groups} == resting
    expected = {crop.name for crop in SHIPPED.crops if crop.family in resting and crop.counts_for_rest}
    assert frozenset().union(*(group.crops for group in groups)) == expected


def test_clover_and_vetch_are_legumes_that_ask_for_no_rest() -> None:
    exempt = {crop.name for crop in SHIPPED.crops if not crop.counts_for_rest}
    assert exempt == {"crimson clover", "winter vetch"}
    assert {GRAPH.family_of(name) for name in exempt} == {"Fabaceae"}
    assert not any(group.crops & exempt for group in GRAPH.family_groups(gap=9))


def test_all_brassicas_catch_clubroot() -> None:
    found = GRAPH.disease_group("clubroot")
    # The shipped sources ask for at least 5, 6 and 7 years: the middle one.
    assert sorted(p.gap_low for p in SHIPPED.pathogens if p.name == "clubroot" and p.gap_low) == [5, 6, 7]
    assert (found.gap, found.closes, found.disease) == (6, False, True)
    assert found.crops == frozenset(GRAPH.crops_meant("family:Brassicaceae"))


def test_onion_white_rot_closes_the_ground_to_onions_alone() -> None:
    found = GRAPH.disease_group("onion white rot")
    assert found.closes
    assert found.crops == frozenset(GRAPH.crops_meant("family:Amaryllidaceae"))
    closed = {p.name for p in SHIPPED.pathogens if p.closes}
    assert {p.name for p in SHIPPED.pathogens if GRAPH.disease_group(p.name).closes} == closed


@given(st.lists(st.none() | st.integers(0, 50), min_size=1, max_size=7))
def test_the_gap_is_the_middle_of_the_lower_figures_rounded_up(lows: list[int | None]) -> None:
    records = [{"name": "rot", "hosts": ["kale"], "gap_low": low, "source": SOURCE} for low in lows]
    found = FamilyGraph(catalogue(pathogens=records)).disease_group("rot")
    known = sorted(low for low in lows if low is not None)
    # As many sources lie at or below the middle as at or above it; those that name no figure do not count.
    middle = Fraction(known[(len(known) - 1) // 2] + known[len(known) // 2], 2) if known else Fraction(0)
    assert found.gap == found.gap_wished == -(-middle // 1)


def test_a_trouble_is_shared_both_ways() -> None:
    pairs = list(combinations(sorted(EVERYTHING), 2))
    shared = {pair: GRAPH.shared_troubles(*pair) for pair in pairs}
    assert all(GRAPH.shared_troubles(other, one) == found for (one, other), found in shared.items())
    for (one, other), troubles in shared.items():
        for trouble in troubles:
            assert {one, other} <= GRAPH.disease_group(trouble).crops
    assert "clubroot" in shared["kale", "radish"]
    assert "clubroot" not in shared["kale", "onion"]


def test_only_some_or_strong_evidence_makes_good_neighbours() -> None:
    found = GRAPH.good_neighbours(EVERYTHING)
    backed = {
        tuple(sorted((one, other)))
        for remark in SHIPPED.neighbours
        if remark.effect == "good" and remark.evidence in {"some", "strong"}
        for one in GRAPH.crops_meant(remark.one)
        for other in GRAPH.crops_meant(remark.other)
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
        remarks = GRAPH.said_of_neighbours(one, other)
        assert set(remarks) == set(GRAPH.said_of_neighbours(other, one))
        assert len(remarks) == len(set(remarks))
        said += len(remarks)
    assert said >= len(SHIPPED.neighbours)


def test_the_order_of_two_crops_is_not_turned_round() -> None:
    remark = {"before": "potato", "after": "family:onions", "effect": "good", "strength": "some", "source": SOURCE}
    known = FamilyGraph(catalogue(successions=[remark]))
    assert [said.effect for said in known.said_of_order("potato", "leek")] == ["good"]
    assert known.said_of_order("leek", "potato") == ()
    assert known.said_of_order("tomato", "leek") == ()


def test_rotation_groups_hold_every_crop_once() -> None:
    names = {crop.rotation_group for crop in SHIPPED.crops}
    members = [name for group in names for name in GRAPH.crops_in_group(group)]
    assert sorted(members) == sorted(EVERYTHING)
    assert GRAPH.crops_in_group("no such group") == ()
