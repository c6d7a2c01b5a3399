"""The jobs of a plan as a list to print and to tick off, week by week or day by day."""

from __future__ import annotations

from datetime import date, timedelta
from itertools import groupby
from typing import TYPE_CHECKING, Literal

from rotasolve.domain.seasons import MONTHS, say_day
from rotasolve.views.job_words import job_notes, job_place, job_title
from rotasolve.views.layout import heading, wrap
from rotasolve.views.wording import TIED, clean, say_count

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rotasolve.relations.garden import Garden
    from rotasolve.relations.jobs import Job
    from rotasolve.views.look import Look

By = Literal["week", "day"]
_WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")


def week_of(day: date) -> date:
    """Return the Monday of a day's week, as ISO 8601 counts weeks."""
    return day - timedelta(days=day.weekday())


def calendar_page(garden: Garden, jobs: Sequence[Job], look: Look, by: By = "week") -> str:
    """Return the jobs as a page; nothing but a sentence if there are none."""
    lines = heading(clean(garden.scenario.title), look, "=")
    if not jobs:
        return "\n".join([*lines, *wrap("No jobs in this time, beds and crops.", look.text_width)]) + "\n"
    for day, group in groupby(jobs, key=lambda job: week_of(job.day) if by == "week" else job.day):
        lines += ["", *heading(say_week(day) if by == "week" else f"{_WEEKDAYS[day.weekday()]} {say_day(day)}", look)]
        for job in group:
            lines += _item(job, garden, look, by)
    lines += ["", *wrap(f"{say_count(len(jobs), 'job')}. {ADVICE}", look.text_width)]
    return "\n".join(lines) + "\n"


ADVICE = "Dates are those of an average year: watch the forecast, the soil and the plants, and the label on the packet."


def say_week(monday: date) -> str:
    """Say a week by its number and its Monday."""
    return f"{say_week_number(monday)}, from Mon {say_day(monday)}"


def say_week_number(monday: date) -> str:
    """Say a week of a year that is named already."""
    return f"Week {monday.isocalendar().week}"


def say_weekday(day: date) -> str:
    """Say a day of a week that is named already: ``Mon 3 May``."""
    return f"{_WEEKDAYS[day.weekday()]}{TIED}{day.day}{TIED}{MONTHS[day.month - 1][:3]}"


def _item(job: Job, garden: Garden, look: Look, by: By) -> list[str]:
    when = "" if by == "day" else f"{say_weekday(job.day)} "
    said = f"[{TIED}] {when}{job_title(job)} ({job_place(job)})"
    notes = "; ".join(job_notes(job, garden, look))
    return wrap(f"{said}: {notes}" if notes else said, look.text_width, "", "    ")
