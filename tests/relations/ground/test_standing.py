"""What stays for years: yields by year as published, ground taken, shade counted, nothing chosen."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from rotasolve.domain.catalogue import Catalogue
from rotasolve.domain.scenario import Scenario
from rotasolve.errors import InputFault
from rotasolve.files.scenarios import read_with_catalogue
from rotasolve.referee import judge, recount
from rotasolve.relations.ground.garden import make_garden
from rotasolve.relations.household.supply import supply_of
from rotasolve.relations.work.jobs import jobs_of
from rotasolve.relations.work.shopping import purchases_of
from rotasolve.solver.cpsat import Limits
from rotasolve.tasks.next_year import NOTHING_TOLD, next_year
from rotasolve.tasks.rotation import plan_rotation

GARDEN = """\
format: 1
title: What stays
site:
  latitude: 52
  last_frost: {half: 5 May}
  first_frost: {half: 15 October}
first_year: 2027
years: 3
beds:
  - {name: fruit bed, length: 4.8 m, width: 1.2 m, strip: 120 cm}
  - {name: root bed, length: 2.4 m, width: 1.2 m, strip: 60 cm}
"""
WISHES = "household:\n  targets:\n    - {crop: kale, kg: 2}\n    - {crop: rhubarb, kg: 1}\n"


def read(folder: Path, standing: str, garden: str = GARDEN, wishes: str = WISHES) -> tuple[Scenario, Catalogue]:
    file = folder / "stays.yaml"
    file.write_text(garden + wishes + "standing:\n" + standing, encoding="utf-8")
    return read_with_catalogue(file)


def kilograms(folder: Path, standing: str, garden: str = GARDEN) -> list[float]:
    """Return what the one crop that stands gives in each planned year, counted by the referee."""
    scenario, catalogue = read(folder, standing, garden, "")
    found = plan_rotation(scenario, catalogue, Limits(effort=1))
    plan, place = found.plan, make_garden(scenario, catalogue)  # type: ignore[union-attr]
    assert judge(place, plan).breaches == ()
    return [planting.harvest.typical_kg for planting in sorted(recount(place, plan).plantings, key=lambda p: p.start)]


@pytest.mark.parametrize(
    ("crop", "shares"),
    [
        # University of Illinois 2015 and Wisconsin Extension 2020: asparagus is cut for a month in its third year, for
        # 8 to 10 weeks from the fourth on; 4 of 9 weeks are 44 %. Sutton 1921 too cuts from the third year on.
        ("asparagus", (0, 0, 4 / 9, 1, 1)),
        # The same two: rhubarb is pulled for 1 to 2 weeks in its second year, 8 to 10 from the third: 1.5 of 9, 17 %.
        ("rhubarb", (0, 1.5 / 9, 1, 1, 1)),
        # Sutton 1921: strawberries planted by early October are picked in the year after.
        ("strawberry", (0, 1, 1, 1, 1)),
    ],
)
def test_yields_by_year_are_those_published(tmp_path: Path, crop: str, shares: tuple[float, ...]) -> None:
    five = GARDEN.replace("years: 3", "years: 5")
    found = kilograms(tmp_path, f"  - {{bed: fruit bed, crop: {crop}, planted: 2027, strips: [1], plants: 1}}\n", five)
    assert [kg / found[-1] for kg in found] == pytest.approx(shares, abs=0.02)


def test_what_stood_before_is_told_with_its_age(tmp_path: Path) -> None:
    # Rhubarb of 2026 is in its second year in 2027. A plant has 85 cm by 90 cm, said in whole 5 cm: 0.765 m2 of 2 kg.
    line = "  - {bed: fruit bed, crop: rhubarb, planted: 2026, strips: [1], plants: 1}\n"
    assert kilograms(tmp_path, line) == pytest.approx([0.17 * 1.53, 1.53, 1.53], abs=0.01)


def test_ground_is_taken_until_it_is_given_back(tmp_path: Path) -> None:
    scenario, catalogue = read(
        tmp_path,
        "  - {bed: fruit bed, crop: strawberries, planted: 2025, strips: [2, 3], plants: 4, until: 2028-08-15}\n",
        wishes="",
    )
    found = plan_rotation(scenario, catalogue, Limits(effort=1))
    plan = found.plan  # type: ignore[union-attr]
    assert [(p.crop, p.start, p.clear, p.strips) for p in plan.plantings] == [
        ("strawberry", date(2027, 1, 1), date(2027, 12, 31), (2, 3)),
        ("strawberry", date(2028, 1, 1), date(2028, 8, 15), (2, 3)),
    ]


def test_it_counts_for_its_wish_and_is_neither_bought_nor_planted_again(tmp_path: Path) -> None:
    lines = (
        "  - {bed: fruit bed, crop: rhubarb, planted: 2026, strips: [1], plants: 1}\n"
        "  - {bed: fruit bed, crop: asparagus, planted: 2028, strips: [3], plants: 2}\n"
    )
    scenario, catalogue = read(tmp_path, lines)
    garden = make_garden(scenario, catalogue)
    found = plan_rotation(scenario, catalogue, Limits(effort=2))
    plan = found.plan  # type: ignore[union-attr]
    got = [outcome.got.typical_kg for outcome in plan.targets if outcome.crop == "rhubarb"]
    assert got == pytest.approx([0.26, 1.53, 1.53], abs=0.01)
    assert [supply.crop for supply in supply_of(garden, plan.plantings)][:2] == ["kale", "rhubarb"]
    told = {(job.planting.crop, job.kind) for job in jobs_of(garden, plan) if garden.crops[job.planting.crop].stays}
    assert told == {
        (name, kind) for name in ("rhubarb", "rhubarb in year 2") for kind in ("first harvest", "last harvest")
    }
    bought = {(year, one.what, one.amount) for year, all_ in purchases_of(garden, plan).items() for one in all_}
    assert {one for one in bought if one[1] != "kale" and one[1].startswith(("rhubarb", "asparagus"))} == {
        (2028, "asparagus in year 1", 2)
    }


def test_the_next_year_s_file_tells_of_it_once(tmp_path: Path) -> None:
    line = "  - {bed: fruit bed, crop: asparagus, planted: 2025, strips: [1], plants: 2}\n"
    scenario, catalogue = read(tmp_path, line, wishes="")
    found = plan_rotation(scenario, catalogue, Limits(effort=1))
    turned = next_year(make_garden(scenario, catalogue), scenario, found.plan, NOTHING_TOLD, 3)  # type: ignore[union-attr]
    assert turned.scenario.history == ()
    assert turned.scenario.standing == scenario.standing


def test_no_choice_is_made_of_what_stays(tmp_path: Path) -> None:
    line = "  - {bed: fruit bed, crop: rhubarb, planted: 2020, strips: [1], plants: 1}\n"
    garden = make_garden(*read(tmp_path, line))
    ours = [choice for choice in garden.choices if garden.crops[choice.sowing.crop].stays is not None]
    # One choice a year, of the one plant that stands there, in a bed that needs no more for it than three choices.
    assert [(choice.sowing.begins, choice.block.plants) for choice in ours] == [(2027, 1), (2028, 1), (2029, 1)]


def test_the_fern_of_asparagus_is_tall_for_the_order_of_heights(tmp_path: Path) -> None:
    # 213 cm is over the second step, 100 cm: at the equator side of a bed it shades lower crops behind it.
    wishes = "household:\n  targets:\n    - {crop: kale, kg: 2}\n"
    line = "  - {bed: root bed, crop: asparagus, planted: 2020, strips: [3, 4], plants: 2}\n"
    scenario, catalogue = read(tmp_path, line, wishes=wishes)
    found = plan_rotation(scenario, catalogue, Limits(effort=2))
    kale = [planting for planting in found.plan.plantings if planting.crop == "kale"]  # type: ignore[union-attr]
    assert kale
    assert all(planting.bed == "fruit bed" for planting in kale)


def test_in_the_south_it_is_picked_half_a_year_later(tmp_path: Path) -> None:
    south = (
        GARDEN.replace("latitude: 52", "latitude: -42").replace("5 May", "25 October").replace("15 October", "20 April")
    )
    line = "  - {bed: fruit bed, crop: asparagus, planted: 2020, strips: [1], plants: 2}\n"
    scenario, catalogue = read(tmp_path, line, south, "")
    found = plan_rotation(scenario, catalogue, Limits(effort=1))
    picked = [planting.first_harvest for planting in found.plan.plantings]  # type: ignore[union-attr]
    assert [(day.month, day.year) for day in picked if day is not None] == [(10, 2027), (10, 2028), (10, 2029)]


@pytest.mark.parametrize(
    ("standing", "wishes", "fault"),
    [
        ("crop: kale, planted: 2025, strips: [1], plants: 1", "", "16:28: 'kale' does not stay for years"),
        ("crop: rhubarb, planted: 2025, strips: [9], plants: 1", "", "16:61: bed 'fruit bed' has strips 1 to 4, not 9"),
        (
            "crop: rhubarb, planted: 2025, strips: [1], plants: 9",
            "",
            "16:73: no more than 1 of 'rhubarb' fit into these strips, not 9",
        ),
        ("crop: rhubarb, planted: 2029, strips: [1], plants: 1, until: 2028-01-01", "", "gone before it is planted"),
        ("crop: rhubarb, planted: 2025, strips: [1], plants: 1", "asparagus", "no plan can choose it"),
    ],
)
def test_what_cannot_stand_is_refused(tmp_path: Path, standing: str, wishes: str, fault: str) -> None:
    wish = f"household:\n  targets:\n    - {{crop: {wishes or 'kale'}, kg: 2}}\n"
    with pytest.raises(InputFault) as refusal:
        read(tmp_path, f"  - {{bed: fruit bed, {standing}}}\n", wishes=wish)
    assert fault in str(refusal.value)


def test_two_cannot_stand_on_the_same_ground(tmp_path: Path) -> None:
    one = "  - {bed: fruit bed, crop: rhubarb, planted: 2025, strips: [1], plants: 1}\n"
    with pytest.raises(InputFault, match="the ground is taken by what stands in line 16"):
        read(tmp_path, one + one.replace("2025", "2028"), wishes=WISHES.replace("    - {crop: kale, kg: 2}\n", ""))
    then = one.replace("plants: 1}", "plants: 1, until: 2027-10-01}") + one.replace("2025", "2028")
    assert len(read(tmp_path, then)[0].standing) == 2
