"""What follows from starting a crop on a day: raising, picking, clearing, and the share of a full crop it gives."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from typing import TYPE_CHECKING

from rotasolve.domain.seasons import last_day, period_of

if TYPE_CHECKING:
    from rotasolve.relations.season.growing import Growing


@dataclass(frozen=True)
class Course:
    """What follows from a start: indoor sowing, first and last harvest, the day the ground is free again.

    ``share_percent`` is the part of a full crop that light, warmth and the days of picking leave, 0 to 100.
    """

    raise_from: date | None
    first_harvest: date | None
    last_harvest: date | None
    clear: date
    share_percent: int


def course_of(growing: Growing, day: date, picked_days: int | None = None) -> Course:
    """Return what follows from starting on ``day``.

    ``picked_days`` is for how many days the grower picks before clearing, the crop's whole time if left out. The ground
    counts as taken to the end of the half month in which the last harvest falls, so that no half month is shared. A
    crop that is never ripe takes the ground for its published days and yields nothing.
    """
    ready = growing.ready_on(day)
    last = growing.last_picking(day, ready)
    if picked_days is not None:
        last = min(last, ready + timedelta(days=picked_days - 1))
    raised, clear = _raised_from(growing, day), last_day(period_of(last))
    if growing.crop.green_manure:
        return Course(raised, None, None, clear, 0)
    return Course(
        raised, ready, last, clear, percent_of(growing, day, ready, last) if growing.days_until_ripe(day) else 0
    )


def cleared_on(course: Course, growing: Growing, start: date, day: date) -> Course:
    """Return the same course with the ground cleared on ``day``: what would be picked later is lost."""
    ready, last = course.first_harvest, course.last_harvest
    if ready is None or last is None or ready > day:
        return Course(course.raise_from, None, None, day, 0)
    last = min(last, day)
    return Course(course.raise_from, ready, last, day, percent_of(growing, start, ready, last))


def percent_of(growing: Growing, day: date, ready: date, last: date) -> int:
    """Return the part of a full crop, 0 to 100 %, of a start on ``day`` that is picked from ``ready`` to ``last``."""
    return int(100 * growing.share(day, ready, last) + 1e-9)


def _raised_from(growing: Growing, day: date) -> date | None:
    weeks = growing.start.weeks_indoors
    return None if weeks is None else day - timedelta(days=round(weeks.usual * 7))
