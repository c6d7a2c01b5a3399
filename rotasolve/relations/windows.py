"""When a crop may be started, and how long it stands: frost dates, hardiness and cover turned into dates."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from statistics import NormalDist
from typing import TYPE_CHECKING

from rotasolve.domain.seasons import first_day, garden_year, last_day, period_of, year_start
from rotasolve.domain.site import DEFAULT_SPREAD_DAYS, Frost

if TYPE_CHECKING:
    from rotasolve.domain.catalogue import Cover
    from rotasolve.domain.crop import Crop, Start
    from rotasolve.domain.figure import Figure
    from rotasolve.domain.site import Site

_RISK_SHARE = {"cautious": 0.10, "usual": 0.50, "early": 0.90}
"""Chance that frost still oversteps the date that tender crops are held to."""

_DAYS_PAST_FIRST_FROST = {"very tender": 0, "tender": 0, "half-hardy": 21}
"""How long a crop stands after the first frost: common practice, no source. Hardy crops have no such end."""

LEAST_PICKING_DAYS = 7
"""A crop that frost leaves less than a week of picking is not worth starting: common practice, no source."""


@dataclass(frozen=True)
class Window:
    """The first and last day on which a crop may be started in the ground, both included."""

    earliest: date
    latest: date


@dataclass(frozen=True)
class Course:
    """What follows from a start: indoor sowing, first and last harvest, the day the ground is free again.

    ``share_percent`` is the part of the whole picking season that the dates leave, 0 to 100.
    """

    raise_from: date | None
    first_harvest: date | None
    last_harvest: date | None
    clear: date
    share_percent: int


def frost_day(frost: Frost, share: float, spring: bool) -> timedelta:
    """Return how far the frost date of probability ``share`` lies from the half-way date.

    ``share`` is the chance that frost still comes after the day (spring) or has come before it (autumn). With the
    safe date known, the spread is (safe - half) / 1.2816 on a normal curve; with the daring date known too, that
    side uses it directly. The normal curve reproduces the published Delaware table within a day.
    """
    sign = 1 if spring else -1
    steps = NormalDist().inv_cdf(1 - share)
    spread = frost.spread_days or DEFAULT_SPREAD_DAYS
    known = frost.daring if share > 0.5 and frost.daring is not None else frost.safe
    if known is not None:
        spread = _days_between(known, frost.half) / NormalDist().inv_cdf(0.9)
    return timedelta(days=round(sign * steps * spread))


def _days_between(one: tuple[int, int], other: tuple[int, int]) -> int:
    """Return the days between two days of the year the short way round, over 1 January if need be."""
    days = abs((_in_year(one, 2001) - _in_year(other, 2001)).days)
    return min(days, 365 - days)


def _in_year(day: tuple[int, int], year: int) -> date:
    return date(year, day[0], day[1])


def frost_dates(site: Site, year: int, share: float = 0.5) -> tuple[date, date]:
    """Return the last and the first frost of a garden year, at chance ``share`` of being overstepped."""
    begin = year_start(year, site.south)
    dates = []
    for frost, spring in ((site.last_frost, True), (site.first_frost, False)):
        half = _in_year(frost.half, year)
        if half < begin:
            half = _in_year(frost.half, year + 1)
        dates.append(half + frost_day(frost, share, spring))
    return dates[0], dates[1]


def _counted(figure: Figure, last_frost: date, first_frost: date) -> date:
    days = timedelta(days=round(figure.usual * 7))
    if figure.unit == "weeks after last frost":
        return last_frost + days
    return first_frost - days if figure.unit == "weeks before first frost" else first_frost + days


def start_window(crop: Crop, start: Start, cover: Cover, site: Site, year: int) -> Window | None:
    """Return when ``start`` may happen in garden year ``year`` under ``cover``, or None if it never may.

    Hardy crops count from the half-way frost dates, as bulletins do; all others from the dates of the site's
    risk. A cover moves the spring end earlier and the autumn end later by its days.
    """
    share = 0.5 if crop.hardiness.level == "hardy" else _RISK_SHARE[site.risk]
    last_frost, first_frost = frost_dates(site, year, share)
    earliest = _counted(start.earliest, last_frost, first_frost)
    latest = _counted(start.latest, last_frost, first_frost)
    earliest -= timedelta(days=cover.days_earlier if start.earliest.unit == "weeks after last frost" else 0)
    latest += timedelta(days=cover.days_later if start.latest.unit != "weeks after last frost" else 0)
    end = standing_end(crop, cover, site, year)
    if end is not None and start.earliest.unit == "weeks after last frost":
        latest = min(latest, end - timedelta(days=round(start.days_to_harvest.usual) + LEAST_PICKING_DAYS))
    return Window(earliest, latest) if earliest <= latest else None


def windows_near(crop: Crop, start: Start, cover: Cover, site: Site, day: date) -> list[Window]:
    """Return the windows of ``start`` that could hold ``day``: its garden year's first, then its neighbours'.

    An autumn window may reach over the end of a garden year.
    """
    year = garden_year(day, site.south)
    windows = [start_window(crop, start, cover, site, near) for near in (year, year - 1, year + 1)]
    return [window for window in windows if window is not None]


def standing_end(crop: Crop, cover: Cover, site: Site, year: int) -> date | None:
    """Return the day frost ends the crop in garden year ``year``, or None for crops that stand through winter."""
    days = _DAYS_PAST_FIRST_FROST.get(crop.hardiness.level)
    if days is None:
        return None
    first_frost = frost_dates(site, year, _RISK_SHARE[site.risk])[1]
    return first_frost + timedelta(days=days + cover.days_later)


def course_of(
    crop: Crop, start: Start, day: date, cover: Cover, site: Site, year: int, part_percent: int = 100
) -> Course:
    """Return what follows from starting on ``day`` in garden year ``year``.

    ``part_percent`` is the part of the picking season the grower keeps before clearing. The ground counts as taken
    to the end of the half month in which the last harvest falls, so that no half month is shared.
    """
    indoors = None if start.weeks_indoors is None else day - timedelta(days=round(start.weeks_indoors.usual * 7))
    ready = day + timedelta(days=round(start.days_to_harvest.usual))
    season = max(LEAST_PICKING_DAYS, round(crop.harvest_weeks.usual * 7))
    kept = max(LEAST_PICKING_DAYS, season * part_percent // 100)
    last = ready + timedelta(days=kept - 1)
    end = standing_end(crop, cover, site, year)
    if end is not None and ready <= (frost := first_frost_after(end, day)):
        last = min(last, frost)
    share = share_picked(crop, ready, last)
    if crop.green_manure:
        return Course(indoors, None, None, last_day(period_of(last)), 0)
    return Course(indoors, ready, last, last_day(period_of(last)), share)


def cleared_on(course: Course, crop: Crop, day: date) -> Course:
    """Return the same course with the ground cleared on ``day``: what would be picked later is lost."""
    ready, last = course.first_harvest, course.last_harvest
    if ready is None or last is None or ready > day:
        return Course(course.raise_from, None, None, day, 0)
    last = min(last, day)
    return Course(course.raise_from, ready, last, day, share_picked(crop, ready, last))


def share_picked(crop: Crop, ready: date, last: date) -> int:
    """Return the part of the whole yield, 0 to 100 %, that picking from ``ready`` to ``last`` brings in.

    Crops picked again and again yield with the time; of those lifted once a week is enough for all.
    """
    days = (last - ready).days + 1
    if crop.picking == "once":
        return 100 if days >= LEAST_PICKING_DAYS else 0
    return min(100, max(0, days * 100 // max(LEAST_PICKING_DAYS, round(crop.harvest_weeks.usual * 7))))


def first_frost_after(end: date, day: date) -> date:
    """Return the frost end that follows ``day``: next year's if this year's has passed (autumn starts)."""
    return end if end >= day else end + timedelta(days=365)


def start_days(window: Window, first: date, last: date) -> list[date]:
    """Return one start day for each half month of the window between ``first`` and ``last``: its first open day."""
    days = []
    begin, end = max(window.earliest, first), min(window.latest, last)
    for period in range(period_of(begin), period_of(end) + 1) if begin <= end else ():
        day = max(first_day(period), begin)
        if day <= end:
            days.append(day)
    return days
