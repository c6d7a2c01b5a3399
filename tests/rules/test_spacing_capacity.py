"""Spacing capacity, by hand: how many plants a strip holds, on both sides of the limit."""

from __future__ import annotations

from typing import Any

import pytest

from rotasolve.domain.bed import Bed
from rotasolve.domain.claim import Facts
from rotasolve.domain.crop import Crop
from rotasolve.referee import blank_plan
from rotasolve.relations.ground.garden import make_garden
from rotasolve.rules.spacing_capacity import BedTooSmall, RowsTooDeep, RowTooShort, SpacingCapacity, SpacingClaim
from tests.helpers.agree import found_by, number_of, plan_of, posted, taken_of
from tests.helpers.tiny import bed, catalogue, crop, figure, planting, scenario
from tests.helpers.words import said

KEY = "spacing-capacity"
INCH, FOOT = 2.54, 30.48


def spaced(in_row: float, between: float, least_rows: float | None = None) -> Crop:
    more: dict[str, Any] = {} if least_rows is None else {"least_rows": figure(least_rows, "rows")}
    return crop(
        "beet",
        "goosefoots",
        spacing_in_row=figure(in_row, "cm"),
        spacing_between_rows=figure(between, "cm"),
        **more,
    )


def judged(record: Crop, strips: tuple[int, ...], rows: int, plants: int, ground: Bed | None = None) -> list[str]:
    garden = make_garden(scenario(["beet"], [ground or bed(strips=4)]), catalogue([record]))
    plan = blank_plan(
        garden.scenario, (planting("beet", strips, "2027-05-08", "2027-07-31", rows=rows, plants=plants),)
    )
    return found_by(garden, KEY, plan)


@pytest.mark.parametrize(
    ("in_row", "between", "strips", "rows", "plants"),
    [
        # One strip 60 cm deep and 120 cm broad: 60 / 60 = 1 row of 120 / 30 = 4 plants.
        (30, 60, (1,), 1, 4),
        # 60 / 20 = 3 rows of 120 / 15 = 8 plants: 24, and on two strips 120 / 20 = 6 rows.
        (15, 20, (1,), 3, 24),
        (15, 20, (2, 3), 6, 48),
        # 60 / 25 = 2.4, so 2 rows; 120 / 45 = 2.67, so 2 plants a row.
        (45, 25, (1,), 2, 4),
        # Rows are counted over the whole block: 120 / 40 = 3, although either strip alone holds 60 / 40 = 1.
        (45, 40, (2, 3), 3, 6),
        # 240 / 90 = 2.67, so 4 strips hold 2 rows of 120 / 40 = 3, and 3 strips too: 180 / 90 = 2.
        (40, 90, (1, 2, 3, 4), 2, 6),
        (40, 90, (2, 3, 4), 2, 6),
    ],
)
def test_as_many_as_fit_and_one_more(
    in_row: float, between: float, strips: tuple[int, ...], rows: int, plants: int
) -> None:
    record = spaced(in_row, between)
    assert judged(record, strips, rows, plants) == []
    assert len(judged(record, strips, rows, plants + 1)) == 1
    assert len(judged(record, strips, rows + 1, plants)) == 1


def test_a_wide_row_does_not_fit_on_one_strip() -> None:
    # 60 cm of ground for a row of 90 cm: 0 rows.
    assert judged(spaced(40, 90), (1,), 1, 1) == [
        "beet in bed keeps its spacing, but 1 plants in 1 rows, room for 0 in 0"
    ]


def test_a_row_may_be_a_fiftieth_short_of_room() -> None:
    # Common practice: 60 cm hold a row of 24 in = 60.96 cm (1.6 % short), but not one of 61.5 cm (2.4 % short).
    assert judged(spaced(30, 24 * INCH), (1,), 1, 4) == []
    assert judged(spaced(30, 61.5), (1,), 1, 4) != []


def test_a_block_of_rows_is_not_broken_up() -> None:
    # At least 2 rows of 60 cm: 2 strips.
    block = spaced(30, 60, least_rows=2)
    assert judged(block, (1, 2), 2, 8) == []
    assert judged(block, (1,), 1, 4) == ["beet in bed keeps its spacing, but 1 rows, needs a block of at least 2"]


def test_published_block_count() -> None:
    # Source CSU_713: carrots on 3-inch centres, a bed of 3 ft x 2 ft holds as many as 24 ft of single row,
    # 24 x 12 / 3 = 96.
    ground = Bed.model_validate({"name": "bed", "length": 2 * FOOT, "width": 3 * FOOT, "strip": 2 * FOOT})
    carrots = spaced(3 * INCH, 3 * INCH)
    assert judged(carrots, (1,), 8, 96, ground) == []
    assert judged(carrots, (1,), 8, 97, ground) == [
        "beet in bed keeps its spacing, but 97 plants in 8 rows, room for 96 in 8"
    ]


