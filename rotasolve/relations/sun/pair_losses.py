"""What one bed takes from another: a table of sun lost for each pair, month and height step, summed by the rules.

Shadows that overlap are counted twice, so a sum over beds is never less than what they take together; heights are
rounded up to whole steps and losses to whole minutes and thousandths, so that shade is never understated. Minutes,
which a hard rule counts, take a field of ground as shaded as soon as any of it is; thousandths, which a goal weighs,
do not.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy

from rotasolve.relations.sun.shade_rays import Box, grid, passes, turned
from rotasolve.relations.sun.site_sun import middle_of
from rotasolve.relations.sun.sunlight import Numbers, sky_of

if TYPE_CHECKING:
    from rotasolve.domain.bed import Bed

HEIGHT_STEP_CM = 10
"""Heights are rounded up to this."""
MOST_CM = 400
"""Higher steps count as this: no vegetable is taller."""
POINTS_A_SIDE = 12
"""A bed is looked at from 12 x 12 points."""


@dataclass(frozen=True)
class PairLoss:
    """Minutes of direct sun a day, and thousandths of the clear-sky beam, lost by height step in ``HEIGHT_STEP_CM``."""

    minutes: tuple[int, ...]
    thousandths: tuple[int, ...]

    def minutes_at(self, step_cm: float) -> int:
        """Return the minutes a day lost to a crop so much higher."""
        return self.minutes[_index(step_cm)]

    def thousandths_at(self, step_cm: float) -> int:
        """Return the thousandths of the beam lost to a crop so much higher."""
        return self.thousandths[_index(step_cm)]


def _index(step_cm: float) -> int:
    return min(max(math.ceil(step_cm / HEIGHT_STEP_CM - 1e-9), 0), MOST_CM // HEIGHT_STEP_CM)


def bed_box(bed: Bed, top: float) -> Box:
    """Return a placed bed as a box of a height in cm: all of it counts as full of its tallest crop."""
    east, north = middle_of(bed)
    return Box(bed.name, east, north, bed.breadth_cm / 2, bed.depth_cm / 2, bed.bearing, 0.0, top)


def bed_points(bed: Bed) -> Numbers:
    """Return the points from which a placed bed is looked at, shape (``POINTS_A_SIDE`` ** 2, 2), in cm."""
    east, north = middle_of(bed)
    centred = _points(bed.breadth_cm, bed.depth_cm, bed.bearing)
    return numpy.asarray(centred + numpy.array([east, north]), dtype=numpy.float64)


def _points(breadth: float, depth: float, bearing: float) -> Numbers:
    return turned(grid(breadth, depth, POINTS_A_SIDE, POINTS_A_SIDE) - (breadth / 2, depth / 2), 0, 0, bearing)


def pair_loss(caster: Bed, receiver: Bed, latitude: float, month: int) -> PairLoss:
    """Return what a bed takes from another in a month; nothing unless both are placed."""
    if not caster.is_placed or not receiver.is_placed:
        nothing = (0,) * (MOST_CM // HEIGHT_STEP_CM + 1)
        return PairLoss(nothing, nothing)
    east, north = middle_of(receiver)
    there_east, there_north = middle_of(caster)
    # Only how the two lie to one another matters, so that beds in rows share their tables.
    away = (round(there_east - east, 3), round(there_north - north, 3))
    casting = (caster.breadth_cm, caster.depth_cm, caster.bearing)
    receiving = (receiver.breadth_cm, receiver.depth_cm, receiver.bearing)
    return _loss(away, casting, receiving, latitude, month)


@lru_cache(maxsize=20_000)
def _loss(
    away: tuple[float, float],
    casting: tuple[float, float, float],
    receiving: tuple[float, float, float],
    latitude: float,
    month: int,
) -> PairLoss:
    points = _points(*receiving)
    sky = sky_of(latitude, month)
    # A point stands for its field: a box as much larger as the field shades the point whenever any of it is shaded.
    turn = math.radians(receiving[2] - casting[2])
    across, along = receiving[0] / POINTS_A_SIDE / 2, receiving[1] / POINTS_A_SIDE / 2
    wider = across * abs(math.cos(turn)) + along * abs(math.sin(turn))
    deeper = across * abs(math.sin(turn)) + along * abs(math.cos(turn))
    found = []
    for more, weights in (((wider, deeper), sky.hours * 60), ((0.0, 0.0), sky.beam * 1000)):
        box = Box("", *away, casting[0] / 2 + more[0], casting[1] / 2 + more[1], casting[2], 0.0, math.inf)
        enters, _ = passes(box, points, sky)
        # A ray is stopped by every height above the one at which it enters, so one pass serves all heights.
        steps = numpy.minimum(enters / HEIGHT_STEP_CM, MOST_CM // HEIGHT_STEP_CM + 1).astype(numpy.int64).ravel()
        lost = numpy.bincount(steps, numpy.broadcast_to(weights, enters.shape).ravel(), MOST_CM // HEIGHT_STEP_CM + 2)
        summed = numpy.concatenate([[0.0], numpy.cumsum(lost)])[: MOST_CM // HEIGHT_STEP_CM + 1] / len(points)
        found.append(tuple(math.ceil(value - 1e-6) for value in summed.tolist()))
    return PairLoss(*found)
