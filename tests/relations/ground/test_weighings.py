"""What was weighed beside what the plan's plants give by the published yields, by hand."""

from __future__ import annotations

from datetime import date

from rotasolve.domain.plan import Harvest
from rotasolve.domain.scenario import Weighed
from rotasolve.referee import blank_plan
from rotasolve.relations.ground.weighings import Weighing, weighings_of
from tests.helpers.diaries import TINY, read_lines
from tests.helpers.tiny import planting

KG = Harvest(low_kg=2, typical_kg=4, high_kg=6)
ONE = planting("lettuce", (1, 2), "2027-05-08", "2027-07-31", "2027-07-07", bed="gate bed", harvest=KG)
OTHER = planting("lettuce", (1,), "2027-05-08", "2027-07-31", "2027-07-07", bed="left", harvest=KG)
LATE = planting("kale", (3,), "2027-10-01", "2028-03-31", "2028-02-01", bed="gate bed", harvest=KG)
PLAN = blank_plan(TINY, (ONE, OTHER, LATE))
AUTUMN = date(2027, 10, 1)


def found(*lines: str, today: date = AUTUMN, weighed: tuple[Weighed, ...] = ()) -> tuple[Weighing, ...]:
    scenario = TINY.model_copy(update={"weighed": weighed})
    return weighings_of(scenario, PLAN, read_lines(*lines).diary, today)


def test_what_was_weighed_of_a_planting() -> None:
    lines = ("2027-07-08 picked 1.5 kg lettuce, gate bed", "2027-07-20 picked 500 g lettuce, gate bed")
    assert found(*lines) == (Weighing("lettuce", 2027, 2.0, 4.0, 2.0, 6.0, 1, 1, over=True),)
    assert found(*lines, today=date(2027, 7, 31))[0].over is False
    assert found("2027-07-08 picked 3 lettuce, gate bed") == ()
    assert found(*lines)[0].beyond is None


def test_a_picking_without_a_bed_is_weighed_once_for_all() -> None:
    (one,) = found("2027-07-08 picked 7 kg lettuce")
    assert (one.kg, one.published_kg, one.plantings, one.unweighed) == (7.0, 8.0, 2, 0)


def test_plants_that_failed_are_not_expected_to_give_anything() -> None:
    (one,) = found("2027-06-01 failed 2 lettuce, gate bed", "2027-07-08 picked 1 kg lettuce, gate bed")
    # 6 of 8 plants live: 3 kg of 4, 1.5 of 2 in a poor year; 1 kg is less.
    assert (one.published_kg, one.low_kg, one.beyond) == (3.0, 1.5, "below")
    (none,) = found("2027-06-01 failed lettuce, gate bed", "2027-07-08 picked 1 kg lettuce, gate bed")
    assert (none.published_kg, none.counts) == (0.0, False)


def test_the_year_is_that_of_the_first_picking() -> None:
    (one,) = found(
        "2028-02-10 picked 1 kg kale, gate bed", "2028-03-10 picked 1 kg kale, gate bed", today=date(2028, 4, 1)
    )
    assert (one.crop, one.year, one.kg, one.over) == ("kale", 2028, 2.0, True)
    assert one.record() == Weighed(crop="kale", year=2028, kg=2.0, published_kg=4.0)


def test_a_plan_by_own_yields_is_compared_with_the_published_ones() -> None:
    before = (Weighed(crop="lettuce", year=2026, kg=7, published_kg=10),)
    # The plan's 4 kg are 0.9 of what is published: 4.44 kg.
    (one,) = found("2027-07-08 picked 4 kg lettuce, gate bed", weighed=before)
    assert round(one.published_kg, 2) == 4.44
