"""Whole screens of what follows from a diary: the diary, the week's ticks, yields weighed, and what may be resown."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

import pytest

from rotasolve.domain.chance import DiseaseCost
from rotasolve.domain.diary import Diary
from rotasolve.domain.plan import Harvest
from rotasolve.domain.scenario import Weighed
from rotasolve.files.diary import read_diary_text
from rotasolve.referee import blank_plan
from rotasolve.relations.ground.garden import make_garden
from rotasolve.relations.ground.weighings import weighings_of
from rotasolve.relations.work.done import Progress, overdue, ticks_of
from rotasolve.relations.work.jobs import chosen, jobs_of
from rotasolve.tasks.resowing import chances_to_resow
from rotasolve.views.answers.resow_page import resow_page
from rotasolve.views.exports.diary_json import diary_answer
from rotasolve.views.exports.jobs_json import calendar_answer
from rotasolve.views.pages.calendar_page import calendar_page
from rotasolve.views.pages.diary_page import diary_page
from rotasolve.views.pages.yields_page import yields_page
from rotasolve.views.words.chances import say_disease
from rotasolve.views.words.happenings import say_happening
from rotasolve.views.words.layout import columns_of
from rotasolve.views.words.look import Look
from tests.helpers.diaries import BEDS, GARDEN, HARD, NAMED
from tests.helpers.tiny import CATALOGUE, bed, day, planting, scenario

Golden = Callable[[str, str], None]
TOLD = (
    "2027-04-20 frost -2 C",
    "2027-05-10 sown lettuce, gate bed, strips 1-2: moist soil",
    "2027-05-30 sown bean, left",
    "2027-06-02 pest seen slugs on lettuce, gate bed",
    "2027-06-03 failed 3 lettuce, gate bed",
    "2027-06-05 failed bean, left: slugs",
    "2027-06-10 disease seen club root on kale, left",
    "2027-06-11 bed closed left, until 2027-09-30: being dug over",
    "2027-07-08 picked 1.2 kg lettuce, gate bed",
    "2027-07-15 picked 0.35 kg lettuce, gate bed: bolting",
    "2027-07-20 noted: the robins are back",
)
SCENARIO = scenario(["lettuce", "bean", "kale"], beds=[bed("gate bed", 3), bed("left", 2)], years=2)
KG = Harvest(low_kg=2, typical_kg=4, high_kg=6)
PLAN = blank_plan(
    SCENARIO,
    (
        planting("lettuce", (1, 2), "2027-05-08", "2027-07-31", "2027-07-07", bed="gate bed", harvest=KG),
        planting("lettuce", (3,), "2027-05-08", "2027-07-31", "2027-07-07", bed="gate bed", harvest=KG),
        planting("bean", (1, 2), "2027-05-29", "2027-07-31", "2027-07-13", bed="left", harvest=KG),
    ),
)
JOBS = jobs_of(make_garden(SCENARIO, CATALOGUE), PLAN)


def diary() -> Diary:
    read = read_diary_text([*TOLD, ""], "d.txt", SCENARIO, CATALOGUE)
    assert read.faults == ()
    return read.diary


def fits(text: str, width: int) -> bool:
    return all(columns_of(line) <= width for line in text.splitlines())


@pytest.mark.parametrize("width", [50, 80])
def test_diary_page(golden: Golden, width: int) -> None:
    text = diary_page(SCENARIO, diary(), Look(width))
    assert fits(text, width)
    golden(f"diary_{width}", text)


def test_an_empty_diary_says_so() -> None:
    assert diary_page(SCENARIO, Diary(), Look()).endswith("Nothing is told of these days.\n")
    assert diary_answer(Diary()) == {"happenings": []}


@pytest.mark.parametrize("width", [50, 80])
def test_calendar_with_ticks(golden: Golden, width: int) -> None:
    garden, told = make_garden(SCENARIO, CATALOGUE), diary()
    ticks, monday = ticks_of(JOBS, told), day("2027-08-02")
    progress = Progress(ticks, overdue(JOBS, ticks, told, monday))
    shown = chosen(JOBS, first=date(2027, 5, 1), last=date(2027, 7, 31))
    text = calendar_page(garden, shown, Look(width), progress=progress)
    assert fits(text, width)
    golden(f"calendar_ticked_{width}", text)
    answer = calendar_answer(garden, shown, scenario_matches=True, progress=progress)
    assert sum(job["diary"] is not None for job in answer["jobs"]) == text.count("[x]") + text.count("[-]")
    assert [(job["job"], job["strips"]) for job in answer["overdue"]] == [("clear", [1, 2]), ("clear", [3])]


@pytest.mark.parametrize("width", [50, 80])
def test_yields_page(golden: Golden, width: int) -> None:
    before = SCENARIO.model_copy(update={"weighed": (Weighed(crop="kale", year=2026, kg=3, published_kg=4),)})
    found = weighings_of(before, PLAN, diary(), date(2027, 9, 1))
    then = before.model_copy(update={"weighed": (*before.weighed, *(one.record() for one in found))})
    text = yields_page(before, found, then, Look(width))
    assert fits(text, width)
    golden(f"yields_{width}", text)


@pytest.mark.parametrize("width", [50, 80])
def test_resow_page(golden: Golden, width: int) -> None:
    beans = planting("bean", (1,), "2028-05-29", "2028-07-31", "2028-07-13", bed="left")
    found = chances_to_resow(
        SCENARIO, CATALOGUE, blank_plan(SCENARIO, (beans,)), "left", date(2027, 5, 1), (1, 2), ["potato"]
    )
    text = resow_page(found, "left", (1, 2), date(2027, 5, 1), Look(width))
    assert fits(text, width)
    golden(f"resow_{width}", text)


def test_what_a_disease_means() -> None:
    cost = DiseaseCost("club root", "left", ("kale",), 4, False, 2032, (PLAN.plantings[2],), 12)
    assert [said.replace("\u00a0", " ") for said in say_disease(cost, south=False)] == [
        "Club root keeps its hosts away from left for 4 complete years, so not before 2032: kale.",
        "The plan loses 1 planting there: bean of 29 May 2027 (4 kg); without them it loses 12 points more.",
    ]
    closed = DiseaseCost("white rot", "left", (), 0, True, None)
    assert list(say_disease(closed, south=False)) == [
        "White rot keeps left closed to its hosts for good: none of your crops."
    ]


def test_hostile_names_are_text_in_the_diary() -> None:
    names = [one.name for one in BEDS]
    told = [f'2027-05-01 picked 1 kg "{HARD[0].name}", "{name.replace(chr(34), chr(34) * 2)}"' for name in names]
    read = read_diary_text([*told, ""], "d.txt", GARDEN, NAMED)
    assert [one.bed for one in read.diary.happenings] == names
    page = diary_page(GARDEN, read.diary, Look(160))
    assert len(page.split("\n")) == len(page.splitlines()) + 1
    assert all("\x1b" not in say_happening(one) for one in read.diary.happenings)
