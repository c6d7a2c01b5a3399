"""Rays from points on the ground to the sun, and the boxes that stand in their way (slab test, no polygons).

A box may be turned about its middle. A ray climbs, so it is over a box from the height at which it enters the box's
ground plan to the height at which it leaves it; the box stops it if the two meet the box's bottom and top.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rotasolve.relations.sun.sunlight import Numbers, Sky


@dataclass(frozen=True)
class Box:
    """A box in cm: its middle on the ground, its half extents, its turn in degrees, bottom and top.

    ``light_through`` is the share of the beam that comes through.
    """

    name: str
    east: float
    north: float
    half_breadth: float
    half_depth: float
    bearing: float
    bottom: float
    top: float
    light_through: float = 0.0


def turned(points: Numbers, east: float, north: float, bearing: float) -> Numbers:
    """Return points, shape (n, 2) as east and north, turned clockwise about a place by degrees."""
    angle = math.radians(bearing)
    across, along = points[:, 0] - east, points[:, 1] - north
    return numpy.stack(
        [
            east + across * math.cos(angle) + along * math.sin(angle),
            north - across * math.sin(angle) + along * math.cos(angle),
        ],
        axis=1,
    )


def passes(box: Box, points: Numbers, sky: Sky) -> tuple[Numbers, Numbers]:
    """Return the heights in cm at which each ray enters and leaves the space over and under a box.

    Shapes are (points, moments); a ray that misses the ground plan enters at infinity. A point inside the plan enters
    at height 0.
    """
    angle = math.radians(box.bearing)
    cosine, sine = math.cos(angle), math.sin(angle)
    near: Numbers | None = None
    far: Numbers | None = None
    for half, (to_east, to_north) in ((box.half_breadth, (cosine, -sine)), (box.half_depth, (sine, cosine))):
        start = (points[:, 0] - box.east) * to_east + (points[:, 1] - box.north) * to_north
        step = sky.east * to_east + sky.north * to_north
        step = numpy.where(numpy.abs(step) < 1e-12, 1e-12, step)
        middle, reach = -start[:, None] / step[None, :], half / numpy.abs(step)[None, :]
        near = middle - reach if near is None else numpy.maximum(near, middle - reach)
        far = middle + reach if far is None else numpy.minimum(far, middle + reach)
    assert near is not None
    assert far is not None
    near = numpy.maximum(near, 0)
    enters = numpy.where(far > near, near * sky.slope[None, :], numpy.inf)
    return enters, far * sky.slope[None, :]


def dimmed(box: Box, points: Numbers, sky: Sky, plane: float = 0.0) -> Numbers:
    """Return the share of the beam a box takes from each ray, shape (points, moments), seen from a height in cm."""
    enters, leaves = passes(box, points, sky)
    stopped = (enters < box.top - plane) & (leaves > box.bottom - plane)
    return numpy.asarray(stopped * (1.0 - box.light_through), dtype=numpy.float64)


def light_left(boxes: Sequence[Box], points: Numbers, sky: Sky, plane: float = 0.0) -> Numbers:
    """Return the share of the beam that comes past all boxes, shape (points, moments)."""
    left = numpy.ones((len(points), len(sky.hours)))
    for box in boxes:
        left *= 1 - dimmed(box, points, sky, plane)
    return left


def grid(breadth: float, depth: float, across: int, along: int) -> Numbers:
    """Return the middles of equal fields of a rectangle, shape (across * along, 2), from its south-west corner."""
    easts = (numpy.arange(across) + 0.5) * breadth / across
    norths = (numpy.arange(along) + 0.5) * depth / along
    return numpy.stack([part.ravel() for part in numpy.meshgrid(easts, norths)], axis=1)
