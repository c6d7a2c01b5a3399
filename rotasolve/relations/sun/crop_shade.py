"""The sun of every strip while a plan's crops stand: obstacles and crops as boxes, each crop as high as it may be."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy

from rotasolve.domain.seasons import PERIODS_PER_YEAR, period_of, year_start
from rotasolve.domain.strips import part_breadth_cm, strip_depth_cm
from rotasolve.domain.sun import StripSun
from rotasolve.relations.ground.grown import planting_height_cm
from rotasolve.relations.sun.shade_rays import Box, turned
from rotasolve.relations.sun.site_sun import box_of, middle_of, strip_corner, strip_sun, strips_of_garden

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from rotasolve.domain.bed import Bed
    from rotasolve.domain.crop import Crop
    from rotasolve.domain.plan import Planting
    from rotasolve.domain.scenario import Scenario


def periods_in(year: int, month: int, south: bool) -> tuple[int, int]:
    """Return the two half months of a month of a garden year."""
    first = period_of(year_start(year, south))
    ahead = (2 * (month - 1) - first) % PERIODS_PER_YEAR
    return first + ahead, first + ahead + 1


def crop_box(bed: Bed, planting: Planting, top: float, south: bool) -> Box:
    """Return the box that a planting's strips count as; they lie side by side in one part of a placed bed."""
    corners = [strip_corner(bed, strip, south) for strip in planting.strips]
    breadth, depth = part_breadth_cm(bed), strip_depth_cm(bed)
    west, low = min(east for east, _ in corners), min(north for _, north in corners)
    right, high = max(east for east, _ in corners) + breadth, max(north for _, north in corners) + depth
    flat = numpy.array([[(west + right) / 2, (low + high) / 2]])
    east, north = (float(value) for value in turned(flat, *middle_of(bed), bed.bearing)[0])
    name = f"{planting.crop} in {bed.name}"
    return Box(name, east, north, (right - west) / 2, (high - low) / 2, bed.bearing, 0.0, top)


def standing_in(
    scenario: Scenario, crops: Mapping[str, Crop], plantings: Iterable[Planting], year: int, month: int
) -> list[tuple[Planting, Box]]:
    """Return the plantings in placed beds that stand in a month of a garden year, each with its box."""
    beds, south = {bed.name: bed for bed in scenario.beds}, scenario.site.south
    found = []
    for planting in plantings:
        bed = beds[planting.bed]
        stands = [
            period
            for period in periods_in(year, month, south)
            if period_of(planting.start) <= period <= period_of(planting.clear)
        ]
        if stands and bed.is_placed:
            top = planting_height_cm(crops[planting.crop], planting, stands[-1])
            found.append((planting, crop_box(bed, planting, top, south)))
    return found


def sun_under_plan(
    scenario: Scenario,
    crops: Mapping[str, Crop],
    plantings: Iterable[Planting],
    year: int,
    months: Iterable[int],
    why: bool = False,
    only: tuple[str, int] | None = None,
) -> tuple[StripSun, ...]:
    """Return the sun on the ground of every strip, past obstacles and all crops but the strip's own, month by month.

    ``only`` names one bed and strip to look at. Crops are boxes without gaps, so real crops let a little more through.
    """
    listed, obstacles = list(plantings), [box_of(obstacle) for obstacle in scenario.obstacles]
    found = []
    for month in months:
        standing = standing_in(scenario, crops, listed, year, month)
        for bed, strip in strips_of_garden(scenario):
            if only is not None and only != (bed.name, strip):
                continue
            boxes = [box for planting, box in standing if planting.bed != bed.name or strip not in planting.strips]
            found.append(strip_sun(scenario.site.latitude, bed, strip, month, [*obstacles, *boxes], why))
    return tuple(found)
