"""What may still be started on free ground, and what a disease costs a plan, by hand on tiny gardens.

Lettuce is sown on 8 May and picked from 7 July, bean on 29 May and from 13 July, kale on 17 July and from 5 September;
each window is that single day, so a start gives a full crop, and every kilogram is 0.5 kg a plant.
"""

from __future__ import annotations

from datetime import date

from rotasolve.domain.catalogue import Catalogue
from rotasolve.domain.chance import Chance
from rotasolve.domain.plan import Planting
from rotasolve.domain.scenario import Scenario
from rotasolve.referee import blank_plan
from rotasolve.tasks.disease_seen import disease_cost
from rotasolve.tasks.resowing import SOON_DAYS, chances_to_resow
from tests.helpers.tiny import CATALOGUE, bed, catalogue, crop, day, planting, scenario, start

GARDEN = scenario(["lettuce", "bean", "kale", "clover"], beds=[bed("gate bed", 3), bed("left", 2)], years=3)


def chances(
    on: str, *plantings: Planting, strips: tuple[int, ...] = (1, 2), **more: object
) -> list[tuple[object, ...]]:
    plan = blank_plan(GARDEN, plantings)
    found = chances_to_resow(GARDEN, CATALOGUE, plan, "gate bed", day(on), strips, **more)  # type: ignore[arg-type]
    return [
        (one.planting.crop, str(one.planting.start), str(one.last), one.percent, bool(one.hindrances)) for one in found
    ]


def test_what_opens_within_six_weeks() -> None:
    assert SOON_DAYS == 42
    # 29 May is 42 days after 17 April, lettuce opens on 8 May; kale is too far off.
    assert chances("2027-04-17") == [
        ("bean", "2027-05-29", "2027-05-29", 100, False),
        ("lettuce", "2027-05-08", "2027-05-08", 100, False),
    ]
    assert [one[0] for one in chances("2027-04-16")] == ["lettuce"]
    assert [one[0] for one in chances("2027-07-17")] == ["kale"]
    # A day later its day has passed; a green manure is not picked.
    assert chances("2027-07-18") == []


def test_another_crop_may_be_asked_for() -> None:
    assert [one[0] for one in chances("2027-04-01")] == ["lettuce"]
    assert [one[0] for one in chances("2027-04-01", crops=["potato"])] == ["lettuce", "potato"]


def test_what_a_rule_forbids_is_told_last() -> None:
    beans = planting("bean", (1,), "2028-05-29", "2028-07-31", "2028-07-13", bed="gate bed")
    found = chances("2027-05-01", beans)
    # Legumes rest 2 complete years; in 2027 bean would have none between.
    assert found == [
        ("lettuce", "2027-05-08", "2027-05-08", 100, False),
        ("bean", "2027-05-29", "2027-05-29", 100, True),
    ]


def test_it_is_cleared_before_what_the_plan_starts_next_there() -> None:
    # A crop picked for six weeks from 7 July is cut short where something else is sown on 20 July.
    chard = crop("chard", "beets", weeks=6, starts=[start(1, 60)])
    crops = catalogue([*CATALOGUE.crops, chard])
    garden = scenario(["chard", "bean"], beds=[bed("gate bed", 3)])
    later = planting("bean", (1,), "2027-08-01", "2027-10-15", "2027-09-15", bed="gate bed")
    (alone,) = _chances_of("chard", garden, crops, ())
    (beside,) = _chances_of("chard", garden, crops, (later,))
    assert (alone.percent, beside.hindrances) == (100, ())
    assert beside.planting.clear < date(2027, 8, 1) <= alone.planting.clear
    assert 0 < beside.percent < 100


def _chances_of(name: str, garden: Scenario, crops: Catalogue, plantings: tuple[Planting, ...]) -> list[Chance]:
    found = chances_to_resow(garden, crops, blank_plan(garden, plantings), "gate bed", day("2027-05-01"), (1, 2))
    return [one for one in found if one.planting.crop == name]


KALE = [
    planting("kale", (1, 2), f"{year}-07-17", f"{year}-09-30", f"{year}-09-05", bed="left", plants=4)
    for year in (2027, 2028, 2029)
]


def test_a_disease_costs_the_hosts_that_are_started_later() -> None:
    plan = blank_plan(GARDEN, tuple(KALE))
    found = disease_cost(GARDEN, CATALOGUE, plan, "club root", "left", day("2027-08-01"))
    # Club root asks for 4 complete years after 2027.
    assert (found.gap_years, found.closes, found.again, found.hosts) == (4, False, 2032, ("kale",))
    assert found.lost == tuple(KALE[1:])
    other = disease_cost(GARDEN, CATALOGUE, plan, "club root", "gate bed", day("2027-08-01"))
    assert (other.lost, other.points, other.again) == ((), 0, 2032)


def test_its_years_run_from_the_last_host_and_points_are_counted() -> None:
    wished = GARDEN.model_copy(
        update={"household": scenario(targets=[{"crop": "kale", "kg": 4, "weight": 1}]).household}
    )
    plan = blank_plan(wished, tuple(KALE))
    found = disease_cost(wished, CATALOGUE, plan, "club root", "left", day("2028-08-01"))
    assert (found.again, found.lost) == (2033, (KALE[2],))
    # 4 plants of 0.5 kg are 2 of 4 kg: 50 % short is 10 x 1 + 40 x 3 = 130 points; without any, 50 x 6 = 300 more. A
    # planting less saves its 30 points and bares its two strips for five half months in season: 10 points.
    assert found.points == 300 - 30 + 10


def test_without_a_plan_only_the_years_are_told_and_some_diseases_close_the_bed() -> None:
    found = disease_cost(GARDEN, CATALOGUE, None, "white rot", "left", day("2027-08-01"))
    assert (found.closes, found.again, found.lost, found.points) == (True, None, (), 0)
