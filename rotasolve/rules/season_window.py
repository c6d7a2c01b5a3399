"""Season window: a crop is started only when its hardiness, the frost dates and the bed's cover allow it.

What it asks
    Sowing in place and setting out happen inside the crop's window, which is counted in weeks from the last or the
    first frost (the site's risk setting chooses the date for all but hardy crops) and lengthened by the bed's cover.
    Nothing is picked before it can be ripe.
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
from datetime import date, timedelta
from typing import TYPE_CHECKING

from rotasolve.domain.claim import Breach, Claim
from rotasolve.domain.hindrance import Hindrance
from rotasolve.domain.seasons import say_day

if TYPE_CHECKING:
    from rotasolve.board import Board
    from rotasolve.domain.plan import Plan, Planting
    from rotasolve.relations.ground.garden import Garden
    from rotasolve.relations.season.windows import Window


def window_claim(crop: str, bed: str) -> Claim:
    """Return the claim that a crop is started in season in a bed."""
    return Claim(rule="season-window", about=(crop, bed))


def _picked_unripe(garden: Garden, planting: Planting) -> Iterator[Breach]:
    """Yield a breach if a planting is picked sooner than its crop can be ripe after that way of starting."""
    ripe = _soonest_ripe(garden, planting)
    if planting.first_harvest is not None and planting.first_harvest < ripe:
        found = f"{planting.crop} picked on {say_day(planting.first_harvest)} is ripe on {say_day(ripe)} at the soonest"
        yield Breach(claim=window_claim(planting.crop, planting.bed), found=found, plantings=(planting,))


def _soonest_ripe(garden: Garden, planting: Planting) -> date:
    """Return the day on which a planting can be ripe at the soonest: by quick kinds, or by the days the plan uses."""
    starts = [start for start in garden.crops[planting.crop].starts if start.way == planting.way]
    days = min(start.days_to_harvest.least for start in starts)
    grown = garden.growing(planting)
    warm = grown.days_until_ripe(planting.start)
    # Quick kinds need their share of the degree days the usual ones need: in proportion to the published days.
    if grown.air is not None and warm is not None:
        days = warm * min(1.0, days / grown.published_days)
    return planting.start + timedelta(days=math.floor(days))


class SeasonWindow:
    """Started in season."""

    key = "season-window"

    def post(self, garden: Garden, board: Board) -> None:
        """Forbid what only a pin asks for and no window holds; all other choices lie inside a window."""
        late: dict[tuple[str, str], list[int]] = {}
        for number, choice in enumerate(garden.choices):
            sowing = choice.sowing
            if not sowing.pinned:
                continue
            windows = garden.windows_near(sowing.crop, sowing.way, choice.bed, sowing.start)
            if not any(window.earliest <= sowing.start <= window.latest for window in windows):
                late.setdefault((sowing.crop, choice.bed), []).append(number)
        for (crop, bed), numbers in late.items():
            with board.because(window_claim(crop, bed)):
                board.never(numbers)

    def breaches(self, garden: Garden, plan: Plan) -> Iterator[Breach]:
        """Look each start day up in the crop's windows."""
        for planting in plan.plantings:
            windows = garden.windows_near(planting.crop, planting.way, planting.bed, planting.start)
            if any(window.earliest <= planting.start <= window.latest for window in windows):
                yield from _picked_unripe(garden, planting)
                continue
            found = f"{planting.crop} {planting.way} on {say_day(planting.start)}"
            if windows:
                found += f", open from {say_day(windows[0].earliest)} to {say_day(windows[0].latest)}"
            else:
                found += ", never open here"
            yield Breach(claim=window_claim(planting.crop, planting.bed), found=found, plantings=(planting,))

    def say(self, claim: Claim) -> str:
        """Say the claim in plain words."""
        crop, bed = claim.about
        return f"{crop} in {bed} is started in its season"

    def hinders(self, garden: Garden, plan: Plan, planting: Planting) -> Iterator[Hindrance]:
        """Bar a start outside the crop's windows, and say when it is open here and under the garden's other covers."""
        crop, day = garden.crops[planting.crop], planting.start
        windows = garden.windows_near(crop.name, planting.way, planting.bed, day)
        if any(window.earliest <= day <= window.latest for window in windows):
            return
        here = garden.beds[planting.bed].cover
        said = [f"{crop.name} is {planting.way} {_say_open(_nearest(windows, day), here)}"]
        for cover, bed in sorted({bed.cover: bed.name for bed in garden.beds.values() if bed.cover != here}.items()):
            said.append(_say_open(_nearest(garden.windows_near(crop.name, planting.way, bed, day), day), cover))
        nearest = _nearest(windows, day)
        if crop.least_night is not None and nearest is not None and day < nearest.earliest:
            said.append(f"it wants nights of {crop.least_night.usual:g} degC or more")
        later = [window.earliest for window in windows if window.earliest > day]
        yield Hindrance(
            claim=window_claim(crop.name, planting.bed),
            sentence="; ".join(said),
            strips=planting.strips,
            until=min(later) - timedelta(days=1) if later else None,
        )


def _nearest(windows: list[Window], day: date) -> Window | None:
    return min(windows, key=lambda w: max((w.earliest - day).days, (day - w.latest).days), default=None)


def _say_open(window: Window | None, cover: str) -> str:
    place = _COVER_WORDS.get(cover, f"under a {cover}")
    if window is None:
        return f"never {place}"
    why = ": " + ", ".join(reason.sentence for reason in window.opens) if window.opens else ""
    if window.earliest == window.latest:
        return f"on {say_day(window.earliest)} {place}{why}"
    return f"from {say_day(window.earliest)} to {say_day(window.latest)} {place}{why}"


_COVER_WORDS = {"open ground": "in open ground", "cold frame": "in the cold frame", "fleece": "under fleece"}
