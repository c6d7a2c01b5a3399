"""What the referee works out for itself, held to the same facts as the model's helpers, and to those helpers."""

from __future__ import annotations

from datetime import timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rotasolve.domain.bed import Bed
from rotasolve.domain.seasons import first_day, last_day, period_of
from rotasolve.domain.strips import part_breadth_cm, parts_of, strip_depth_cm, strips_in_bed, strips_per_part
from rotasolve.recount.families import pairs_with_evidence, restings
from rotasolve.recount.ground import cut_of, gap_to_pole_side_cm, least_rows, plants_in_a_row, rows_that_fit
from rotasolve.recount.heights import height_on, size_of
from rotasolve.relations.ground.blocks import block_of
from rotasolve.relations.ground.families import FamilyGraph
from rotasolve.relations.ground.garden import make_garden
from rotasolve.relations.ground.grown import casting_height_cm
from rotasolve.relations.ground.lie_of_beds import height_class, part_and_row, places_of, rectangle_of, shadings
from tests.helpers.golden import facts_about, shelf, shipped

CROPS = shelf().crops
NAMES = ("allotment", "cold-frame", "family-garden", "southern-garden", "two-at-table")
BEDS = st.builds(
    lambda length, width, runs, strip, parts, cover: Bed(
        name="bed", length=length, width=width, runs=runs, strip=strip, parts=parts, cover=cover
    ),
    st.integers(60, 3000),
    st.integers(60, 900),
    st.sampled_from(["north-south", "east-west"]),
    st.none() | st.integers(20, 60) | st.sampled_from([30.48, 60.96]),
    st.none() | st.integers(1, 5),
    st.sampled_from(["open ground", "cold frame"]),
)


@given(BEDS)
def test_a_bed_is_cut_the_same_way_by_both(bed: Bed) -> None:
    cut = cut_of(bed)
    assert (cut.parts, cut.strips_in_part, cut.strips) == (parts_of(bed), strips_per_part(bed), strips_in_bed(bed))
    assert (cut.depth_cm, cut.breadth_cm) == pytest.approx((strip_depth_cm(bed), part_breadth_cm(bed)))
    strips = range(1, cut.strips + 1)
    assert [cut.place(strip) for strip in strips] == [part_and_row(bed, strip) for strip in strips]


@given(BEDS, st.sampled_from(CROPS))
def test_every_rectangle_holds_the_same_for_both(bed: Bed, crop: object) -> None:
    found, cut = next(one for one in CROPS if one is crop), cut_of(bed)
    for parts in range(1, parts_of(bed) + 1):
        in_a_row = plants_in_a_row(found, cut, parts)
        for deep in range(1, strips_per_part(bed) + 1):
            block, rows = block_of(found, bed, deep, parts), rows_that_fit(found, cut, deep)
            holds = (rows, rows * in_a_row) if in_a_row and rows >= least_rows(found) else None
            assert (block and (block.rows, block.plants)) == holds


@given(BEDS, st.data())
def test_strips_are_a_block_for_both_or_for_none(bed: Bed, data: st.DataObject) -> None:
    size = data.draw(st.integers(1, max(1, strips_per_part(bed)))), data.draw(st.integers(1, parts_of(bed)))
    for strips in places_of(bed, *size)[:40]:
        assert cut_of(bed).block(strips) == rectangle_of(bed, strips) == size
    any_strips = st.lists(st.integers(1, max(1, strips_in_bed(bed))), min_size=1, max_size=6)
    some = tuple(data.draw(any_strips))
    if strips_in_bed(bed):
        assert cut_of(bed).block(some) == rectangle_of(bed, some)


@given(st.sampled_from(CROPS), st.integers(1, 300), st.integers(0, 24), st.integers(0, 364))
def test_a_crop_stands_as_high_for_both(crop: object, whole: int, later: int, begin: int) -> None:
    found = next(one for one in CROPS if one is crop)
    start = first_day(period_of(last_day(2027 * 24))) + timedelta(days=begin)
    period, ready = period_of(start) + later, start + timedelta(days=whole)
    assert height_on(found, start, ready, last_day(period)) == casting_height_cm(found, start, ready, period)


def test_heights_worked_out_by_hand_hold() -> None:
    by_name = {crop.name: crop for crop in CROPS}
    for fact in facts_about("standing_heights")["facts"]:
        end = last_day(period_of(fact["day"]))
        assert height_on(by_name[fact["crop"]], fact["start"], fact["ready"], end) == pytest.approx(fact["is"])


@pytest.mark.parametrize("name", NAMES)
def test_families_and_sizes_and_gaps_of_a_shipped_scenario(name: str) -> None:
    scenario = shipped(name)
    garden, rules = make_garden(scenario, shelf()), scenario.rules
    for bed in scenario.beds:
        ours = {(g.name, g.crops, g.gap, g.gap_wished, g.closes, g.disease) for g in restings(shelf(), scenario, bed)}
        theirs = garden.rest_groups(bed.name)
        assert ours == {(g.name, g.crops, g.gap, g.gap_wished, g.closes, g.disease) for g in theirs}
    assert all(size_of(crop, rules) == height_class(crop, rules) for crop in CROPS)
    south, known = scenario.site.south, {(s.caster, s.receiver): s.gap_cm for s in garden.shadings}
    assert garden.shadings == shadings(scenario.beds, south)
    for one in scenario.beds:
        for other in scenario.beds:
            assert gap_to_pole_side_cm(one, other, south) == known.get((one.name, other.name))


def test_every_disease_and_every_pair_of_neighbours() -> None:
    graph, names = FamilyGraph(shelf()), frozenset(crop.name for crop in CROPS)
    for effect in ("good", "bad"):
        assert pairs_with_evidence(shelf(), effect, names) == graph.pairs_beside(effect, names) != {}
    scenario = shipped("allotment")
    for disease in {pathogen.name for pathogen in shelf().pathogens}:
        bed = Bed(name="bed", length=360, width=120, diseases=(disease,))
        (found,) = [group for group in restings(shelf(), scenario, bed) if group.disease]
        group = graph.disease_group(disease)
        assert (found.crops, found.gap, found.closes) == (group.crops, group.gap, group.closes)
