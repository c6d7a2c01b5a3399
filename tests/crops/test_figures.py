"""Figures lie where a gardener would expect them, and a few agree with published counts."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from rotasolve.domain.catalogue import Catalogue
    from rotasolve.domain.crop import Crop

FOOT_CM = 30.48
INCH_CM = 2.54


def _room_m2(crop: Crop) -> float:
    return crop.spacing_in_row.usual * crop.spacing_between_rows.usual / 10_000


def _kg_per_m2(crop: Crop) -> float:
    if crop.yield_per_area is not None:
        return crop.yield_per_area.usual
    if crop.yield_per_row is not None:
        assert crop.row_distance_for_yield is not None
        return crop.yield_per_row.usual / (crop.row_distance_for_yield.usual / 100)
    assert crop.yield_per_plant is not None
    return crop.yield_per_plant.usual / _room_m2(crop)


def test_heights_and_spacings_are_between_2_and_400_cm(catalogue: Catalogue) -> None:
    outside = [
        (crop.name, field)
        for crop in catalogue.crops
        for field in ("height", "spacing_in_row", "spacing_between_rows")
        if not 2 <= getattr(crop, field).usual <= 400
    ]
    assert outside == []


def test_yields_are_between_a_fifth_and_12_kg_per_m2(catalogue: Catalogue) -> None:
    yields = {crop.name: _kg_per_m2(crop) for crop in catalogue.crops if not crop.green_manure}
    assert {name: kg for name, kg in yields.items() if not 0.2 <= kg <= 12} == {}


def test_the_mean_yield_is_that_of_a_mixed_garden(catalogue: Catalogue) -> None:
    # RUTGERS_2012: 0.5 lb per sq ft = 2.44 kg/m2 of mixed stand; OSU_LANE: 2.93 in rows, 6.05 in raised beds.
    # The mean over all crops counts light ones (sunflower seed, corn salad) as much as heavy ones.
    yields = [_kg_per_m2(crop) for crop in catalogue.crops if not crop.green_manure]
    assert 1.5 <= sum(yields) / len(yields) <= 6.05


def test_every_start_window_has_an_earliest_before_its_latest(catalogue: Catalogue) -> None:
    # A season of 22 weeks between the frosts, 1 May and 1 October; the longest day lies 7 weeks after the first.
    at = {
        "weeks after last frost": (0, 1),
        "weeks before first frost": (22, -1),
        "weeks after first frost": (22, 1),
        "weeks after longest day": (7, 1),
    }
    for crop in catalogue.crops:
        for start in crop.starts:
            ends = [at[end.unit][0] + at[end.unit][1] * end.usual for end in (start.earliest, start.latest)]
            assert ends[0] <= ends[1], crop.name


def test_weeks_indoors_stand_with_set_out_plants_only(catalogue: Catalogue) -> None:
    for crop in catalogue.crops:
        for start in crop.starts:
            # What stays for years is set out as bought crowns or runners.
            raised = start.way == "set out" and crop.stays is None
            assert (start.weeks_indoors is not None) == raised, crop.name


def test_leaf_lettuce_on_6_inch_centres_is_4_to_a_square_foot(catalogue: Catalogue) -> None:
    # Common practice; KSU_MG_BLOCK and UAZ_INTENSIVE print 6 inches. 30.48 / 15.24 = 2, and 2 x 2 = 4.
    lettuce = catalogue.crop("leaf lettuce")
    assert lettuce.spacing_in_row.usual == lettuce.spacing_between_rows.usual == 6 * INCH_CM
    assert FOOT_CM / lettuce.spacing_in_row.usual * FOOT_CM / lettuce.spacing_between_rows.usual == pytest.approx(4)


def test_carrots_on_3_inch_centres_fill_3_by_2_feet_with_96(catalogue: Catalogue) -> None:
    # CSU_713: 36 / 3 x 24 / 3 = 12 x 8 = 96, as many as a 24 ft row at 3 in.
    carrot = catalogue.crop("carrot")
    across = 3 * FOOT_CM / carrot.spacing_in_row.usual
    along = 2 * FOOT_CM / carrot.spacing_between_rows.usual
    assert across * along == pytest.approx(96)


def test_potatoes_stand_as_in_the_field(catalogue: Catalogue) -> None:
    # AQUACROP: 40,000 potatoes per hectare = 4.0 per m2; bed rows are closer: 1 / (0.3048 x 0.6096) = 5.4.
    assert 4.0 <= 1 / _room_m2(catalogue.crop("potato")) <= 6.0


@pytest.mark.parametrize(
    ("smaller", "larger"),
    [("leaf lettuce", "kale"), ("radish", "leaf lettuce"), ("kale", "summer squash"), ("tomato", "pumpkin")],
)
def test_room_grows_with_the_plant(catalogue: Catalogue, smaller: str, larger: str) -> None:
    assert _room_m2(catalogue.crop(smaller)) < _room_m2(catalogue.crop(larger))


def test_lettuce_kale_and_pepper_rise_one_behind_the_other(catalogue: Catalogue) -> None:
    # Common practice. Steps between low, middle and tall: 45 and 100 cm.
    lettuce, kale, pepper = (catalogue.crop(name).height.usual for name in ("leaf lettuce", "kale", "sweet pepper"))
    assert lettuce < 45 <= kale < 100 <= pepper


def test_sweet_corn_wants_a_block_of_three_rows(catalogue: Catalogue) -> None:
    # CORN-EXT: at least 3 rows, 4 better.
    rows = catalogue.crop("sweet corn").least_rows
    assert rows is not None
    assert rows.usual == 3


def test_peppers_wait_for_warmer_nights_than_lettuce_and_kale(catalogue: Catalogue) -> None:
    # S23: nights of 55 F = 12.8 degrees C.
    pepper = catalogue.crop("sweet pepper").least_night
    assert pepper is not None
    assert pepper.usual == 12.8
    assert catalogue.crop("leaf lettuce").least_night is None
    assert catalogue.crop("kale").least_night is None
