"""What the starts of a window give: the share of a full crop by half months, and which days are good."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from typing import TYPE_CHECKING, Literal

from rotasolve.relations.season.growing import GOOD, POSSIBLE
from rotasolve.relations.season.windows import share_of_best, start_days

if TYPE_CHECKING:
    from rotasolve.relations.season.growing import Growing
    from rotasolve.relations.season.windows import Window

Part = Literal["good", "possible", "catch crop"]
"""What a start is called by its share of what the best start at the site gives."""

_DAY = timedelta(days=1)
_SHORT_DAYS = 4


@dataclass(frozen=True)
class StartShare:
    """What the first open start of a half month gives, in per cent of a full crop, and what such a start is called."""

    first: date
    percent: int
    part: Part


@dataclass(frozen=True)
class WindowPart:
    """A run of days of a window, both ends included, on which starts are called the same."""

    part: Part
    first: date
    last: date


def part_of(grown: Growing, day: date) -> Part:
    """Return what a start is called; one of a crop counted in plain days is good."""
    worth = 100 if grown.air is None else round(share_of_best(grown, day))
    return "good" if worth >= GOOD else "possible" if worth >= POSSIBLE else "catch crop"


def percent_of_start(grown: Growing, day: date) -> int:
    """Return what a start gives, in per cent of a full crop, if it is picked to its end."""
    return int(100 * grown.share_of_start(day) + 1e-9)


def shares_in(grown: Growing, window: Window) -> tuple[StartShare, ...]:
    """Return what starts in each half month of a window give; nothing for a green manure."""
    days = () if grown.crop.green_manure else start_days(window, window.earliest, window.latest)
    return tuple(StartShare(day, percent_of_start(grown, day), part_of(grown, day)) for day in days)


def parts_in(grown: Growing, window: Window) -> tuple[WindowPart, ...]:
    """Return the runs of days of a window that are called the same, by date; nothing for a green manure.

    A short run between two others goes with the one before it: ripeness counts whole days, so that shares jump a little
    from day to day, back and forth over a bound.
    """
    found: list[WindowPart] = []
    day = window.earliest
    while day <= window.latest and not grown.crop.green_manure:
        part = part_of(grown, day)
        if len(found) > 1 and found[-1].part != part and (found[-1].last - found[-1].first).days < _SHORT_DAYS - 1:
            found[-2:] = [WindowPart(found[-2].part, found[-2].first, found[-1].last)]
        first = found.pop().first if found and found[-1].part == part else day
        found.append(WindowPart(part, first, day))
        day += _DAY
    return tuple(found)
