"""Which sizes of block are offered: none too small to be of use, none beyond the wish, by hand."""

from __future__ import annotations

from typing import Any

import pytest

from rotasolve.domain.bed import Bed
from rotasolve.domain.crop import Crop
from rotasolve.relations.ground.blocks import blocks_of
from rotasolve.relations.ground.garden import make_garden
from rotasolve.relations.ground.sizes import MOST_SIZES, sizes_offered
from tests.helpers.tiny import CATALOGUE, LETTUCE, TOMATO, bed, catalogue, crop, figure, scenario

# Every strip holds 4 plants of 0.5 kg: a block of n strips brings 2 n kg.


def offered(
    crop: Crop = LETTUCE, ground: Bed | None = None, kg: float | None = None, few: bool = False, **more: Any
) -> list[int]:
    """Return the strips of the blocks offered in a bed, of ten strips if none is given, for so many kg wished."""
    here = ground or bed(strips=10)
    targets = [] if kg is None else [{"crop": crop.name, "kg": kg}]
    wish = scenario([crop.name], [here], targets=targets, **more)
    return [block.strips for block in sizes_offered(wish, crop, here, blocks_of(crop, here), few)]


def test_without_a_wish_every_size_is_offered() -> None:
    assert offered() == list(range(1, 11))


@pytest.mark.parametrize(
    ("how", "least"),
    [
        # The bed brings 20 kg, 2 kg a strip. Of 60 kg a block must bring 0, 5, 10 or 20 %: 0, 3, 6 or 12 kg.
        ("not at all", 1),
        ("little", 2),
        ("usual", 3),
        ("much", 6),
    ],
)
def test_a_block_brings_enough_of_the_wish_to_be_of_use(how: str, least: int) -> None:
    assert offered(kg=60, rules={"few_plantings": how}) == list(range(least, 11))


def test_a_wish_far_beyond_the_bed_leaves_the_rest_of_it_to_others() -> None:
    # A tenth of 400 kg are 40 kg, the whole bed brings 20: of use is what brings a tenth of 20 / 0.3, 6.7 kg.
    assert offered(kg=400) == [4, 5, 6, 7, 8, 9, 10]


@pytest.mark.parametrize(
    ("kg", "most"),
    [
        # Ample is 110 % of the wish: 8.8 of 8 kg are 5 strips (10 kg), 11 of 10 kg are 6, 2.2 of 2 kg are 2.
        (8, 5),
        (10, 6),
        (2, 2),
        (100, 10),
    ],
)
def test_none_is_larger_than_the_smallest_that_is_ample(kg: float, most: int) -> None:
    assert offered(kg=kg, rules={"few_plantings": "not at all"}) == list(range(1, most + 1))


def test_the_smallest_wish_says_what_is_of_use_and_the_largest_what_is_ample() -> None:
    ground = bed(strips=10)
    wishes = [{"crop": "lettuce", "kg": 4, "fresh_from": "June", "fresh_to": "July"}, {"crop": "lettuce", "kg": 50}]
    wish = scenario(["lettuce"], [ground], household={"targets": wishes[1:]})
    both = wish.model_copy(
        update={
            "household": wish.household.model_copy(
                update={"targets": (*scenario(targets=wishes[:1]).household.targets, *wish.household.targets)}
            )
        }
    )
    strips = [b.strips for b in sizes_offered(both, LETTUCE, ground, blocks_of(LETTUCE, ground), False)]
    # A tenth of 4 kg is less than a strip brings; 55 kg is more than the bed does.
    assert strips == list(range(1, 11))
    # The larger wish alone: a tenth of 50 kg are 5, 3 strips bring 6.
    alone = [b.strips for b in sizes_offered(wish, LETTUCE, ground, blocks_of(LETTUCE, ground), False)]
    assert alone == list(range(3, 11))


def test_of_what_must_be_had_every_size_is_offered() -> None:
    # A plant more or less decides whether a must-have is met.
    assert offered(kg=80, must=[{"crop": "lettuce", "plants": 3}]) == list(range(1, 11))
    assert offered(kg=80, must=[{"crop": "kale", "plants": 3}]) == list(range(4, 11))


def test_whole_beds_alone_where_the_grower_says_so() -> None:
    whole = {"few_plantings": "whole beds"}
    assert offered(rules=whole) == [10]
    assert offered(kg=2, rules=whole) == [10]
    assert offered(ground=bed(strips=3, width=240.0, parts=2), rules=whole) == [6]
    # Rows of 90 cm: 4 strips of 60 cm hold no more than 3 do, which is the largest block there is.
    wide = crop("beet", "goosefoots", spacing_between_rows=figure(90, "cm"))
    assert offered(wide, bed(strips=4), rules=whole) == [3]


def test_a_crop_without_room_is_offered_in_no_size() -> None:
    wide = crop("beet", "goosefoots", spacing_between_rows=figure(200, "cm"))
    for how in ("usual", "whole beds"):
        assert offered(wide, bed(strips=3), kg=5, rules={"few_plantings": how}) == []


def test_few_sizes_are_the_smallest_the_largest_and_one_between() -> None:
    # 4, 8, ... 40 plants: the middle by equal steps of proportion is 4 x sqrt(10) = 12.6, nearest 12, three strips.
    assert MOST_SIZES == 3
    assert offered(few=True) == [1, 3, 10]
    # Three or fewer are left alone.
    assert offered(ground=bed(strips=3), few=True) == [1, 2, 3]
    # Of 80 kg: 4 to 10 strips, 16 to 40 plants: 16 x sqrt(2.5) = 25.3, nearest 24.
    assert offered(kg=80, few=True) == [4, 6, 10]


def test_a_pin_may_take_a_size_that_is_not_offered() -> None:
    pin = {"bed": "bed", "crop": "tomato", "start": "2027-05-15"}
    wish = scenario(targets=[{"crop": "tomato", "kg": 80}], beds=[bed(strips=10)], pinned=[pin])
    garden = make_garden(wish, catalogue([TOMATO]), exact=False)
    sizes = {pinned: {c.block.strips for c in garden.choices if c.sowing.pinned is pinned} for pinned in (True, False)}
    # A tenth of 80 kg are 4 strips.
    assert sizes == {True: set(range(1, 11)), False: set(range(4, 11))}
    assert [block.strips for block in garden.blocks("tomato", "bed")] == list(range(4, 11))


def test_a_large_garden_is_offered_few_sizes() -> None:
    beds = [bed(f"bed {number}", 20) for number in range(1, 13)]
    garden = make_garden(scenario(["lettuce", "kale", "bean", "clover"], beds, years=4), CATALOGUE)
    # 4 crops, 4 years, 12 beds, 20 x 21 / 2 places: 40,320 choices strip by strip, more than 9,000.
    assert garden.few_sizes
    assert not garden.exact_beds
    assert all(len(garden.blocks(name, "bed 1")) <= MOST_SIZES for name in ("lettuce", "kale", "bean", "clover"))
