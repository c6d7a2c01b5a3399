"""When a crop may be started: from the day that frost, soil and nights allow, as long as it still ripens and pays."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from functools import lru_cache
from itertools import groupby
from typing import TYPE_CHECKING

from rotasolve.domain.seasons import first_day, garden_year, period_of
from rotasolve.relations.season.estimated_climate import climate_of
from rotasolve.relations.season.frosts import turns_of
from rotasolve.relations.season.growing import CATCH_CROP, Growing, growing
from rotasolve.relations.season.reasons import (
    CoverMoves,
    GivesLittle,
    LittlePicking,
    NotRipe,
    PoorBeyond,
    SeasonTooShort,
    Side,
    WindowReason,
    weeks_from,
)
from rotasolve.relations.season.ripe_crop import LEAST_PICKING_DAYS, NEAR_DAYS
from rotasolve.relations.season.temperature_gates import narrowed, opening_of, why_never

if TYPE_CHECKING:
    from rotasolve.domain.catalogue import Cover
    from rotasolve.domain.crop import Crop, Start
    from rotasolve.domain.site import Site

_DAY = timedelta(days=1)


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


def start_window(crop: Crop, start: Start, cover: Cover, site: Site, year: int) -> Window | None:
    """Return when ``start`` may happen in garden year ``year`` under ``cover`` by frost and growth; None if never.

    A cover moves the spring end earlier and the autumn end later by its days. The published latest day holds where it
    is counted from the last frost or the longest day (heat, long days or a canopy too late for the light end those),
    for starts that may stand through the winter, and where the crop's figures say nothing of warmth; else the window
    closes where a start no longer ripens or pays.
    ``windows_of_year`` narrows this by soil and nights.
    """
    turns = turns_of(crop, site, cover, year)
    grown = growing(crop, start, cover, site)
    earliest = turns.day(start.earliest, start.earliest.usual)
    opens: list[WindowReason] = [weeks_from(start.earliest, start.earliest.usual, turns)]
    if grown.opens_in_spring and cover.days_earlier:
        earliest -= timedelta(days=cover.days_earlier)
        opens.append(_cover_reason(cover, cover.days_earlier, False, earliest))
    fixed = start.latest.unit in ("weeks after last frost", "weeks after longest day")
    # Sources from hot summers end the spring's starts early; where growth allows, those from cool ones count.
    weeks = start.latest.most if fixed else start.latest.usual
    latest = turns.day(start.latest, weeks)
    closes: list[WindowReason] = [weeks_from(start.latest, weeks, turns)]
    if not fixed and cover.days_later:
        latest += timedelta(days=cover.days_later)
        closes.append(_cover_reason(cover, cover.days_later, True, latest))
    if grown.air is not None and not fixed and not grown.stands_the_winter:
        latest, closes = grown.darkest_day(earliest) - timedelta(days=NEAR_DAYS), []
    paying = _paying(grown, earliest, latest)
    if paying is None:
        return None
    if paying < latest:
        latest = paying
        closes.insert(0, _why_no_later(grown, paying))
    return Window(earliest, latest, tuple(opens), tuple(closes)) if earliest <= latest else None


def _paying(grown: Growing, earliest: date, latest: date) -> date | None:
    """Return the last day up to ``latest`` that still ripens and gives a catch crop at least; None if there is none."""
    if grown.crop.green_manure or (grown.air is None and not _ends_with_frost(grown)):
        return latest
    if grown.air is not None and grown.stands_the_winter:
        return latest if grown.best_share else None
    if grown.air is None:
        day = latest
        while day >= earliest and grown.ripens(day) is None:
            day -= _DAY
        return day if day >= earliest else None
    day = latest
    while day >= earliest and not pays(grown, day):
        day -= _DAY
    return day if day >= earliest else None


def pays(grown: Growing, day: date) -> bool:
    """Return whether a start gives a catch crop at least, beside the best start at the site."""
    return share_of_best(grown, day) >= CATCH_CROP


def _ends_with_frost(grown: Growing) -> bool:
    return grown.opens_in_spring and grown.crop.hardiness.level != "hardy"


def share_of_best(grown: Growing, day: date) -> float:
    """Return what a start gives in per cent of the best start at the site, 0 if it is not ripe."""
    best = grown.best_share
    return 100 * grown.share_of_start(day) / best if best else 0.0


def _why_no_later(grown: Growing, last: date) -> WindowReason:
    """Return why a start on the day after ``last`` does not pay."""
    beyond, sources = last + _DAY, grown.start.days_to_harvest.source
    days = grown.days_until_ripe(last)
    end = grown.cold_end(last)
    if grown.ripens(beyond) is None:
        dark = grown.darkest_day(last)
        if days is None or (end is None and grown.air is not None):
            return NotRipe(day=last, darkest_day=dark, sources=sources)
        return LittlePicking(
            day=last, ripens_days=days, least_days=LEAST_PICKING_DAYS, end=dark if end is None else end, sources=sources
        )
    return GivesLittle(day=last, share_percent=round(100 * grown.share_of_start(last)), sources=sources)


def _cover_reason(cover: Cover, days: int, later: bool, day: date) -> CoverMoves:
    return CoverMoves(cover=cover.name, days=days, later=later, day=day, sources=cover.source)


@lru_cache(maxsize=8192)
def windows_of_year(crop: Crop, start: Start, cover: Cover, site: Site, year: int) -> tuple[Window, ...]:
    """Return the windows of ``start`` in garden year ``year`` under ``cover``, by date; none if it never may happen.

    The window of ``start_window``, opened by the warmth of the site, less the days on which soil or nights are too
    cold, the soil is too hot, or heat leaves less than a catch crop.
    """
    window = start_window(crop, start, cover, site, year)
    if window is None:
        return ()
    grown = growing(crop, start, cover, site)
    opening = opening_of(crop, start, cover, turns_of(crop, site, cover, year)) if grown.opens_in_spring else None
    found = narrowed(window, crop, start, cover, climate_of(site), site.risk, opening)
    if grown.air is None or grown.stands_the_winter or crop.green_manure:
        return found
    return tuple(part for window in found for part in _paying_parts(window, grown))


def _paying_parts(window: Window, grown: Growing) -> list[Window]:
    """Return a window less the days whose starts give less than a catch crop: a hot summer parts it in two."""
    days = [window.earliest + timedelta(days=n) for n in range((window.latest - window.earliest).days + 1)]
    parts = [list(group) for paying, group in groupby(days, key=lambda day: pays(grown, day)) if paying]
    return [
        replace(
            window,
            earliest=part[0],
            latest=part[-1],
            opens=window.opens if part[0] == window.earliest else (_poor("before", part[0], grown), *window.opens),
            closes=window.closes if part[-1] == window.latest else (_poor("after", part[-1], grown), *window.closes),
        )
        for part in parts
    ]


def _poor(side: Side, day: date, grown: Growing) -> PoorBeyond:
    return PoorBeyond(side=side, day=day, least_percent=CATCH_CROP, sources=grown.start.days_to_harvest.source)


def why_closed(crop: Crop, start: Start, cover: Cover, site: Site, year: int) -> WindowReason | None:
    """Return why ``start`` may never happen in garden year ``year`` under ``cover``; None if it may."""
    if windows_of_year(crop, start, cover, site, year):
        return None
    window = start_window(crop, start, cover, site, year)
    if window is None:
        grown = growing(crop, start, cover, site)
        return SeasonTooShort(day=grown.cold_end(grown.opening), sources=start.days_to_harvest.source)
    return why_never(window, crop, start, cover, climate_of(site), site.risk)


def windows_near(crop: Crop, start: Start, cover: Cover, site: Site, day: date) -> list[Window]:
    """Return the windows of ``start`` that could hold ``day``: its garden year's first, then its neighbours'.

    An autumn window may reach over the end of a garden year.
    """
    year = garden_year(day, site.south)
    return [window for near in (year, year - 1, year + 1) for window in windows_of_year(crop, start, cover, site, near)]


def start_days(window: Window, first: date, last: date) -> list[date]:
    """Return one start day for each half month of the window between ``first`` and ``last``: its first open day."""
    days = []
    begin, end = max(window.earliest, first), min(window.latest, last)
    for period in range(period_of(begin), period_of(end) + 1) if begin <= end else ():
        day = max(first_day(period), begin)
        if day <= end:
            days.append(day)
    return days
