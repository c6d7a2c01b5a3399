"""The jobs of a year for the report: week by week, with what is the same for all jobs of a kind said once."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import TYPE_CHECKING

from rotasolve.views.calendar_page import say_week, say_weekday, week_of
from rotasolve.views.job_words import job_notes, job_place, job_title, sheet_notes

if TYPE_CHECKING:
    from rotasolve.relations.garden import Garden
    from rotasolve.relations.jobs import Job
    from rotasolve.views.look import Look

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
    return tuple(note for note in job_notes(job, garden, look) if note not in said)


def job_weeks(jobs: Sequence[Job], garden: Garden, look: Look, common: CommonNotes) -> tuple[JobWeek, ...]:
    """Return jobs week by week, without the notes in ``common`` and on the beds' sheets.

    Jobs of one day with the same title are one line that names their places.
    """
    weeks = []
    for monday, week in groupby(jobs, key=lambda job: week_of(job.day)):
        days = []
        for day, of_day in groupby(week, key=lambda job: job.day):
            alike: dict[str, list[Job]] = {}
            for job in of_day:
                alike.setdefault(job_title(job), []).append(job)
            said = tuple(_line(title, here, garden, look, common) for title, here in alike.items())
            days.append(JobDay(say_weekday(day), said))
        weeks.append(JobWeek(say_week(monday), tuple(days)))
    return tuple(weeks)


def _line(title: str, jobs: Sequence[Job], garden: Garden, look: Look, common: CommonNotes) -> str:
    """Say one job in one or several places."""
    known = (*common.get(jobs[0].kind, ()), *common.get(title, ()))
    notes = ["; ".join(note for note in _notes(job, garden, look) if note not in known) for job in jobs]
    places = [job_place(job) for job in jobs]
    if len(set(notes)) > 1:
        told = (f"{place}: {note}" if note else place for place, note in zip(places, notes, strict=True))
        return f"{title} ({'; '.join(told)})"
    where = f"{title} ({'; '.join(places)})"
    return where + (f"{', each' if len(jobs) > 1 else ''}: {notes[0]}" if notes[0] else "")
