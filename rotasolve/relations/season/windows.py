"""When a crop may be started, and how long it stands: frost dates, hardiness and cover turned into dates."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, timedelta
from typing import TYPE_CHECKING

from rotasolve.domain.seasons import first_day, garden_year, last_day, period_of
from rotasolve.relations.season.degree_days import days_until_ripe
from rotasolve.relations.season.frosts import RISK_SHARE, frost_dates
from rotasolve.relations.season.reasons import WindowReason, say_short, weeks_from_frost
from rotasolve.relations.season.temperature_gates import narrowed, why_never

if TYPE_CHECKING:
    from rotasolve.domain.catalogue import Cover
    from rotasolve.domain.crop import Crop, Start
    from rotasolve.domain.figure import Figure
    from rotasolve.domain.site import Site

_DAYS_PAST_FIRST_FROST = {"very tender": 0, "tender": 0, "half-hardy": 21}
"""How long a crop stands after the first frost: common practice, no source. Hardy crops have no such end."""

LEAST_PICKING_DAYS = 7
"""A crop that frost leaves less than a week of picking is not worth starting: common practice, no source."""


@dataclass(frozen=True)
class Window:
    """The first and last day on which a crop may be started in the ground, both included, and why.

    ``opens`` and ``closes`` are the reasons for the two ends, the one that decides first; ``notes`` are what to expect
    inside the window.
    """

    earliest: date
    latest: date
    opens: tuple[WindowReason, ...] = field(default=(), compare=False)
    closes: tuple[WindowReason, ...] = field(default=(), compare=False)
    notes: tuple[WindowReason, ...] = field(default=(), compare=False)


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


def frost_share(crop: Crop, site: Site) -> float:
    """Return the chance of being overstepped of the frost dates a crop is held to.

    Hardy crops count from the half-way frost dates, as bulletins do; all others from the dates of the site's risk.
    """
    return 0.5 if crop.hardiness.level == "hardy" else RISK_SHARE[site.risk]


def _counted(figure: Figure, weeks: float, last_frost: date, first_frost: date) -> date:
    days = timedelta(days=round(weeks * 7))
    if figure.unit == "weeks after last frost":
        return last_frost + days
    return first_frost - days if figure.unit == "weeks before first frost" else first_frost + days


def start_window(crop: Crop, start: Start, cover: Cover, site: Site, year: int) -> Window | None:
    """Return when frost lets ``start`` happen in garden year ``year`` under ``cover``, or None if it never does.

    A cover moves the spring end earlier and the autumn end later by its days. ``windows_of_year`` narrows this by the
    site's temperatures where they are known.
    """
    share = frost_share(crop, site)
    frosts = frost_dates(site, year, share)
    earliest = _counted(start.earliest, start.earliest.usual, *frosts)
    latest = _counted(start.latest, start.latest.usual, *frosts)
    opens = [_reason(start.earliest, frosts, share, earliest)]
    closes = [_reason(start.latest, frosts, share, latest)]
    if _opens_in_spring(start) and cover.days_earlier:
        earliest -= timedelta(days=cover.days_earlier)
        opens.append(_cover_reason(cover, f"{cover.days_earlier} days earlier", earliest))
    if start.latest.unit != "weeks after last frost" and cover.days_later:
        latest += timedelta(days=cover.days_later)
        closes.append(_cover_reason(cover, f"{cover.days_later} days later", latest))
    end = standing_end(crop, cover, site, year)
    if end is not None and _opens_in_spring(start):
        ripe = _last_ripening_start(crop, start, cover, site, end, latest)
        if ripe < latest:
            latest = ripe
            sentence = (
                f"a start on {say_short(ripe)} ripens in {days_until_ripe(crop, start, ripe, cover, site)} days, "
                f"which leaves {LEAST_PICKING_DAYS} days of picking before frost ends it on {say_short(end)}"
            )
            closes.insert(0, WindowReason("ripe before frost", sentence, ripe, sources=start.days_to_harvest.source))
    return Window(earliest, latest, tuple(opens), tuple(closes)) if earliest <= latest else None


def _opens_in_spring(start: Start) -> bool:
    return start.earliest.unit == "weeks after last frost"


def _reason(figure: Figure, frosts: tuple[date, date], share: float, day: date) -> WindowReason:
    return weeks_from_frost(figure, frosts[0 if figure.unit == "weeks after last frost" else 1], share, day)


def _cover_reason(cover: Cover, days: str, day: date) -> WindowReason:
    return WindowReason("cover", f"{days} in the {cover.name}", day, sources=cover.source)


def _last_ripening_start(crop: Crop, start: Start, cover: Cover, site: Site, end: date, latest: date) -> date:
    """Return the last day up to ``latest`` from which a crop still ripens a week before its end."""
    last_ready = end - timedelta(days=LEAST_PICKING_DAYS)
    if site.climate is None:
        return min(latest, last_ready - timedelta(days=round(start.days_to_harvest.usual)))
    day = min(latest, last_ready - timedelta(days=round(start.days_to_harvest.least)))
    while day + timedelta(days=days_until_ripe(crop, start, day, cover, site)) > last_ready:
        day -= timedelta(days=1)
    return day


def windows_of_year(crop: Crop, start: Start, cover: Cover, site: Site, year: int) -> tuple[Window, ...]:
    """Return the windows of ``start`` in garden year ``year`` under ``cover``, by date; none if it never may happen.

    With frost dates only, the window of ``start_window``; with a climate, what the temperatures leave of it.
    """
    window = start_window(crop, start, cover, site, year)
    if window is None or site.climate is None:
        return () if window is None else (window,)
    last_opening = None
    if _opens_in_spring(start):
        frosts = frost_dates(site, year, frost_share(crop, site))
        last_opening = _counted(start.earliest, start.earliest.most, *frosts) - timedelta(days=cover.days_earlier)
    return narrowed(window, crop, start, cover, site.climate, site.risk, last_opening)


def why_closed(crop: Crop, start: Start, cover: Cover, site: Site, year: int) -> WindowReason | None:
    """Return why ``start`` may never happen in garden year ``year`` under ``cover``; None if it may."""
    if windows_of_year(crop, start, cover, site, year):
        return None
    window = start_window(crop, start, cover, site, year)
    if window is None:
        end = standing_end(crop, cover, site, year)
        until = "its latest day" if end is None else f"frost ends it on {say_short(end)}"
        sentence = f"the season is too short: from its earliest day it does not ripen before {until}"
        return WindowReason("ripe before frost", sentence, end, sources=start.days_to_harvest.source)
    assert site.climate is not None  # else the window of the frost dates is open
    return why_never(window, crop, start, cover, site.climate, site.risk)


def windows_near(crop: Crop, start: Start, cover: Cover, site: Site, day: date) -> list[Window]:
    """Return the windows of ``start`` that could hold ``day``: its garden year's first, then its neighbours'.

    An autumn window may reach over the end of a garden year.
    """
    year = garden_year(day, site.south)
    return [window for near in (year, year - 1, year + 1) for window in windows_of_year(crop, start, cover, site, near)]


def standing_end(crop: Crop, cover: Cover, site: Site, year: int) -> date | None:
    """Return the day frost ends the crop in garden year ``year``, or None for crops that stand through winter."""
    days = _DAYS_PAST_FIRST_FROST.get(crop.hardiness.level)
    if days is None:
        return None
    first_frost = frost_dates(site, year, RISK_SHARE[site.risk])[1]
    return first_frost + timedelta(days=days + cover.days_later)


def course_of(
    crop: Crop, start: Start, day: date, cover: Cover, site: Site, year: int, part_percent: int = 100
) -> Course:
    """Return what follows from starting on ``day`` in garden year ``year``.

    ``part_percent`` is the part of the picking season the grower keeps before clearing. The ground counts as taken
    to the end of the half month in which the last harvest falls, so that no half month is shared.
    """
    indoors = None if start.weeks_indoors is None else day - timedelta(days=round(start.weeks_indoors.usual * 7))
    ready = day + timedelta(days=days_until_ripe(crop, start, day, cover, site))
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
