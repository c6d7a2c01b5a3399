"""The graph of families: who rests with whom, which troubles are shared, who helps whom."""

from __future__ import annotations

from typing import Any

from rotasolve.relations.ground.families import FamilyGraph, RestGroup
from tests.helpers.tiny import CATALOGUE, SOURCE, catalogue

GRAPH = FamilyGraph(CATALOGUE)


def graph(**more: Any) -> FamilyGraph:
    return FamilyGraph(catalogue(**more))


def sick(name: str, *hosts: str, **more: Any) -> dict[str, Any]:
    return {"name": name, "hosts": hosts, "source": SOURCE, **more}


def test_a_name_means_a_crop_or_a_family() -> None:
    assert GRAPH.crops_meant("kale") == ("kale",)
    assert GRAPH.crops_meant("family:nightshades") == ("potato", "tomato")
    assert GRAPH.crops_meant("melon") == ()
    assert GRAPH.crops_meant("family:cucurbits") == ()


def test_the_family_of_a_crop() -> None:
    assert GRAPH.family_of("potato") == "nightshades"


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


def test_sources_of_a_disease_are_weighed_by_their_median() -> None:
    # Low figures 2, 3 and 7: the middle one. 2 and 3: 2.5, rounded up to 3.
    for lows, gap in (((2, 3, 7), 3), ((2, 3), 3), ((4,), 4)):
        found = graph(pathogens=[sick("rot", "kale", gap_low=low) for low in lows]).disease_group("rot")
        assert (found.gap, found.closes, found.disease) == (gap, False, True)


def test_one_source_is_enough_to_close_the_ground() -> None:
    found = graph(pathogens=[sick("rot", "kale", gap_low=3), sick("rot", "garlic", closes=True)]).disease_group("rot")
    assert found.closes
    assert found.crops == {"kale", "garlic"}


def test_troubles_shared_by_two_crops() -> None:
    two = graph(pathogens=[sick("wilt", "family:nightshades"), sick("rot", "potato", "bean"), sick("rust", "bean")])
    assert two.shared_troubles("potato", "tomato") == ("wilt",)
    assert two.shared_troubles("potato", "bean") == ("rot",)
    assert two.shared_troubles("tomato", "bean") == ()


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
    assert known.good_neighbours(everything) == (("kale", "lettuce"), ("lettuce", "tomato"))
    assert known.good_neighbours(everything - {"tomato"}) == (("kale", "lettuce"),)


def test_a_family_is_no_neighbour_of_itself() -> None:
    itself = {"one": "family:nightshades", "other": "family:nightshades", "effect": "good", "evidence": "some"}
    known = graph(neighbours=[{**itself, "source": SOURCE}])
    assert known.good_neighbours(frozenset({"potato", "tomato"})) == (("potato", "tomato"),)
