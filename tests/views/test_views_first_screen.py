"""The first screen of a plan: golden screens of three shipped gardens, and what it must say."""

from __future__ import annotations

import gzip
from collections.abc import Callable
from pathlib import Path

import pytest

from rotasolve.domain.missed import ROOM_LEFT
from rotasolve.domain.plan import Harvest, Plan, TargetOutcome
from rotasolve.domain.sun import LowSun
from rotasolve.files.crops import load_catalogue
from rotasolve.files.plans import read_plan
from rotasolve.files.scenarios import read_scenario
from rotasolve.files.shipped import shipped_folder
from rotasolve.goals import GOALS
from rotasolve.referee import blank_plan
from rotasolve.relations.ground.garden import Garden, make_garden
from rotasolve.rules import RULES
from rotasolve.tasks.missing import missed_most, why_missed
from rotasolve.views.pages.first_screen import Names, first_screen
from rotasolve.views.pages.year_beds import year_beds
from rotasolve.views.words.layout import columns_of
from rotasolve.views.words.look import Look
from rotasolve.views.words.missed import say_missed
from rotasolve.views.words.screen import LINES
from rotasolve.views.words.titles import TITLES
from tests.helpers.tiny import CATALOGUE, bed, planting, scenario

DATA = Path(__file__).parents[1] / "data"
PLANS = ("cold-frame", "family-garden", "allotment")
NAMES = Names("garden.yaml", "garden.plan.json")


def case_of(name: str, folder: Path) -> tuple[Garden, Plan]:
    catalogue = load_catalogue()
    file = DATA / "plans" / f"{name}.json"
    if name == "allotment":
        file = folder / "allotment.json"
        file.write_bytes(gzip.decompress((DATA / "allotment.plan.json.gz").read_bytes()))
    garden = read_scenario(shipped_folder("scenarios") / f"{name}.yaml", catalogue)
    return make_garden(garden, catalogue), read_plan(file).plan


@pytest.mark.parametrize("name", PLANS)
@pytest.mark.parametrize("width", [50, 80])
def test_first_screen(golden: Callable[[str, str], None], name: str, width: int, tmp_path: Path) -> None:
    garden, plan = case_of(name, tmp_path)
    missed = why_missed(garden, plan)
    text = first_screen(garden.scenario, garden.catalogue, plan, missed, NAMES, Look(width))
    assert all(columns_of(line) <= width for line in text.splitlines())
    if width == 80:
        assert len(text.splitlines()) <= LINES
    # Every wish is named: as had in full, as had in part with its years, or among those had in part as well.
    for crop in {target.crop for target in garden.scenario.household.targets} if name != "allotment" else ():
        assert crop in " ".join(text.split())
    assert all(bed.name in text for bed in garden.scenario.beds)
    if name == "cold-frame":  # the others' reasons move with every figure of the crop files
        golden(f"first_{name}_{width}", text)


def test_every_rule_and_goal_has_a_name() -> None:
    assert set(TITLES) == {rule.key for rule in RULES} | {goal.key for goal in GOALS}
    assert len(set(TITLES.values())) == len(TITLES)


def outcome(crop: str, year: int, wanted: float, got: float) -> TargetOutcome:
    return TargetOutcome(
        crop=crop, year=year, wanted_kg=wanted, got=Harvest(low_kg=got / 2, typical_kg=got, high_kg=got * 2)
    )


def test_of_each_crop_the_worst_year_is_looked_into_the_worst_crop_first() -> None:
    told = [
        outcome("kale", 2027, 4, 2),  # half of it
        outcome("kale", 2028, 4, 1),  # a quarter
        outcome("tomato", 2027, 10, 0),  # nothing
        outcome("lettuce", 2027, 10, 9.5),  # 95 %: as good as all
        outcome("bean", 2027, 10, 9.4),
    ]
    assert [(one.crop, one.year) for one in missed_most(told)] == [("tomato", 2027), ("kale", 2028), ("bean", 2027)]


