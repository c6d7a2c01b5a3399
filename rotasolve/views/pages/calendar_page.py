"""The jobs of a plan as a list to print and to tick off, week by week or day by day; a diary ticks off what is done."""

from __future__ import annotations

from itertools import groupby
from typing import TYPE_CHECKING, Literal

from rotasolve.domain.seasons import say_day
from rotasolve.relations.work.done import Progress
from rotasolve.relations.work.jobs import ENDS, STARTS
from rotasolve.views.words.job_words import job_notes, job_place, job_title
from rotasolve.views.words.layout import heading, wrap
from rotasolve.views.words.weeks import WEEKDAYS, say_week, say_weekday, week_of
from rotasolve.views.words.wording import TIED, clean, say_count

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from rotasolve.relations.ground.garden import Garden
    from rotasolve.relations.work.done import Tick
    from rotasolve.relations.work.jobs import Job
    from rotasolve.views.words.look import Look

By = Literal["week", "day"]


def calendar_page(
    garden: Garden,
    jobs: Sequence[Job],
    look: Look,
    by: By = "week",
    progress: Progress | None = None,
    *,
    folded: bool = False,
    of: int = 0,
) -> str:
    """Return the jobs as a page, those overdue first; nothing but a sentence if there are none.

    Parameters
    ----------
    folded
        Within a week or day, sowing and planting come first, and clearing and last pickings stand together on a line.
        Default: each job on its day.
    of
        The number of jobs of which these are some, said if there are more.
    """
    progress = progress or Progress()
    late, ticks = progress.late, progress.ticks
    lines = heading(clean(garden.scenario.title), look, "=")
    if late:
        lines += ["", *heading("Overdue", look)]
        for job in late:
            lines += _item(job, garden, look, f"{say_day(job.day)} ", ticks)
    if not jobs:
        return "\n".join([*lines, *([""] if late else []), *wrap(_NONE, look.text_width)]) + "\n"
    for day, group in groupby(jobs, key=lambda job: week_of(job.day) if by == "week" else job.day):
        lines += ["", *heading(say_week(day) if by == "week" else f"{WEEKDAYS[day.weekday()]} {say_day(day)}", look)]
        here = list(group)
        ends = [job for job in here if job.kind in ENDS and job not in ticks] if folded else []
        here = [job for job in here if job not in ends]
        for job in sorted(here, key=lambda job: job.kind not in STARTS) if folded else here:
            lines += _item(job, garden, look, "" if by == "day" else f"{say_weekday(job.day)} ", ticks)
        if ends:
            lines += wrap(f"[{TIED}] {_say_ends(ends)}", look.text_width, "", "    ")
    more = f" of {of:,}; --details lists all, --from and --to choose days" if of > len(jobs) else ""
    lines += ["", *wrap(f"{_counted(jobs, progress)}{more}. {ADVICE}", look.text_width)]
    return "\n".join(lines) + "\n"


_NONE = "No jobs in this time, beds and crops."
ADVICE = "Dates are those of an average year: watch the forecast, the soil and the plants, and the label on the packet."


def _counted(jobs: Sequence[Job], progress: Progress) -> str:
    done = progress.count_done(jobs)
    said = say_count(len(jobs), "job") + (f", {done} of them done" if done else "")
    return said + (f"; {len(progress.late)} overdue" if progress.late else "")


def _item(job: Job, garden: Garden, look: Look, when: str, ticks: Mapping[Job, Tick]) -> list[str]:
    tick = ticks.get(job)
    box = f"[{TIED}]" if tick is None else "[x]" if tick.state == "done" else "[-]"
    said = f"{box} {when}{job_title(job)} ({job_place(job)})"
    notes = "; ".join(job_notes(job, garden, look) if tick is None else [say_tick(tick)])
    return wrap(f"{said}: {notes}" if notes else said, look.text_width, "", "    ")


def _say_ends(jobs: Sequence[Job]) -> str:
    """Say clearing and last pickings together, the beds of one crop behind it."""
    beds: dict[str, dict[str, None]] = {}
    for job in jobs:
        beds.setdefault(job_title(job), {})[job.planting.bed] = None
    return "; ".join(f"{title} ({', '.join(where)})" for title, where in beds.items())


def say_tick(tick: Tick) -> str:
    """Say what the diary says of a job: ``done 3 May 2027``."""
    if tick.state == "fallen away":
        return f"no longer, ended {say_day(tick.day)}"
    return f"done {'' if tick.told else 'by '}{say_day(tick.day)}"
