"""Which planting a line of a diary speaks of, and what the diary tells as history, diseases and manure."""

from __future__ import annotations

from datetime import date

import pytest

from rotasolve.relations.ground.diary_records import beds_closed, history_told, with_diary
from rotasolve.relations.ground.happened import FAR_DAYS, happened_to
from tests.helpers.diaries import TINY, read_lines
from tests.helpers.tiny import CATALOGUE, planting

RAISED = {"way": "set out", "raise_from": "2027-03-20", "bed": "gate bed"}
EARLY = planting("lettuce", (1, 2), "2027-05-08", "2027-07-31", "2027-07-07", bed="gate bed")
LATE = planting("lettuce", (1,), "2027-08-08", "2027-10-15", "2027-10-01", bed="gate bed")
BESIDE = planting("lettuce", (3,), "2027-05-08", "2027-07-31", "2027-07-07", bed="gate bed")
THERE = planting("lettuce", (1,), "2027-05-10", "2027-07-31", "2027-07-07", bed="left")
TOMATO = planting("tomato", (4,), "2027-05-15", "2027-09-15", "2027-07-14", **RAISED)
PLAN = (EARLY, LATE, BESIDE, THERE, TOMATO)


@pytest.mark.parametrize(
    ("line", "spoken_of"),
    [
        # Both blocks of the start of 8 May; the one of 8 August is further off.
        ("2027-05-09 sown lettuce, gate bed", (EARLY, BESIDE)),
        ("2027-05-09 sown lettuce, gate bed, strip 2", (EARLY,)),
        # 24 June is 47 days after 8 May and 45 before 8 August.
        ("2027-06-24 sown lettuce, gate bed", (LATE,)),
        ("2027-05-09 planted lettuce, left", (THERE,)),
        ("2027-05-09 set out lettuce, left", ()),
        ("2027-07-20 picked 1 kg lettuce, gate bed, strips 3-4", (BESIDE,)),
        # Without a bed it may be any that is picked then.
        ("2027-07-20 picked 1 kg lettuce", (EARLY, BESIDE, THERE)),
        ("2027-10-20 cleared lettuce, gate bed", (LATE,)),
        ("2027-04-01 sown indoors tomato", (TOMATO,)),
        ("2027-04-01 sown indoors lettuce", ()),
        ("2027-05-12 set out tomato, gate bed", (TOMATO,)),
        ("2027-09-15 picked 1 kg kale, left", ()),
        # 60 days after 15 May is 14 July; a day later it is another sowing.
        ("2027-07-14 planted tomato, gate bed", (TOMATO,)),
        ("2027-07-15 planted tomato, gate bed", ()),
    ],
)
def test_the_plantings_that_a_line_speaks_of(line: str, spoken_of: tuple[object, ...]) -> None:
    assert FAR_DAYS == 60
    told, left = happened_to(PLAN, read_lines(line).diary)
    assert tuple(one.planting for one in told if one.told) == spoken_of
    assert len(left) == (not spoken_of)


def test_what_ends_a_planting_and_what_it_loses() -> None:
    lines = ("2027-05-09 sown lettuce, gate bed", "2027-06-01 failed 3 lettuce, gate bed, strips 1-2")
    early, _, beside, *_ = happened_to(PLAN, read_lines(*lines).diary)[0]
    # 4 plants on each of two strips.
    assert (early.started, early.lost_plants, early.ended) == (date(2027, 5, 9), 3, None)
    assert beside.lost_plants == 0
    # Without strips the 8 plants of one and the 4 of the other share them: 2 and 1.
    early, _, beside, *_ = happened_to(PLAN, read_lines("2027-06-01 failed 3 lettuce, gate bed").diary)[0]
    assert (early.lost_plants, beside.lost_plants) == (2, 1)
    early, *_ = happened_to(PLAN, read_lines(*lines, "2027-06-08 failed lettuce, gate bed").diary)[0]
    assert (early.lost_plants, early.ended) == (8, date(2027, 6, 8))
    early, *_ = happened_to(PLAN, read_lines("2027-07-08 cleared lettuce, gate bed, strip 1").diary)[0]
    assert early.ended is None
    early, *_ = happened_to(PLAN, read_lines("2027-07-08 cleared lettuce, gate bed, strips 1-2").diary)[0]
    assert early.ended == date(2027, 7, 8)


def test_diseases_and_manure_become_records_of_the_scenario() -> None:
    lines = ("2027-06-01 disease seen club root on kale, left", "2027-06-02 disease seen club root, left")
    diary = read_lines(*lines, "2027-03-01 manured gate bed", "2027-06-03 pest seen slugs, gate bed").diary
    told = with_diary(TINY, CATALOGUE, diary)
    assert [(one.bed, one.disease, one.since) for one in told.seen] == [("left", "club root", date(2027, 6, 1))]
    assert [(one.bed, one.spread) for one in told.manure] == [("gate bed", date(2027, 3, 1))]
    # Told again it changes nothing.
    assert with_diary(told, CATALOGUE, diary) == told


def test_beds_are_closed_as_the_last_line_says() -> None:
    lines = ("2027-03-01 bed closed left: flooded", "2027-04-01 bed closed left until 2027-06-30")
    found = beds_closed(read_lines(*lines, "2027-05-01 bed closed gate bed until 2027-05-01").diary)
    assert [(one.bed, str(one.since), str(one.until)) for one in found] == [
        ("left", "2027-03-01", "2027-03-31"),
        ("left", "2027-04-01", "2027-06-30"),
        ("gate bed", "2027-05-01", "2027-05-01"),
    ]
    # Opened again on the day on which it was closed: it was not.
    twice = ("2027-03-01 bed closed left", "2027-03-01 bed closed left until 2027-03-02")
    assert [str(one.until) for one in beds_closed(read_lines(*twice).diary)] == ["2027-03-02"]


def test_what_grew_by_the_diary_alone() -> None:
    diary = read_lines(
        "2026-05-08 sown lettuce, left, strip 1",
        "2026-07-20 picked 1 kg lettuce",
        "2026-07-31 cleared lettuce, left, strip 1",
        "2026-08-01 sown kale, left",
        "2026-10-15 planted garlic, gate bed, strips 1-2",
        "2027-07-20 cleared garlic, gate bed",
    ).diary
    told = [(one.bed, one.crop, one.year, one.strips, one.until) for one in history_told(diary.happenings, south=False)]
    assert told == [
        ("left", "lettuce", 2026, (1,), date(2026, 7, 31)),
        ("left", "kale", 2026, (), None),
        # On the ground from October to July it is a host of the year in which it is lifted.
        ("gate bed", "garlic", 2027, (1, 2), date(2027, 7, 20)),
    ]
