"""A crop's start windows at a site, by way of starting and cover, each with its reasons and frost warnings."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import TYPE_CHECKING

from rotasolve.domain.seasons import garden_year
from rotasolve.relations.season.frost_warnings import early_start
from rotasolve.relations.season.growing import growing
from rotasolve.relations.season.reasons import BeforeLastFrost, WindowReason
from rotasolve.relations.season.start_shares import (
    StartShare,
    WindowPart,
    part_of,
    parts_in,
    percent_of_start,
    shares_in,
)
from rotasolve.relations.season.windows import why_closed, windows_near, windows_of_year

if TYPE_CHECKING:
    from collections.abc import Iterable

    from rotasolve.domain.catalogue import Cover
    from rotasolve.domain.crop import Crop, Start, Way
    from rotasolve.domain.site import Site
    from rotasolve.relations.season.growing import Growing
    from rotasolve.relations.season.windows import Window


@dataclass(frozen=True)
class OpenWindow:
    """A window with the first pickings of its first and last day, and the warning if it opens before the last frost.

    ``shares`` say what a start in each half month gives, ``parts`` which days are good; a green manure has neither.
    """

    window: Window
    first_picking: date
    last_start_picking: date
    warning: BeforeLastFrost | None
    shares: tuple[StartShare, ...] = ()
    parts: tuple[WindowPart, ...] = ()


@dataclass(frozen=True)
class StartSeason:
    """One way of starting a crop under one cover in one garden year; ``closed`` says why if there is no window.

    ``quick_days`` are the published days of quick kinds, where these are counted because usual ones give less.
    """

    crop: str
    way: Way
    cover: str
    windows: tuple[OpenWindow, ...]
    closed: WindowReason | None
    quick_days: int | None = None


@dataclass(frozen=True)
class DayJudged:
    """Whether a day lies in a window of one way of starting a crop under one cover, and the frost warning if any.

    ``window`` holds the day or lies nearest to it; if there is none, ``closed`` says why. ``share`` is what a start
    then gives, beside the window's ``good`` days and its best start; None if the day is shut, or for a green manure.
    """

    crop: str
    way: Way
    cover: str
    day: date
    open: bool
    window: Window | None
    closed: WindowReason | None
    warning: BeforeLastFrost | None
    share: StartShare | None = None
    good: tuple[WindowPart, ...] = ()
    best: StartShare | None = None


def seasons_of(crop: Crop, covers: Iterable[Cover], site: Site, year: int) -> tuple[StartSeason, ...]:
    """Return the windows of each way of starting a crop under each cover in a garden year."""
    return tuple(_season(crop, start, cover, site, year) for start in crop.starts for cover in covers)


def _season(crop: Crop, start: Start, cover: Cover, site: Site, year: int) -> StartSeason:
    found = []
    grown = growing(crop, start, cover, site)
    for window in windows_of_year(crop, start, cover, site, year):
        pickings = [grown.ready_on(day) for day in (window.earliest, window.latest)]
        warning = early_start(crop, window.earliest, cover, site)
        shares, parts = shares_in(grown, window), parts_in(grown, window)
        found.append(OpenWindow(window, pickings[0], pickings[1], warning, shares, parts))
    closed = None if found else why_closed(crop, start, cover, site, year)
    quick = round(grown.published_days) if grown.quick else None
    return StartSeason(crop.name, start.way, cover.name, tuple(found), closed, quick)


def judge_day(crop: Crop, covers: Iterable[Cover], site: Site, day: date) -> tuple[DayJudged, ...]:
    """Return whether a crop may be started on a day, for each way of starting it and each cover."""
    found = []
    for way in dict.fromkeys(start.way for start in crop.starts):
        starts = [start for start in crop.starts if start.way == way]
        for cover in covers:
            kinds = [growing(crop, start, cover, site) for start in starts]
            windows = [(window, kind) for kind in kinds for window in windows_near(crop, kind.start, cover, site, day)]
            found.append(_judged(windows, kinds[0], day))
    return tuple(found)


def _judged(windows: list[tuple[Window, Growing]], kind: Growing, day: date) -> DayJudged:
    crop, cover, site = kind.crop, kind.cover, kind.site
    warning = early_start(crop, day, cover, site)
    if not windows:
        closed = why_closed(crop, kind.start, cover, site, garden_year(day, site.south))
        return DayJudged(crop.name, kind.start.way, cover.name, day, False, None, closed, warning)
    window, grown = min(windows, key=lambda one: max(one[0].earliest - day, day - one[0].latest, timedelta()))
    is_open = window.earliest <= day <= window.latest
    judged = DayJudged(crop.name, kind.start.way, cover.name, day, is_open, window, None, warning)
    if not is_open or crop.green_manure:
        return judged
    return replace(
        judged,
        share=StartShare(day, percent_of_start(grown, day), part_of(grown, day)),
        good=tuple(one for one in parts_in(grown, window) if one.part == "good"),
        best=max(shares_in(grown, window), key=lambda share: share.percent),
    )
