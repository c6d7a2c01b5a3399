"""Jobs that a diary ticks off, that have fallen away, and that are overdue."""

from __future__ import annotations

from datetime import date

from rotasolve.domain.diary import KINDS, Diary
from rotasolve.referee import blank_plan
from rotasolve.relations.ground.garden import make_garden
from rotasolve.relations.work.done import _TICKED_BY, Tick, overdue, ticks_of
from rotasolve.relations.work.jobs import JOB_KINDS, Job, jobs_of
from tests.helpers.tiny import CROPS, TOMATO, bed, catalogue, crop, figure, planting, scenario

RAISING = {"first_pot": figure(4, "cm"), "hardening": figure(1, "weeks")}
RAISED = TOMATO.model_validate({**TOMATO.model_dump(exclude_none=True), "raising": RAISING})
CATALOGUE = catalogue([*(one for one in CROPS if one.name != "tomato"), RAISED, crop("beet", "goosefoots")])
GARDEN = make_garden(scenario(["tomato", "beet"], beds=(bed("gate bed", 4), bed("left", 2))), CATALOGUE)
SET_OUT = planting(
    "tomato", (1, 2), "2027-05-15", "2027-09-15", "2027-07-14", bed="gate bed", way="set out", raise_from="2027-03-20"
)
SOWN = planting("beet", (1,), "2027-05-08", "2027-07-31", "2027-07-07", bed="left")
JOBS = jobs_of(GARDEN, blank_plan(GARDEN.scenario, (SET_OUT, SOWN)))


def diary(*lines: str) -> Diary:
    from rotasolve.files.diary import read_diary_text

    read = read_diary_text([*lines, ""], "d.txt", GARDEN.scenario, CATALOGUE)
    assert read.faults == ()
    return read.diary


def ticks(*lines: str) -> dict[tuple[str, str], Tick]:
    return {(job.planting.crop, job.kind): tick for job, tick in ticks_of(JOBS, diary(*lines)).items()}


def late(before: date, *lines: str) -> list[tuple[str, str]]:
    told = diary(*lines)
    return [(job.planting.crop, job.kind) for job in overdue(JOBS, ticks_of(JOBS, told), told, before)]


def test_the_jobs_of_the_two_plantings() -> None:
    assert [(job.planting.crop, job.kind, job.day.isoformat()) for job in JOBS] == [
        ("tomato", "spread compost", "2027-02-01"),
        ("tomato", "sow indoors", "2027-03-20"),
        ("tomato", "harden off", "2027-05-08"),
        ("beet", "sow", "2027-05-08"),
        ("tomato", "set out", "2027-05-15"),
        ("beet", "first harvest", "2027-07-07"),
        ("tomato", "first harvest", "2027-07-14"),
        ("beet", "last harvest", "2027-07-31"),
        ("beet", "clear", "2027-07-31"),
        ("tomato", "last harvest", "2027-09-15"),
        ("tomato", "clear", "2027-09-15"),
    ]


def test_a_line_ticks_its_job_and_those_that_must_have_come_before() -> None:
    assert ticks("2027-05-18 set out tomato, gate bed") == {
        ("tomato", "sow indoors"): Tick("done", date(2027, 5, 18), told=False),
        ("tomato", "harden off"): Tick("done", date(2027, 5, 18), told=False),
        ("tomato", "set out"): Tick("done", date(2027, 5, 18)),
    }
    assert ticks("2027-03-22 sown indoors tomato") == {("tomato", "sow indoors"): Tick("done", date(2027, 3, 22))}


def test_what_failed_is_no_longer_to_be_done() -> None:
    found = ticks("2027-06-01 failed beet, left")
    assert found == {
        ("beet", "sow"): Tick("done", date(2027, 6, 1), told=False),
        ("beet", "first harvest"): Tick("fallen away", date(2027, 6, 1), told=False),
        ("beet", "last harvest"): Tick("fallen away", date(2027, 6, 1), told=False),
        ("beet", "clear"): Tick("fallen away", date(2027, 6, 1), told=False),
    }
    # One plant of four lost ends nothing.
    assert ticks("2027-06-01 failed 1 beet, left") == {}


def test_overdue_since_the_diary_begins() -> None:
    monday = date(2027, 5, 17)
    assert late(monday) == []  # no diary, no word
    # The diary begins after the sowing indoors: of that it says nothing.
    assert late(monday, "2027-04-01 frost") == [("tomato", "harden off"), ("beet", "sow"), ("tomato", "set out")]
    assert late(monday, "2027-04-01 frost", "2027-05-16 set out tomato, gate bed") == [("beet", "sow")]
    # A week earlier only what lies before that Monday.
    assert late(date(2027, 5, 10), "2027-04-01 frost") == [("tomato", "harden off"), ("beet", "sow")]
    # In August the beet is past; that its ground was not cleared is still said.
    assert late(date(2027, 8, 16), "2027-04-01 frost", "2027-07-20 picked tomato, gate bed") == [("beet", "clear")]


def test_each_line_ticks_the_nearest_of_two_jobs_of_a_kind() -> None:
    one, other = (Job(date(2027, month, 1), "cover", SET_OUT, 2027, nth=nth) for nth, month in ((1, 5), (2, 9)))
    found = ticks_of((one, other), diary("2027-08-20 covered tomato, gate bed"))
    assert found == {other: Tick("done", date(2027, 8, 20))}


def test_every_job_that_can_be_ticked_is_ticked_by_words_that_a_diary_knows() -> None:
    assert set(_TICKED_BY) <= set(JOB_KINDS)
    assert {kind for kinds in _TICKED_BY.values() for kind in kinds} <= set(KINDS)
