"""The jobs of a plan as a list to print and to tick off, week by week or day by day."""

from __future__ import annotations

from itertools import groupby
from typing import TYPE_CHECKING, Literal

from rotasolve.domain.seasons import say_day
from rotasolve.views.words.job_words import job_notes, job_place, job_title
from rotasolve.views.words.layout import heading, wrap
from rotasolve.views.words.weeks import WEEKDAYS, say_week, say_weekday, week_of
from rotasolve.views.words.wording import TIED, clean, say_count

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rotasolve.relations.ground.garden import Garden
    from rotasolve.relations.work.jobs import Job
    from rotasolve.views.words.look import Look

By = Literal["week", "day"]


def calendar_page(garden: Garden, jobs: Sequence[Job], look: Look, by: By = "week") -> str:
    """Return the jobs as a page; nothing but a sentence if there are none."""
    lines = heading(clean(garden.scenario.title), look, "=")
    if not jobs:
        return "\n".join([*lines, *wrap("No jobs in this time, beds and crops.", look.text_width)]) + "\n"
    for day, group in groupby(jobs, key=lambda job: week_of(job.day) if by == "week" else job.day):
        lines += ["", *heading(say_week(day) if by == "week" else f"{WEEKDAYS[day.weekday()]} {say_day(day)}", look)]
        for job in group:
            lines += _item(job, garden, look, by)
    lines += ["", *wrap(f"{say_count(len(jobs), 'job')}. {ADVICE}", look.text_width)]
    return "\n".join(lines) + "\n"


ADVICE = "Dates are those of an average year: watch the forecast, the soil and the plants, and the label on the packet."


def _item(job: Job, garden: Garden, look: Look, by: By) -> list[str]:
    when = "" if by == "day" else f"{say_weekday(job.day)} "
    said = f"[{TIED}] {when}{job_title(job)} ({job_place(job)})"
    notes = "; ".join(job_notes(job, garden, look))
    return wrap(f"{said}: {notes}" if notes else said, look.text_width, "", "    ")
