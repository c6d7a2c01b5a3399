"""Season window: a crop is started only when its hardiness, the frost dates and the bed's cover allow it.

What it asks
    Sowing in place and setting out happen inside the crop's window, which is counted in weeks from the last or the
    first frost (the site's risk setting chooses the date for all but hardy crops) and lengthened by the bed's cover.
    Nothing is picked before it can be ripe. What was started before the first planned year, or stays for years, is not
    judged: it stands.
Why
    Bulletins state planting times that way: hardy crops weeks before the last frost, tender ones at or after it
    (S08, S10), latest sowings by weeks before the first frost (S20). Each crop's figures carry their source.
Breaks it
    Peppers set out on 1 May where the last frost is 20 May.
Loosen it
    Set ``risk: early``, put a cover over the bed, or change the window in a crop file of your own.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from typing import TYPE_CHECKING

from rotasolve.domain.claim import Claim, Facts
from rotasolve.domain.hindrance import Hindrance
from rotasolve.domain.plan import Breach
from rotasolve.relations.season.degree_days import degree_days_of_day
from rotasolve.relations.season.estimated_climate import climate_of
from rotasolve.relations.season.site_climate import afternoons, nights

if TYPE_CHECKING:
    from rotasolve.board import Board
    from rotasolve.domain.plan import Plan, Planting
    from rotasolve.relations.ground.garden import Garden
    from rotasolve.relations.season.reasons import WindowReason
    from rotasolve.relations.season.windows import Window


@dataclass(frozen=True)
class WindowClaim(Claim):
    """A crop is started in season in a bed."""

    rule = "season-window"
    crop: str
    bed: str


@dataclass(frozen=True)
class PickedUnripe(Facts):
    """A crop is picked before the day on which it is ripe at the soonest."""

    crop: str
    picked: date
    ripe: date


@dataclass(frozen=True)
class OutOfSeason(Facts):
    """A crop is started on a day outside its window; ``window`` None: it never opens."""

    crop: str
    way: str
    start: date
    window: tuple[date, date] | None


@dataclass(frozen=True)
class Opening:
    """When a crop may be started under a cover and why it opens then; ``window`` None: never."""

    cover: str
    window: tuple[date, date] | None
    opens: tuple[WindowReason, ...] = ()


@dataclass(frozen=True)
class Closed(Facts):
    """A crop's window is closed: when it is open here (first) and under the garden's other covers.

    ``least_night_c`` are the nights in degrees C it wants, where it would be started before it opens.
    """

    crop: str
    way: str
    openings: tuple[Opening, ...]
    least_night_c: float | None


def _picked_unripe(garden: Garden, planting: Planting) -> Iterator[Breach]:
    """Yield a breach if a planting is picked sooner than its crop can be ripe after that way of starting."""
    ripe = _soonest_ripe(garden, planting)
    if planting.first_harvest is not None and planting.first_harvest < ripe:
        found = PickedUnripe(planting.crop, planting.first_harvest, ripe)
        yield Breach(WindowClaim(planting.crop, planting.bed), found, (planting,))


def _soonest_ripe(garden: Garden, planting: Planting) -> date:
    """Return the soonest day on which a planting can be ripe: quick kinds, their degree days walked day by day."""
    starts = [start for start in garden.crops[planting.crop].starts if start.way == planting.way]
    days, grown = min(start.days_to_harvest.least for start in starts), garden.growing(planting)
    warmth, cover = grown.warmth, garden.catalogue.cover(garden.beds[planting.bed].cover)
    if warmth is None:
        return planting.start + timedelta(days=math.floor(days))
    climate, day = climate_of(garden.scenario.site), planting.start
    missing = days * (grown.known_at - warmth.base) - _ROUNDING
    while missing > 0 and day < planting.start + timedelta(days=366):
        low, high = nights(climate).on(day), afternoons(climate).on(day)
        # Opened when it is warm enough: a cover warms no further than to the top of the crop's best range.
        share = (
            min(1.0, max(0.0, (warmth.best_to - (low + high) / 2) / cover.mean_gain_c)) if cover.mean_gain_c else 0.0
        )
        low, high = low + share * cover.night_gain_c, high + share * cover.day_gain_c
        missing -= degree_days_of_day(low, high, warmth.base, warmth.ceiling, warmth.method)
        day += timedelta(days=1)
    return day


_ROUNDING = 1e-6


class SeasonWindow:
    """Started in season."""

    key = WindowClaim.rule
    holds_inside_a_bed = False

    def post(self, garden: Garden, board: Board) -> None:
        """Forbid what only a pin asks for and no window holds; all other choices lie inside a window."""
        late: dict[tuple[str, str], list[int]] = {}
        for number, choice in enumerate(garden.choices):
            sowing = choice.sowing
            if not sowing.pinned or sowing.begins < garden.scenario.first_year or garden.crops[sowing.crop].stays:
                continue
            windows = garden.windows_near(sowing.crop, sowing.way, choice.bed, sowing.start)
            if not any(window.earliest <= sowing.start <= window.latest for window in windows):
                late.setdefault((sowing.crop, choice.bed), []).append(number)
        for (crop, bed), numbers in late.items():
            with board.because(WindowClaim(crop, bed)):
                board.never(numbers)

    def breaches(self, garden: Garden, plan: Plan) -> Iterator[Breach]:
        """Look each start day up in the crop's windows."""
        for planting in plan.plantings:
            before = planting.begins_in(garden.scenario.site.south) < garden.scenario.first_year
            if before or garden.crops[planting.crop].stays is not None:
                continue
            windows = garden.windows_near(planting.crop, planting.way, planting.bed, planting.start)
            if any(window.earliest <= planting.start <= window.latest for window in windows):
                yield from _picked_unripe(garden, planting)
                continue
            window = (windows[0].earliest, windows[0].latest) if windows else None
            found = OutOfSeason(planting.crop, planting.way, planting.start, window)
            yield Breach(WindowClaim(planting.crop, planting.bed), found, (planting,))

    def hinders(self, garden: Garden, plan: Plan, planting: Planting) -> Iterator[Hindrance]:
        """Bar a start outside the crop's windows, and say when it is open here and under the garden's other covers."""
        crop, day = garden.crops[planting.crop], planting.start
        windows = garden.windows_near(crop.name, planting.way, planting.bed, day)
        if any(window.earliest <= day <= window.latest for window in windows):
            return
        here = garden.beds[planting.bed].cover
        nearest = _nearest(windows, day)
        openings = [_opening(nearest, here)]
        for cover, bed in sorted({bed.cover: bed.name for bed in garden.beds.values() if bed.cover != here}.items()):
            openings.append(_opening(_nearest(garden.windows_near(crop.name, planting.way, bed, day), day), cover))
        early = crop.least_night is not None and nearest is not None and day < nearest.earliest
        night = crop.least_night.usual if early and crop.least_night is not None else None
        later = [window.earliest for window in windows if window.earliest > day]
        yield Hindrance(
            WindowClaim(crop.name, planting.bed),
            Closed(crop.name, planting.way, tuple(openings), night),
            planting.strips,
            min(later) - timedelta(days=1) if later else None,
        )


def _nearest(windows: list[Window], day: date) -> Window | None:
    return min(windows, key=lambda w: max((w.earliest - day).days, (day - w.latest).days), default=None)


def _opening(window: Window | None, cover: str) -> Opening:
    if window is None:
        return Opening(cover, None)
    return Opening(cover, (window.earliest, window.latest), tuple(window.opens))
