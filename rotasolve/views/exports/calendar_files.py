"""The jobs of a plan as files for other programs: RFC 5545 (iCalendar) and RFC 4180 (CSV)."""

from __future__ import annotations

import hashlib
from datetime import UTC, date, datetime, timedelta
from typing import TYPE_CHECKING, Any

from rotasolve import __version__
from rotasolve.domain.seasons import year_start
from rotasolve.errors import FileTrouble
from rotasolve.relations.work.seeds import need_of
from rotasolve.views.exports.csv_cells import csv_text
from rotasolve.views.words.job_words import job_place, job_sentences, job_title
from rotasolve.views.words.look import Look
from rotasolve.views.words.weeks import week_of
from rotasolve.views.words.wording import clean

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from rotasolve.relations.ground.garden import Garden
    from rotasolve.relations.work.jobs import Job

_FIELDS = ("day", "week_from", "job", "crop", "bed", "strips", "plants", "rows", "seeds", "seed_grams", "notes")
_OURS = "@rotasolve"
_TOLD = ("DTSTART", "DTEND", "SUMMARY", "DESCRIPTION", "LOCATION", "CATEGORIES", "STATUS")
"""The properties that make a new version of an event when they change."""


def uid_of(job: Job) -> str:
    """Return a job's name for calendars, the same whenever it is the same job.

    It is made from bed, strips, crop, way of starting, garden year of the start, job (and its count, where the same
    comes twice). A new plan that moves the day, or changes plants, rows or notes, keeps it, so that a second import
    updates the event. A planting that moves to other strips, another bed, way or year gets new events, and the old ones
    are cancelled.
    """
    planting = job.planting
    strips = ",".join(str(strip) for strip in planting.strips)
    parts = (planting.bed, strips, planting.crop, planting.way, str(job.year), str(job.number), job.kind, str(job.nth))
    return hashlib.sha256("\x1f".join(parts).encode("utf-8", "surrogatepass")).hexdigest()[:32] + _OURS


def calendar_ics(
    garden: Garden, jobs: Sequence[Job], plan_jobs: Iterable[Job] = (), before: bytes | None = None
) -> bytes:
    """Return the jobs as an iCalendar file of all-day events, the same to the byte for the same input.

    Parameters
    ----------
    jobs
        The jobs to export.
    plan_jobs
        All jobs of the plan, if ``jobs`` are only some of them: events of the others are kept as they were.
    before
        The file as it was written last time. An event that says something new gets the next SEQUENCE number; one whose
        job is no longer planned is cancelled, unless it lies before the plan's first day.

    Raises
    ------
    FileTrouble
        If ``before`` is no iCalendar file.
    """
    from icalendar import Calendar

    begin = year_start(garden.scenario.first_year, garden.scenario.site.south)
    old = {} if before is None else _events_of(before)
    calendar = Calendar()
    calendar.add("prodid", f"-//rotasolve//rotasolve {__version__}//EN")
    calendar.add("version", "2.0")
    events = [_versioned(_event(job, garden), old.get(uid_of(job)), begin) for job in jobs]
    named, planned = {uid_of(job) for job in jobs}, {uid_of(job) for job in plan_jobs}
    for uid in sorted(old.keys() - named):
        gone = uid not in planned and old[uid].decoded("dtstart") >= begin
        events.append(_cancelled(old[uid], begin) if gone else old[uid])
    for event in events:
        calendar.add_component(event)
    written: bytes = calendar.to_ical()
    return written


def _event(job: Job, garden: Garden) -> Any:
    from icalendar import Event

    event = Event()
    event.add("uid", uid_of(job))
    event.add("dtstart", job.day)
    event.add("dtend", job.day + timedelta(days=1))
    event.add("summary", clean(f"{job_title(job)}: {job_place(job)}"))
    notes = job_sentences(job, garden, Look())
    if notes:
        event.add("description", clean(notes))
    event.add("location", clean(job.planting.bed))
    event.add("categories", [job.kind])
    event.add("transp", "TRANSPARENT")
    event.add("status", "CONFIRMED")
    return event


def _versioned(event: Any, old: Any, begin: date) -> Any:
    """Give an event its number: that of its earlier version, one more if it says anything new."""
    sequence = 0
    if old is not None:
        sequence = _sequence_of(old) + int(_said(event) != _said(old))
    # RFC 5545 wants the moment of the revision; taken from the number, so that the same input gives the same file.
    stamp = datetime(begin.year, begin.month, begin.day, tzinfo=UTC) + timedelta(minutes=sequence)
    event.add("sequence", sequence)
    event.add("dtstamp", stamp)
    return event


def _cancelled(old: Any, begin: date) -> Any:
    from icalendar import Event

    event = Event()
    for name in ("UID", *_TOLD, "TRANSP"):
        if name in old and name != "STATUS":
            event[name] = old[name]
    event.add("status", "CANCELLED")
    return _versioned(event, old, begin)


def _said(event: Any) -> tuple[bytes, ...]:
    return tuple(event[name].to_ical() if name in event else b"" for name in _TOLD)


def _sequence_of(event: Any) -> int:
    return int(event.get("sequence", 0))


def _events_of(text: bytes) -> dict[str, Any]:
    """Return the events of a calendar of ours by UID.

    Raises
    ------
    FileTrouble
        If it is no calendar, or holds anything that is not ours and would be lost.
    """
    from icalendar import Calendar

    try:
        calendar: Any = Calendar.from_ical(text)
        events = {str(event["uid"]): event for event in calendar.walk("VEVENT")}
        days = [event.decoded("dtstart") for event in events.values()]
        numbers = [_sequence_of(event) for event in events.values()]
    except (ValueError, KeyError, IndexError, TypeError, AttributeError) as error:
        raise FileTrouble(f"the calendar that is there already cannot be read ({clean(str(error))[:80]})") from None
    foreign = len(calendar.subcomponents) != len(events) or not all(uid.endswith(_OURS) for uid in events)
    if foreign or any(type(day) is not date for day in days) or any(number < 0 for number in numbers):
        raise FileTrouble("the calendar that is there already holds more than rotasolve wrote; choose another file")
    return events


def calendar_csv(garden: Garden, jobs: Iterable[Job]) -> str:
    """Return the jobs as CSV (RFC 4180): a header, one line a job, days as ISO 8601."""
    return csv_text(_FIELDS, (_csv_row(garden, job) for job in jobs))


def _csv_row(garden: Garden, job: Job) -> Sequence[object]:
    planting, need = job.planting, need_of(garden, job.planting)
    sows = job.kind in ("sow indoors", "sow", "plant", "sow green manure")
    return (
        job.day.isoformat(),
        week_of(job.day).isoformat(),
        job.kind,
        planting.crop,
        planting.bed,
        " ".join(str(strip) for strip in planting.strips),
        planting.plants,
        planting.rows,
        need.pieces if sows else None,
        f"{need.grams:.2f}" if sows and need.grams is not None else None,
        job_sentences(job, garden, Look()),
    )
