"""Where on a site a new bed or cold frame would get the most sun, and which way to turn it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy

from rotasolve.domain.sun import Spot
from rotasolve.relations.sun.pair_losses import bed_box
from rotasolve.relations.sun.shade_rays import Box, grid, light_left, turned
from rotasolve.relations.sun.site_sun import box_of
from rotasolve.relations.sun.sunlight import Numbers, sky_of

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from rotasolve.domain.scenario import Scenario
    from rotasolve.relations.sun.sunlight import Sky

BEARINGS = tuple(range(0, 180, 15))
"""Bearings tried, in degrees clockwise from north, of the long side: after half a turn a bed lies as before."""
TILTED_BEARINGS = tuple(range(0, 360, 15))
"""Bearings tried for a tilted pane, of the long side from which the pane falls away to the right."""
COARSE = 2
"""While places are compared only every second bearing is tried."""
MARGIN_CM = 100.0
"""How far beyond the beds and obstacles spots are tried."""
SPOT_STEP_CM = 50.0
TIDY_CM = 10.0
MOST_SPOTS = 400
POINTS_A_SIDE = 4
ROW_STRIP_CM = 30.0
"""Depth of the ground looked at on each side of a tall row along the middle."""


@dataclass(frozen=True)
class NewBed:
    """What is to be placed: its sides in cm, the months it is wished for, a row along its middle, a pane's tilt.

    ``row_cm`` is the height of a tall row along the middle of the long side, 0 for none; ``tilt`` is the tilt of a
    pane in degrees, 0 for level ground. A pane falls away from its high long side.
    """

    length: float
    width: float
    months: tuple[int, ...]
    row_cm: float = 0.0
    tilt: float = 0.0


def best_spots(scenario: Scenario, new: NewBed, at: tuple[float, float] | None = None) -> tuple[Spot, ...]:
    """Return every spot at its best bearing, most beam first; with ``at`` that one middle at every bearing.

    Beds already there are flat; only obstacles cast shade. Places and bearings at which the new bed would lie on a
    bed or an obstacle are left out. With a row, spots of equal beam are ranked by the darker of its two sides.
    """
    boxes = [box_of(obstacle) for obstacle in scenario.obstacles]
    ground = [_plan(box) for box in boxes] + [_plan(bed_box(bed, 1.0)) for bed in scenario.beds if bed.is_placed]
    skies = [sky_of(scenario.site.latitude, month) for month in new.months]
    bearings = TILTED_BEARINGS if new.tilt else BEARINGS
    found = []
    for middle in [at] if at is not None else list(_middles(scenario, new)):
        here = [
            _spot(boxes, skies, new, middle, bearing)
            for bearing in (bearings if at is not None else bearings[::COARSE])
            if at is not None or not any(_overlap(_corners(new, middle, bearing), plan) for plan in ground)
        ]
        found += here if at is not None else [max(here, key=_rank)] if here else []
    return tuple(
        sorted(found, key=lambda spot: (*(-part for part in _rank(spot)), spot.bearing, spot.north, spot.east))
    )


def _rank(spot: Spot) -> tuple[float, float, float]:
    return round(spot.share, 3), round(spot.darker_side or 0.0, 3), round(spot.hours, 2)


def _middles(scenario: Scenario, new: NewBed) -> Iterator[tuple[float, float]]:
    """Yield the middles tried: a square grid over the beds and obstacles and a margin around them."""
    plans = [_plan(box_of(obstacle)) for obstacle in scenario.obstacles]
    plans += [_plan(bed_box(bed, 1.0)) for bed in scenario.beds if bed.is_placed]
    if not plans:
        yield 0.0, 0.0
        return
    every = numpy.concatenate(plans)
    room = MARGIN_CM + math.hypot(new.length, new.width) / 2
    # On whole lengths, so that a spot is soon measured out.
    (west, low), (right, high) = ((every.min(axis=0) - room) // TIDY_CM) * TIDY_CM, every.max(axis=0) + room
    step = max(SPOT_STEP_CM, math.sqrt(float((right - west) * (high - low)) / MOST_SPOTS))
    step = math.ceil(step / TIDY_CM) * TIDY_CM
    for north in numpy.arange(low, high + 1, step):
        for east in numpy.arange(west, right + 1, step):
            yield float(east), float(north)


def _plan(box: Box) -> Numbers:
    """Return the corners of a box on the ground, shape (4, 2), in order around it."""
    breadth, depth = box.half_breadth, box.half_depth
    square = numpy.array([[-breadth, -depth], [breadth, -depth], [breadth, depth], [-breadth, depth]])
    return turned(square + numpy.array([box.east, box.north]), box.east, box.north, box.bearing)


def _corners(new: NewBed, middle: tuple[float, float], bearing: float) -> Numbers:
    return _plan(Box("", *middle, new.width / 2, new.length / 2, bearing, 0.0, 0.0))


def _overlap(one: Numbers, other: Numbers) -> bool:
    """Return whether two turned rectangles share ground: no line along a side of either parts them."""
    for shape in (one, other):
        for first, second in ((0, 1), (1, 2)):
            side = shape[second] - shape[first]
            across = numpy.array([-side[1], side[0]])
            here, there = one @ across, other @ across
            if here.max() <= there.min() + 1e-6 or there.max() <= here.min() + 1e-6:
                return False
    return True


def _spot(boxes: Sequence[Box], skies: Sequence[Sky], new: NewBed, middle: tuple[float, float], bearing: float) -> Spot:
    field = grid(new.width, new.length, POINTS_A_SIDE, POINTS_A_SIDE) - numpy.array([new.width / 2, new.length / 2])
    points = turned(field + numpy.array(middle), *middle, bearing)
    share = hours = 0.0
    for sky in skies:
        left = light_left(boxes, points, sky).mean(axis=0)
        share += float((left * _tilted(sky, new.tilt, bearing)) @ sky.beam) / len(skies)
        hours += float(left @ sky.hours) / len(skies)
    return Spot(
        east=round(middle[0], 1),
        north=round(middle[1], 1),
        bearing=bearing,
        share=share,
        hours=hours,
        darker_side=_darker_side(boxes, skies, new, middle, bearing) if new.row_cm else None,
    )


def _tilted(sky: Sky, tilt: float, bearing: float) -> Numbers:
    """Return the beam on a tilted pane against that on level ground; its face looks 90 degrees right of ``bearing``."""
    lean, facing = math.radians(tilt), math.radians(bearing + 90)
    toward = sky.east * math.sin(facing) + sky.north * math.cos(facing)
    # Along the ground the ray is 1 long and rises by the slope; level ground catches the slope.
    return numpy.asarray(numpy.maximum(math.cos(lean) * sky.slope + math.sin(lean) * toward, 0) / sky.slope)


def _darker_side(
    boxes: Sequence[Box], skies: Sequence[Sky], new: NewBed, middle: tuple[float, float], bearing: float
) -> float:
    """Return the beam share of the darker of the two strips beside a tall row along the middle."""
    row = Box("row", *middle, 0.5, new.length / 2, bearing, 0.0, new.row_cm)
    reach = min(ROW_STRIP_CM, new.width / 2)
    sides = []
    for west in (-reach, 0.5):
        field = grid(reach - 0.5, new.length, POINTS_A_SIDE, POINTS_A_SIDE) + numpy.array([west, -new.length / 2])
        points = turned(field + numpy.array(middle), *middle, bearing)
        sides.append(
            sum(float(light_left([*boxes, row], points, sky).mean(axis=0) @ sky.beam) for sky in skies) / len(skies)
        )
    return min(sides)
