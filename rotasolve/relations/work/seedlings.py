"""Seedlings indoors: how many pots of which width stand there in each half month, and the room they take."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from typing import TYPE_CHECKING

from rotasolve.domain.seasons import first_day, last_day, period_of
from rotasolve.relations.work.jobs import days_of
from rotasolve.relations.work.packing import most_places
from rotasolve.relations.work.seeds import need_of

if TYPE_CHECKING:
    from rotasolve.domain.plan import Plan, Planting
    from rotasolve.relations.ground.garden import Garden

TRAY_CM = (38.0, 24.0)
"""Length and width of a seed tray in cm: common practice, no source."""
SILL_CM = 20.0
"""Depth of a window sill in cm where the grower gives none: common practice, no source."""


@dataclass(frozen=True)
class PotTime:
    """``count`` pots of one width in cm, indoors from ``first`` to ``last``, both days included."""

    pot_cm: float
    count: int
    first: date
    last: date


@dataclass(frozen=True)
class SillRoom:
    """The fullest day of one half month: pots by width in cm, trays, m2 and cm of sill they take."""

    period: int
    pots: Mapping[float, int]
    trays: int
    area_m2: float
    sill_cm: float


def pot_times_of(garden: Garden, planting: Planting) -> Iterator[PotTime]:
    """Yield the pots of one planting, first and second, until the day before setting out; none if nothing is raised.

    Plants that are hardened off come in at night, so they keep their place to the end.
    """
    raising, begun = garden.crops[planting.crop].raising, planting.raise_from
    count = need_of(garden, planting).raised
    if raising is None or begun is None or not count or begun >= planting.start:
        return
    end = planting.start - timedelta(days=1)
    potted = [day for kind, day in days_of(garden, planting) if kind == "pot on"]
    if potted and raising.second_pot is not None:
        yield PotTime(raising.first_pot.usual, count, begun, potted[0] - timedelta(days=1))
        yield PotTime(raising.second_pot.usual, count, potted[0], end)
    else:
        yield PotTime(raising.first_pot.usual, count, begun, end)


def seedling_room(garden: Garden, plan: Plan, sill_depth_cm: float = SILL_CM) -> tuple[SillRoom, ...]:
    """Return the half months with seedlings indoors, in order, each on its fullest day by area.

    ``area_m2`` counts a square for each pot; ``sill_cm`` is the length of a sill ``sill_depth_cm`` deep on which they
    stand in rows along it, at least one row.
    """
    stays = [stay for planting in plan.plantings for stay in pot_times_of(garden, planting)]
    periods = sorted({p for stay in stays for p in range(period_of(stay.first), period_of(stay.last) + 1)})
    return tuple(_fullest(period, stays, sill_depth_cm) for period in periods)


def _fullest(period: int, stays: list[PotTime], sill_depth_cm: float) -> SillRoom:
    here = [stay for stay in stays if stay.first <= last_day(period) and stay.last >= first_day(period)]
    days = {max(stay.first, first_day(period)) for stay in here}
    crowds = [pots_on(here, day) for day in sorted(days)]
    pots = max(crowds, key=lambda crowd: sum(width**2 * count for width, count in crowd.items()))
    area = sum(width**2 * count for width, count in pots.items()) / 10_000
    sill = sum(math.ceil(n / max(1, math.floor(sill_depth_cm / w + 1e-9))) * w for w, n in pots.items())
    return SillRoom(period, pots, trays_for(pots), area, sill)


def pots_on(stays: list[PotTime], day: date) -> dict[float, int]:
    """Return the pots by width that stand indoors on a day, the narrowest first."""
    pots: Counter[float] = Counter()
    for stay in stays:
        if stay.first <= day <= stay.last:
            pots[stay.pot_cm] += stay.count
    return dict(sorted(pots.items()))


def trays_for(pots: Mapping[float, int]) -> int:
    """Return how many trays hold the pots, each tray with pots of one width, set square or staggered."""
    return sum(math.ceil(count / max(1, most_places(*TRAY_CM, width))) for width, count in pots.items())


def pot_litres(width_cm: float) -> float:
    """Return the compost a pot holds, in litres.

    Geometry of a round pot as high as 0.9 of its width and 0.75 as wide below as above (common practice, no source):
    the volume of that truncated cone.
    """
    top, bottom, height = width_cm, 0.75 * width_cm, 0.9 * width_cm
    return math.pi * height / 12 * (top**2 + top * bottom + bottom**2) / 1000
