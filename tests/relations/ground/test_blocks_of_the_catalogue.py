"""Every crop of the catalogue in beds of any length: more ground never holds fewer plants, and hardly any is lost."""

from __future__ import annotations

import itertools
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rotasolve.domain.bed import Bed
from rotasolve.domain.crop import Crop
from rotasolve.domain.place import Question
from rotasolve.domain.strips import parts_of, strips_per_part
from rotasolve.recount.ground import cut_of, least_rows, plants_in_a_row, rows_that_fit
from rotasolve.relations.ground.blocks import block_of, blocks_of, smallest_block
from rotasolve.tasks.placement import find_places
from tests.helpers.golden import shelf
from tests.helpers.tiny import scenario

CROPS = shelf().crops
WAYS = ("north-south", "east-west")
SOME = ("carrot", "kale", "leek", "potato", "sweet corn", "winter squash")
LENGTHS = range(30, 1001)
LOSS = 0.05
"""The part of its plants that a crop may lose in a bed cut into strips: the bar of this program, nobody's figure."""

crops = st.sampled_from(CROPS)
lengths = st.integers(LENGTHS.start, LENGTHS.stop - 1)
widths = st.integers(30, 300)
runs = st.sampled_from(WAYS)
covers = st.sampled_from(["open ground", "cold frame"])


def bed_of(length: float, width: float, runs: str, **more: object) -> Bed:
    return Bed.model_validate({"name": "bed", "length": length, "width": width, "runs": runs, **more})


def most_plants(crop: Crop, bed: Bed) -> int:
    """Return the plants of the largest block of a crop in a bed, 0 if there is none."""
    return max((block.plants for block in blocks_of(crop, bed)), default=0)


def counted_whole(crop: Crop, bed: Bed) -> tuple[int, int]:
    """Return rows and plants of the bed counted as one piece of ground, by the formula and nothing else."""
    rows = math.floor(bed.depth_cm / crop.spacing_between_rows.usual)
    return rows, rows * math.floor(bed.breadth_cm / crop.spacing_in_row.usual)


@given(crops, lengths, widths, runs, covers)
def test_a_longer_or_wider_bed_never_holds_fewer(crop: Crop, length: int, width: int, runs: str, cover: str) -> None:
    here = most_plants(crop, bed_of(length, width, runs, cover=cover))
    for longer, wider in ((1, 0), (0, 1), (37, 0), (0, 61)):
        assert here <= most_plants(crop, bed_of(length + longer, width + wider, runs, cover=cover))


@pytest.mark.parametrize("runs", WAYS)
@pytest.mark.parametrize("name", SOME)
def test_every_centimetre_from_30_cm_to_10_m(name: str, runs: str) -> None:
    crop = shelf().crop(name)
    for width in (75, 120, 150):
        plants = [most_plants(crop, bed_of(length, width, runs)) for length in LENGTHS]
        assert all(less <= more for less, more in itertools.pairwise(plants))
    # In the broadest even sweet corn, three rows of 45.72 cm, has room from some length on.
    assert plants[-1] > plants[0]


@given(crops, lengths, widths, runs, st.none() | st.integers(20, 90), st.none() | st.integers(1, 4))
def test_a_larger_block_never_holds_fewer(
    crop: Crop, length: int, width: int, runs: str, strip: int | None, parts: int | None
) -> None:
    bed = bed_of(length, width, runs, strip=strip, parts=parts)
    for broad in range(1, parts_of(bed) + 1):
        for deep in range(1, strips_per_part(bed) + 1):
            here = block_of(crop, bed, deep, broad)
            for larger in (block_of(crop, bed, deep + 1, broad), block_of(crop, bed, deep, broad + 1)):
                if here is not None and larger is not None:
                    assert here.plants <= larger.plants
                    assert here.rows <= larger.rows


@given(crops, lengths, widths, runs, st.none() | st.integers(20, 90), st.none() | st.integers(1, 4))
def test_what_is_offered_leaves_out_only_what_takes_ground_for_nothing(
    crop: Crop, length: int, width: int, runs: str, strip: int | None, parts: int | None
) -> None:
    bed = bed_of(length, width, runs, strip=strip, parts=parts)
    offered = blocks_of(crop, bed)
    assert [block.plants for block in offered] == sorted(block.plants for block in offered)
    for broad in range(1, parts_of(bed) + 1):
        for deep in range(1, strips_per_part(bed) + 1):
            here = block_of(crop, bed, deep, broad)
            if here is None or here in offered:
                continue
            # Inside it lies one that holds as much.
            assert any(o.deep <= deep and o.parts <= broad and o.plants == here.plants for o in offered)
    for wished in {block.plants for block in offered}:
        least = smallest_block(crop, bed, wished)
        assert least is not None
        assert least.strips == min(block.strips for block in offered if block.plants >= wished)


@given(crops, lengths, widths, runs, covers)
def test_hardly_any_plant_is_lost_against_the_bed_as_a_whole(
    crop: Crop, length: int, width: int, runs: str, cover: str
) -> None:
    bed = bed_of(length, width, runs, cover=cover)
    rows, plants = counted_whole(crop, bed)
    if rows >= max(2, least_rows(crop)):
        assert most_plants(crop, bed) >= (1 - LOSS) * plants


@pytest.mark.parametrize("runs", WAYS)
@pytest.mark.parametrize("crop", CROPS, ids=lambda crop: crop.name)
def test_no_crop_loses_in_beds_of_every_tenth_centimetre(crop: Crop, runs: str) -> None:
    for length in range(30, 1001, 10):
        bed = bed_of(length, 120, runs)
        rows, plants = counted_whole(crop, bed)
        if rows >= max(2, least_rows(crop)):
            assert most_plants(crop, bed) >= (1 - LOSS) * plants


@pytest.mark.parametrize("runs", WAYS)
@pytest.mark.parametrize("name", SOME)
def test_model_and_referee_agree_on_every_rectangle_of_beds_by_the_centimetre(name: str, runs: str) -> None:
    crop = shelf().crop(name)
    for length in LENGTHS[::7]:
        bed = bed_of(length, 120, runs)
        cut = cut_of(bed)
        for deep, parts in itertools.product(range(1, cut.strips_in_part + 1), range(1, cut.parts + 1)):
            rows, in_a_row = rows_that_fit(crop, cut, deep), plants_in_a_row(crop, cut, parts)
            block = block_of(crop, bed, deep, parts)
            holds = (rows, rows * in_a_row) if in_a_row and rows >= least_rows(crop) else None
            assert (block and (block.rows, block.plants)) == holds


@pytest.mark.parametrize(("width", "rows"), [(120, 3), (122, 4)])
def test_forty_leeks_have_a_place_in_six_metres(width: int, rows: int) -> None:
    # Leeks 15.24 cm apart in rows 30.48 cm apart (crops/). 600 / 15.24 = 39.4 plants a row, across both parts of 3 m;
    # 120 / 30.48 = 3.94, 122 / 30.48 = 4.003 rows. Counted strip by strip and part by part it was one row a strip at
    # 1.20 m, 38 plants in all, two rows at 1.22 m.
    leek, bed = shelf().crop("leek"), bed_of(600, width, "east-west")
    assert most_plants(leek, bed) == rows * 39
    places = find_places(scenario(["leek"], [bed]), shelf(), Question(crop="leek", plants=40, year=2027))
    assert places.places
    assert all(place.planting.plants == 40 and place.planting.rows >= 2 for place in places.places)
