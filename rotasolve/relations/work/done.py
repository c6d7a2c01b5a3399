"""Which jobs of a plan a diary says are done, which have fallen away, and which are overdue."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Literal

from rotasolve.domain.diary import STARTS
from rotasolve.relations.ground.happened import first_day, happened_to
from rotasolve.relations.work.jobs import JOB_KINDS, JobKind

if TYPE_CHECKING:
    from datetime import date

    from rotasolve.domain.diary import Diary, Happening, Kind
    from rotasolve.domain.plan import Planting
    from rotasolve.relations.ground.happened import Happened
    from rotasolve.relations.work.jobs import Job

_TICKED_BY: Mapping[JobKind, tuple[Kind, ...]] = {
    "sow indoors": ("sown indoors",),
    "pot on": ("potted on",),
    "harden off": ("hardened off",),
    "sow": STARTS,
    "plant": STARTS,
    "set out": STARTS,
    "sow green manure": STARTS,
    "cover": ("covered",),
    "thin": ("thinned",),
    "earth up": ("earthed up",),
    "uncover": ("uncovered",),
    "first harvest": ("picked",),
    "clear": ("cleared", "dug in"),
    "dig in": ("dug in", "cleared"),
}
_REMINDERS: tuple[JobKind, ...] = ("lime", "spread compost", "open the cover", "last harvest", "ground free")
"""A diary has no word for them, so nothing says that they are done, and none of them is ever overdue."""
_ANY_TIME: tuple[JobKind, ...] = ("cover", "uncover")
"""They come and go with the frost: a later job does not say that they were done."""


@dataclass(frozen=True)
class Tick:
    """What the diary says of a job: done on a day, or no longer to be done, for its planting ended on that day.

    ``told`` is whether it is told of this very job; else a later one of the same planting was done by then.
    """

    state: Literal["done", "fallen away"]
    day: date
    told: bool = True


@dataclass(frozen=True)
class Progress:
    """What a diary says of jobs, where it says anything, and which ``late`` ones are overdue."""

    ticks: Mapping[Job, Tick] = field(default_factory=dict)
    late: tuple[Job, ...] = ()

    def count_done(self, jobs: Iterable[Job]) -> int:
        """Return how many of some jobs are done."""
        return sum(self.ticks[job].state == "done" for job in jobs if job in self.ticks)


def ticks_of(jobs: Iterable[Job], diary: Diary) -> dict[Job, Tick]:
    """Return what a diary says of jobs, left out where it says nothing."""
    by_planting: dict[Planting, list[Job]] = {}
    for job in jobs:
        by_planting.setdefault(job.planting, []).append(job)
    told, _ = happened_to(list(by_planting), diary)
    return {job: tick for one in told for job, tick in _ticks(by_planting[one.planting], one)}


def overdue(jobs: Iterable[Job], ticks: Mapping[Job, Tick], diary: Diary, before: date) -> tuple[Job, ...]:
    """Return the jobs that were to be done before a day and are not, by day.

    Only those since the diary begins: of earlier ones it says nothing; and of plantings that are still to stand on
    that day, or to be cleared.
    """
    since = first_day(diary.happenings)
    return tuple(
        job
        for job in jobs
        if since is not None
        and since <= job.day < before
        and job not in ticks
        and job.kind not in _REMINDERS
        and (job.planting.clear >= before or job.kind in ("clear", "dig in"))
    )


def _ticks(jobs: list[Job], happened: Happened) -> Iterator[tuple[Job, Tick]]:
    ended = happened.ended
    for job in jobs:
        own = _nearest(job, jobs, happened.of(*_TICKED_BY.get(job.kind, ())))
        after = _later(job, jobs, happened)
        if own is not None:
            yield job, Tick("done", own.day)
        elif ended is not None and (job.day >= ended or job.kind in _ANY_TIME):
            yield job, Tick("fallen away", ended, told=False)
        elif job.kind not in _REMINDERS and (day := after or ended) is not None:
            yield job, Tick("done", day, told=False)


def _nearest(job: Job, jobs: list[Job], told: Iterable[Happening]) -> Happening | None:
    """Return the first line that speaks of a job and not of another one of its kind, nearer to that line's day."""
    alike = [other for other in jobs if other.kind == job.kind]
    for one in told:
        if min(alike, key=lambda other: abs((other.day - one.day).days)) is job:
            return one
    return None


def _later(job: Job, jobs: list[Job], happened: Happened) -> date | None:
    """Return the day on which a later job was done that can only follow on this one."""
    if job.kind in (*_ANY_TIME, *_REMINDERS):
        return None
    for other in sorted(jobs, key=lambda one: JOB_KINDS.index(one.kind)):
        if JOB_KINDS.index(other.kind) > JOB_KINDS.index(job.kind) and other.kind not in _ANY_TIME:
            told = happened.of(*_TICKED_BY.get(other.kind, ()))
            if told and other.day >= job.day:
                return told[0].day
    return None
