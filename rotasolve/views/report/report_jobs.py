"""The jobs of a year for the report: week by week, with what is the same for all jobs of a kind said once."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import TYPE_CHECKING

from rotasolve.domain.strips import say_runs
from rotasolve.views.words.job_words import job_notes, job_title, pot_notes, sheet_notes
from rotasolve.views.words.weeks import say_week, say_week_number, say_weekday, week_of

if TYPE_CHECKING:
    from rotasolve.relations.ground.garden import Garden
    from rotasolve.relations.work.jobs import Job
    from rotasolve.views.words.look import Look

LEFT_OUT = ("last harvest",)
"""No job but a day, which stands on the beds' sheets beside the day on which the bed is cleared."""
CommonNotes = Mapping[str, tuple[str, ...]]
"""A kind of job, or a job's title, to the notes that all such jobs share."""


@dataclass(frozen=True)
class JobDay:
    """A day and its jobs in words: what is to be done, where, and what is to be known there."""

    day: str
    jobs: tuple[str, ...]


@dataclass(frozen=True)
class JobWeek:
    """A week and the days of it that have jobs."""

    title: str
    days: tuple[JobDay, ...]


def common_notes(jobs: Iterable[Job], garden: Garden, look: Look) -> dict[str, tuple[str, ...]]:
    """Return what several jobs have in common: notes of all jobs of a kind, then, of the rest, of all with one title.

    Each is found under the kind, such as ``harden off``, or under the title, such as ``sow kale indoors``.
    """
    by_kind: dict[str, list[tuple[str, ...]]] = {}
    for job in (listed := list(jobs)):
        by_kind.setdefault(job.kind, []).append(_notes(job, garden, look))
    found = _shared(by_kind)
    by_title: dict[str, list[tuple[str, ...]]] = {}
    for job in listed:
        known = found.get(job.kind, ())
        rest = tuple(note for note in _notes(job, garden, look) if note not in known)
        by_title.setdefault(job_title(job), []).append(rest)
    return dict(sorted((found | _shared(by_title)).items()))


def _shared(told: Mapping[str, list[tuple[str, ...]]]) -> dict[str, tuple[str, ...]]:
    """Return the notes that stand in every one of several lists."""
    shared = {
        name: tuple(note for note in notes[0] if all(note in others for others in notes))
        for name, notes in told.items()
        if len(notes) > 1
    }
    return {name: notes for name, notes in shared.items() if notes}


def _notes(job: Job, garden: Garden, look: Look) -> tuple[str, ...]:
    said = sheet_notes(job, garden, look)
    rest = (note for note in job_notes(job, garden, look) if note not in said)
    return (*pot_notes(job, garden, look), *rest)


def job_weeks(jobs: Sequence[Job], garden: Garden, look: Look, common: CommonNotes) -> tuple[JobWeek, ...]:
    """Return jobs week by week, without the notes in ``common`` and on the beds' sheets.

    Jobs of one kind on one day are one line that names their crops and places; those ``LEFT_OUT`` are not told. The
    first week of a calendar year says which year it is.
    """
    weeks: list[JobWeek] = []
    year = None
    told = [job for job in jobs if job.kind not in LEFT_OUT]
    for monday, week in groupby(told, key=lambda job: week_of(job.day)):
        days = []
        for day, of_day in groupby(week, key=lambda job: job.day):
            alike: dict[str, list[Job]] = {}
            for job in of_day:
                alike.setdefault(job.kind, []).append(job)
            lines = tuple(_line(kind, here, garden, look, common) for kind, here in alike.items())
            days.append(JobDay(say_weekday(day), lines))
        said = say_week_number(monday) if monday.year == year else say_week(monday)
        weeks.append(JobWeek(said, tuple(days)))
        year = monday.year
    return tuple(weeks)


def _line(kind: str, jobs: Sequence[Job], garden: Garden, look: Look, common: CommonNotes) -> str:
    """Say the jobs of one kind on one day: ``sow: carrot (gate bed, 1-2: 580 seeds); pea (long bed, 3)``."""
    crops: dict[str, list[Job]] = {}
    for job in jobs:
        crops.setdefault(job.planting.crop, []).append(job)
    return f"{kind}: {'; '.join(_places(crop, here, garden, look, common) for crop, here in crops.items())}"


def _places(crop: str, jobs: Sequence[Job], garden: Garden, look: Look, common: CommonNotes) -> str:
    """Say a crop, and its places with what is to be known of each."""
    known = (*common.get(jobs[0].kind, ()), *common.get(job_title(jobs[0]), ()))
    notes = [", ".join(note for note in _notes(job, garden, look) if note not in known) for job in jobs]
    places = [f"{job.planting.bed}, {say_runs(job.planting.strips)}" for job in jobs]
    if len(set(notes)) > 1:
        told = (f"{place}: {note}" if note else place for place, note in zip(places, notes, strict=True))
        return f"{crop} ({'; '.join(told)})"
    each = f"{', each' if len(jobs) > 1 else ''}: {notes[0]}" if notes[0] else ""
    return f"{crop} ({'; '.join(places)}{each})"
