"""A crop's start windows at a site, by way of starting and cover, each with its reasons and frost warnings."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from rotasolve.domain.seasons import garden_year
from rotasolve.relations.season.frost_warnings import early_start
from rotasolve.relations.season.growing import growing
from rotasolve.relations.season.reasons import WindowReason, say_short
from rotasolve.relations.season.windows import why_closed, windows_near, windows_of_year

if TYPE_CHECKING:
    from collections.abc import Iterable
    from datetime import date

    from rotasolve.domain.catalogue import Cover
    from rotasolve.domain.crop import Crop, Start, Way
    from rotasolve.domain.site import Site
    from rotasolve.relations.season.windows import Window


@dataclass(frozen=True)
class OpenWindow:
    """A window with the first pickings of its first and last day, and the warning if it opens before the last frost."""

    window: Window
    first_picking: date
    last_start_picking: date
    warning: WindowReason | None


@dataclass(frozen=True)
class StartSeason:
    """One way of starting a crop under one cover in one garden year; ``closed`` says why if there is no window."""

    crop: str
    way: Way
    cover: str
    windows: tuple[OpenWindow, ...]
    closed: WindowReason | None


@dataclass(frozen=True)
class DayJudged:
    """Whether a day lies in a window of one way of starting a crop under one cover, and the frost warning if any."""

    crop: str
    way: Way
    cover: str
    open: bool
    reason: str
    warning: WindowReason | None


def seasons_of(crop: Crop, covers: Iterable[Cover], site: Site, year: int) -> tuple[StartSeason, ...]:
    """Return the windows of each way of starting a crop under each cover in a garden year."""
    return tuple(_season(crop, start, cover, site, year) for start in crop.starts for cover in covers)


def _season(crop: Crop, start: Start, cover: Cover, site: Site, year: int) -> StartSeason:
    found = []
    for window in windows_of_year(crop, start, cover, site, year):
        grown = growing(crop, start, cover, site)
        pickings = [grown.ready_on(day) for day in (window.earliest, window.latest)]
        warning = early_start(crop, window.earliest, cover, site)
        found.append(OpenWindow(window, pickings[0], pickings[1], warning))
    closed = None if found else why_closed(crop, start, cover, site, year)
    return StartSeason(crop.name, start.way, cover.name, tuple(found), closed)


def judge_day(crop: Crop, covers: Iterable[Cover], site: Site, day: date) -> tuple[DayJudged, ...]:
    """Return whether a crop may be started on a day, for each way of starting it and each cover."""
    found = []
    for way in dict.fromkeys(start.way for start in crop.starts):
        starts = [start for start in crop.starts if start.way == way]
        for cover in covers:
            windows = [window for start in starts for window in windows_near(crop, start, cover, site, day)]
            open_, reason = _judged(windows, starts, crop, cover, site, day)
            found.append(DayJudged(crop.name, way, cover.name, open_, reason, early_start(crop, day, cover, site)))
    return tuple(found)


def _judged(
    windows: list[Window], starts: list[Start], crop: Crop, cover: Cover, site: Site, day: date
) -> tuple[bool, str]:
    for window in windows:
        if window.earliest <= day <= window.latest:
            return True, f"open from {say_short(window.earliest)} to {say_short(window.latest)}"
    year = garden_year(day, site.south)
    near = sorted(windows, key=lambda window: max(window.earliest - day, day - window.latest))
    if not near:
        closed = why_closed(crop, starts[0], cover, site, year)
        return False, "never open" if closed is None else f"never open: {closed.sentence}"
    window = near[0]
    if day < window.earliest:
        return False, f"opens on {say_short(window.earliest)}: {window.opens[0].sentence}"
    return False, f"closed after {say_short(window.latest)}: {window.closes[0].sentence}"
