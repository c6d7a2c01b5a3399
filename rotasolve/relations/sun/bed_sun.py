"""Minutes of sun that each bed and strip of a garden has a day before its crops shade one another."""

from __future__ import annotations

import math
from functools import lru_cache
from typing import TYPE_CHECKING

from rotasolve.domain.seasons import first_day
from rotasolve.domain.strips import strips_in_bed
from rotasolve.relations.sun.pair_losses import bed_box, bed_points
from rotasolve.relations.sun.shade_rays import light_left
from rotasolve.relations.sun.site_sun import box_of, strip_sun
from rotasolve.relations.sun.sunlight import sky_of

if TYPE_CHECKING:
    from rotasolve.domain.bed import Bed
    from rotasolve.domain.obstacle import Obstacle
    from rotasolve.domain.scenario import Scenario

HIGH_SUN = {False: range(4, 10), True: (10, 11, 12, 1, 2, 3)}
"""Months in which a crop's least sun is asked for, by whether the garden lies in the south: equinox to equinox.

The hours a crop can do with are rules of thumb for the growing season; no winter day has them."""


def month_of(period: int) -> int:
    """Return the month, 1 to 12, of a half month."""
    return first_day(period).month


def judged(period: int, south: bool) -> bool:
    """Return whether a crop's least sun is asked for in a half month."""
    return month_of(period) in HIGH_SUN[south]


def strip_minutes(scenario: Scenario, bed: Bed, month: int) -> tuple[int, ...]:
    """Return the minutes of direct sun a day of each strip of a bed whose sun is known, obstacles alone counted.

    Hours that the grower typed in stand for all months of high sun: so they are meant, as is
    the least sun of crops.
    """
    return _minutes(bed, scenario.obstacles, scenario.site.latitude, month)


@lru_cache(maxsize=20_000)
def _minutes(bed: Bed, obstacles: tuple[Obstacle, ...], latitude: float, month: int) -> tuple[int, ...]:
    if bed.sun_hours is not None:
        return (round(min(bed.sun_hours, sky_of(latitude, month).day_hours) * 60),) * strips_in_bed(bed)
    boxes = [box_of(obstacle) for obstacle in obstacles]
    strips = range(1, strips_in_bed(bed) + 1)
    return tuple(round(strip_sun(latitude, bed, strip, month, boxes).hours * 60) for strip in strips)


def bed_minutes(scenario: Scenario, bed: Bed, month: int) -> int:
    """Return the minutes of direct sun a day of a bed, the mean of its strips, in whole minutes rounded down."""
    minutes = strip_minutes(scenario, bed, month)
    return sum(minutes) // len(minutes)


def known_beds(scenario: Scenario) -> tuple[Bed, ...]:
    """Return the beds of whose sun anything is known, in the scenario's order."""
    return tuple(bed for bed in scenario.beds if bed.has_known_sun)


def may_want(scenario: Scenario, bed: Bed, month: int, need: int, height_cm: float) -> bool:
    """Return whether other beds can take a bed's sun below ``need`` minutes a day at all.

    They cannot if the bed keeps so much with all of them full of a crop of the height: rays past all of them at once
    count each shadow once, where the sums of the pairs count what overlaps twice.
    """
    spare = bed_minutes(scenario, bed, month) - need
    return bed.is_placed and _at_worst(bed, scenario.beds, scenario.site.latitude, month, height_cm) > max(spare, 0)


@lru_cache(maxsize=20_000)
def _at_worst(bed: Bed, beds: tuple[Bed, ...], latitude: float, month: int, height_cm: float) -> int:
    """Return the minutes a day a bed loses to all others at once, rounded up."""
    boxes = [bed_box(other, height_cm) for other in beds if other.name != bed.name and other.is_placed]
    sky = sky_of(latitude, month)
    return math.ceil(float((1 - light_left(boxes, bed_points(bed), sky).mean(axis=0)) @ sky.hours) * 60)