@pytest.mark.parametrize(
    ("inches", "printed"),
    [(2, 60), (4, 30), (3, 40), (5, 24), (10, 12), (15, 8), (18, 7), (24, 5), (9, 13), (12, 10), (1, 120)],
)
def test_published_row_counts(inches: int, printed: int) -> None:
    # Source UFIFAS_GUIDE: plants per 10 ft of row at that spacing. The table rounds to the nearest plant, a row
    # that must fit rounds down: never more than printed, at most one fewer.
    ground = Bed.model_validate({"name": "bed", "length": 60, "width": 10 * FOOT, "strip": 60, "parts": 1})
    garden = make_garden(scenario(["beet"], [ground], units="inches"), catalogue([spaced(inches * INCH, 60)]))
    assert printed - 1 <= garden.room_for("beet", "bed", (1,)) <= printed


def test_solver_and_referee_count_the_same_plants() -> None:
    # All 4 strips at 2 rows (60 / 30) of 4: 32 plants is what the model plants and what the rule lets stand.
    garden = make_garden(scenario(["beet"], [bed(strips=4)]), catalogue([spaced(30, 30)]))
    plan = plan_of(garden, taken_of(garden, [number_of(garden, "beet", 2027, size=4)]))
    assert [(planting.rows, planting.plants) for planting in plan.plantings] == [(8, 32)]
    assert found_by(garden, KEY, plan) == []


def test_a_counted_bed_offers_blocks_in_one_part_and_across_both() -> None:
    # Two parts of 3 strips, rows 120 cm apart: 180 / 120 = 1.5, so one row, on 2 strips; of 120 / 30 = 4 plants in one
    # part and of 240 / 30 = 8 across both. Never 3 rows on the 6 strips end to end.
    ground = bed(strips=3, width=240.0, parts=2)
    garden = make_garden(scenario(["beet"], [ground]), catalogue([spaced(30, 120)]), exact=False)
    blocks = [(choice.block.deep, choice.block.parts, choice.block.plants) for choice in garden.choices]
    assert blocks == [(2, 1, 4), (2, 2, 8)]
    assert posted(garden, KEY) == set()


def test_a_block_across_both_parts_holds_the_same_for_model_and_referee() -> None:
    # 240 / 45 = 5.3: 5 plants across both parts, where each part alone holds 120 / 45 = 2.
    ground = bed(strips=2, width=240.0, parts=2)
    assert judged(spaced(45, 60), (1, 3), 1, 5, ground) == []
    assert len(judged(spaced(45, 60), (1, 3), 1, 6, ground)) == 1
    # End to end, but at opposite ends of two parts: no block.
    assert judged(spaced(45, 60), (2, 3), 1, 2, ground) != []
    garden = make_garden(scenario(["beet"], [ground]), catalogue([spaced(45, 60)]))
    assert [c.block.plants for c in garden.choices if [cell.strip for cell in c.cells] == [1, 3]] == [5]


def test_a_pin_that_fits_nowhere_is_what_the_model_forbids() -> None:
    # Rows 61.5 cm apart in a bed of 60 cm: 2.4 % short.
    pin = {"bed": "bed", "crop": "beet", "start": "2027-05-08"}
    garden = make_garden(scenario(beds=[bed(strips=1)], pinned=[pin]), catalogue([spaced(30, 61.5)]))
    assert posted(garden, KEY) == {SpacingClaim("beet", "bed")}


def test_says_what_it_asks() -> None:
    assert said(SpacingClaim("leaf lettuce", "south bed")) == ("leaf lettuce in south bed keeps its spacing")


def test_says_what_it_found() -> None:
    assert judged(spaced(30, 60), (1,), 1, 5) == [
        "beet in bed keeps its spacing, but 5 plants in 1 rows, room for 4 in 1"
    ]
    assert judged(spaced(30, 60), (1, 2), 1, 5) == [
        "beet in bed keeps its spacing, but 5 plants in 1 rows of at most 4"
    ]


@pytest.mark.parametrize(
    ("in_row", "why"),
    [
        # 122 cm are 2 cm short in a bed 120 broad: less than 2 %, so the depth alone is to blame. 123 are 3 cm short.
        (122, RowsTooDeep(1, 200, 60)),
        (123, RowTooShort(123, 120)),
    ],
)
def test_what_a_crop_is_too_wide_for(in_row: float, why: Facts) -> None:
    beet = spaced(in_row, 200)
    garden = make_garden(scenario(["beet"], [bed(strips=1)], units="inches"), catalogue([beet]))
    asked = planting("beet", (1,), "2027-05-08", "2027-07-31")
    (found,) = SpacingCapacity().hinders(garden, blank_plan(garden.scenario, ()), asked)
    assert found.why == why


def test_a_bed_too_small_for_the_plants_asked_for() -> None:
    # 3 strips of 60 cm: 180 / 60 = 3 rows of 120 / 30 = 4.
    garden = make_garden(scenario(["beet"], [bed(strips=3)]), catalogue([spaced(30, 60)]))
    twelve = planting("beet", (1, 2, 3), "2027-05-08", "2027-07-31")
    beside = blank_plan(garden.scenario, ())
    assert list(SpacingCapacity().hinders(garden, beside, twelve)) == []
    (found,) = SpacingCapacity().hinders(garden, beside, twelve.model_copy(update={"plants": 13}))
    assert (found.why, found.strips) == (BedTooSmall(13, 12), (1, 2, 3))
    assert said(found) == "13 plants, the whole bed holds 12"