def missed(*plantings: object, **more: object) -> list[tuple[str, str, int]]:
    """Return why kale is missed in a garden of one bed of two strips: crop, why and in how many beds."""
    place = scenario(["kale", "lettuce"], [bed(strips=2)], **more)  # type: ignore[arg-type]
    plan = blank_plan(place, tuple(plantings)).model_copy(  # type: ignore[arg-type]
        update={"targets": (outcome("kale", 2027, 4, 0),)}
    )
    return [(one.crop, one.why, one.beds) for one in why_missed(make_garden(place, CATALOGUE), plan)]


def test_a_wish_missed_where_there_is_room_says_so() -> None:
    assert missed() == [("kale", ROOM_LEFT, 1)]


def test_a_wish_missed_because_the_ground_is_taken_says_so() -> None:
    # Lettuce on both strips all summer: kale could be started on no day.
    taken = planting("lettuce", (1, 2), "2027-03-01", "2027-12-31")
    assert missed(taken) == [("kale", "free-ground", 1)]


def test_a_wish_missed_because_the_family_rests_says_so() -> None:
    history = [{"bed": "bed", "crop": "kale", "year": 2026}]
    assert missed(history=history) == [("kale", "rest", 1)]


def test_a_reason_is_said_once_for_all_its_crops() -> None:
    from rotasolve.domain.missed import Missed
    from rotasolve.domain.shortfall import Hopeless

    told = [
        Missed(crop="kale", year=2027, why="rest", beds=3),
        Missed(crop="melon", year=2027, hopeless=Hopeless(crop="melon")),
        Missed(crop="radish", year=2028, why="rest", beds=1),
    ]
    assert list(say_missed(told, {}, Look())) == [
        "Melon is never in season in a bed it fits: with these frost dates there is no start from which it ripens in "
        "the years planned; a cover over a bed would lengthen the season.",
        "Kale, radish: in most beds that would do, the same family comes too soon before or after.",
    ]


def test_beds_stand_on_a_line_each_with_their_days() -> None:
    place = scenario(["kale", "lettuce"], [bed(), bed("other bed")], years=2)
    plan = blank_plan(
        place,
        (
            planting("lettuce", (1,), "2027-04-10", "2027-06-20"),
            planting("kale", (1,), "2027-07-01", "2028-02-20"),
            planting("kale", (2,), "2027-07-01", "2028-02-20"),  # the same days: said once
        ),
    )
    assert year_beds(place, plan, 2027, Look(80, plain=True), 10) == [
        "bed        lettuce 10 Apr-20 Jun, kale from 1 Jul",
        "other bed  free all year",
    ]
    assert year_beds(place, plan, 2028, Look(80, plain=True), 10) == [
        "bed        kale to 20 Feb",
        "other bed  free all year",
    ]
    # Two lines for two beds: there is no second line for the kale.
    assert year_beds(place, plan, 2027, Look(42, plain=True), 2) == [
        "bed        lettuce 10 Apr-20 Jun, +1 more",
        "other bed  free all year",
    ]


def test_of_many_beds_the_others_are_counted() -> None:
    place = scenario(["kale"], [bed(f"bed {n}") for n in range(30)])
    lines = year_beds(place, blank_plan(place), 2027, Look(80), 10)
    assert len(lines) == 10
    assert lines[-1] == "and 21 more beds"


def test_crops_with_little_sun_are_named() -> None:
    place = scenario(["kale"], [bed()])
    low = [LowSun(crop="fig", bed=f"bed {n}", hours=4.5, wanted=6) for n in range(6)]
    text = first_screen(place, CATALOGUE, blank_plan(place), (), NAMES, Look(), low)
    said = "In less sun than they like, hours a day: fig in bed 0 (4.5 of 6 h), fig in bed 1 (4.5 of 6 h)"
    assert said in " ".join(text.split())
    assert "and 2 more." in text
