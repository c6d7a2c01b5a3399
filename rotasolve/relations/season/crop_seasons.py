"""A crop's start windows at a site, by way of starting and cover, each with its reasons and frost warnings."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from rotasolve.domain.seasons import garden_year
from rotasolve.relations.season.frost_warnings import early_start
from rotasolve.relations.season.growing import growing
from rotasolve.relations.season.reasons import WindowReason, say_short
from rotasolve.relations.season.start_shares import part_of, parts_in, percent_of_start, shares_in
from rotasolve.relations.season.windows import why_closed, windows_near, windows_of_year

if TYPE_CHECKING:
    from collections.abc import Iterable
    from datetime import date

    from rotasolve.domain.catalogue import Cover
    from rotasolve.domain.crop import Crop, Start, Way
    from rotasolve.domain.site import Site
    from rotasolve.relations.season.growing import Growing
    from rotasolve.relations.season.start_shares import StartShare, WindowPart
    from rotasolve.relations.season.windows import Window


@dataclass(frozen=True)
class OpenWindow:
    """A window with the first pickings of its first and last day, and the warning if it opens before the last frost.

    ``shares`` say what a start in each half month gives, ``parts`` which days are good; a green manure has neither.
    """

    window: Window
    first_picking: date
    last_start_picking: date
    warning: WindowReason | None
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

    ``percent`` is what a start then gives, in per cent of a full crop; None if the day is shut, or for a green manure.
    """

    crop: str
    way: Way
    cover: str
    open: bool
    reason: str
    warning: WindowReason | None
    percent: int | None


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
    crop, cover, site, percent = kind.crop, kind.cover, kind.site, None
    open_in = next(((window, grown) for window, grown in windows if window.earliest <= day <= window.latest), None)
    if open_in is not None:
        window, grown = open_in
        reason = f"open from {say_short(window.earliest)} to {say_short(window.latest)}"
        if not crop.green_manure:
            percent = percent_of_start(grown, day)
            reason += f"; {_say_worth(window, grown, day, percent)}"
    elif windows:
        window = min((window for window, _ in windows), key=lambda w: max(w.earliest - day, day - w.latest))
        if day < window.earliest:
            reason = f"opens on {say_short(window.earliest)}: {window.opens[0].sentence}"
        else:
            reason = f"closed after {say_short(window.latest)}: {window.closes[0].sentence}"
    else:
        closed = why_closed(crop, kind.start, cover, site, garden_year(day, site.south))
        reason = "never open" if closed is None else f"never open: {closed.sentence}"
    warning = early_start(crop, day, cover, site)
    return DayJudged(crop.name, kind.start.way, cover.name, open_in is not None, reason, warning, percent)


def _say_worth(window: Window, grown: Growing, day: date, percent: int) -> str:
    """Say what an open start gives, and which days are good if it is not."""
    part = part_of(grown, day)
    text = f"a {part}{'' if part == 'catch crop' else ' start'}, {percent} % of a full crop"
    if part == "good":
        return text
    good = [(one.first, one.last) for one in parts_in(grown, window) if one.part == "good"]
    if good:
        return f"{text}; good from {' and from '.join(f'{say_short(a)} to {say_short(b)}' for a, b in good)}"
    best = max(shares_in(grown, window), key=lambda share: share.percent)
    return f"{text}; the best open start gives {best.percent} % ({say_short(best.first)})"
