"""How high a crop stands in a half month, never too low: what its shadow takes is not to be understated.

FAO-56 (Allen, Pereira, Raes and Smith 1998, chapter 6) prints how many days a crop takes to germinate and establish
(initial stage: until about 10 % of the ground is covered) and to full cover (development stage). Heights between are
not published for the crops here; the shares below are assumed on the safe side: common practice, no source.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from rotasolve.domain.seasons import last_day, period_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping
    from datetime import date

    from rotasolve.domain.crop import Crop
    from rotasolve.domain.plan import Planting
    from rotasolve.relations.ground.sowings import Sowing

ESTABLISHING = 0.5
"""Share of the full height that a crop has at most in its initial stage."""
CLIMBING = 0.75
"""Share of the full height that a crop has at most in the first half of its development."""
FULL_WHEN_UNKNOWN = 0.5
"""Share of the way to the first harvest after which a crop without published stages counts as full grown."""
STEPS_CM = (50, 100, 150, 200, 250, 300, 400)
"""Heights at which crops are compared where the solver weighs them: few, so that it needs few marks."""


def casting_height_cm(crop: Crop, start: date, ready: date, period: int) -> float:
    """Return the most height in cm that a crop has in a half month: its shadow is never understated.

    Parameters
    ----------
    start
        Day of sowing in place or of setting out.
    ready
        Day of the first harvest, or of clearing for a crop that has none.
    """
    full = crop.height.usual
    whole = max((ready - start).days, 1)
    way = min((last_day(period) - start).days / whole, 1.0)
    stages = crop.water
    if stages is None:
        return full if way >= FULL_WHEN_UNKNOWN else full * CLIMBING
    # Stages are stretched to the time until the first harvest, which is taken to fall at their middle's end.
    days = stages.initial_days + stages.development_days + stages.middle_days
    established = stages.initial_days / days
    half_covered = (2 * stages.initial_days + stages.development_days) / (2 * days)
    if way < established:
        return full * ESTABLISHING
    return full * CLIMBING if way < half_covered else full


def planting_height_cm(crop: Crop, planting: Planting, period: int) -> float:
    """Return the most height in cm that a planting has in a half month."""
    return casting_height_cm(crop, planting.start, planting.first_harvest or planting.clear, period)


def sowing_height_cm(crop: Crop, sowing: Sowing, period: int) -> float:
    """Return the most height in cm that a sowing has in a half month."""
    return casting_height_cm(crop, sowing.start, sowing.course.first_harvest or sowing.course.clear, period)


def tallest_standing(crops: Mapping[str, Crop], plantings: Iterable[Planting], period: int) -> dict[str, int]:
    """Return the height in cm, rounded up to a step, of the tallest crop that stands in each bed in a half month."""
    tallest: dict[str, int] = {}
    for planting in plantings:
        if period_of(planting.start) <= period <= period_of(planting.clear):
            high = step_up(planting_height_cm(crops[planting.crop], planting, period))
            tallest[planting.bed] = max(high, tallest.get(planting.bed, 0))
    return tallest


def step_up(height_cm: float) -> int:
    """Return a height that casts shade, rounded up to the next step."""
    return next((step for step in STEPS_CM if height_cm <= step), math.ceil(height_cm))
