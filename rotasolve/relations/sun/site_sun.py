"""Direct sun on every strip of a garden in every month, by rays past its obstacles, and who takes what is missing."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.domain.strips import part_breadth_cm, strip_depth_cm, strips_in_bed
from rotasolve.domain.sun import Caster, StripSun
from rotasolve.relations.ground.lie_of_beds import part_and_row
from rotasolve.relations.sun.shade_rays import Box, dimmed, grid, light_left, turned
from rotasolve.relations.sun.sunlight import Numbers, Sky, sky_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from rotasolve.domain.bed import Bed
    from rotasolve.domain.obstacle import Obstacle
    from rotasolve.domain.scenario import Scenario

POINTS_A_SIDE = 4
"""A strip is looked at from 4 x 4 points: hours err by up to about 0.15 with them, by 1.5 with its middle alone."""
LEAST_LOSS_HOURS = 0.005
"""What takes less than this a day is not named."""


def box_of(obstacle: Obstacle) -> Box:
    """Return the box an obstacle counts as."""
    return Box(
        name=obstacle.name,
        east=obstacle.east + obstacle.breadth_cm / 2,
        north=obstacle.north + obstacle.depth_cm / 2,
        half_breadth=obstacle.breadth_cm / 2,
        half_depth=obstacle.depth_cm / 2,
        bearing=obstacle.bearing,
        bottom=obstacle.clear_below or 0.0,
        top=obstacle.height,
        light_through=obstacle.light_through,
    )


def strip_corner(bed: Bed, strip: int, south: bool) -> tuple[float, float]:
    """Return the south-west corner of a strip of a placed bed in cm, as if the bed were not turned."""
    part, row = part_and_row(bed, strip)
    depth = strip_depth_cm(bed)
    assert bed.east is not None
    assert bed.north is not None
    up = (row - 1) * depth if south else bed.depth_cm - row * depth
    return bed.east + (part - 1) * part_breadth_cm(bed), bed.north + up


def middle_of(bed: Bed) -> tuple[float, float]:
    """Return the middle of a placed bed in cm."""
    assert bed.east is not None
    assert bed.north is not None
    return bed.east + bed.breadth_cm / 2, bed.north + bed.depth_cm / 2


def strip_points(bed: Bed, strip: int, south: bool, a_side: int = POINTS_A_SIDE) -> Numbers:
    """Return the points from which a strip of a placed bed is looked at, shape (a_side ** 2, 2), in cm."""
    fields = grid(part_breadth_cm(bed), strip_depth_cm(bed), a_side, a_side) + strip_corner(bed, strip, south)
    return turned(fields, *middle_of(bed), bed.bearing)


def typed_hours(bed: Bed, latitude: float, month: int) -> float:
    """Return the hours the grower gave for midsummer, shortened with the day for another month."""
    assert bed.sun_hours is not None
    longest = sky_of(latitude, 12 if latitude < 0 else 6).day_hours
    return min(bed.sun_hours, longest) * sky_of(latitude, month).day_hours / longest


def strips_of_garden(scenario: Scenario) -> list[tuple[Bed, int]]:
    """Return every strip of the beds whose sun is known, in the scenario's order."""
    return [(bed, strip) for bed in scenario.beds if bed.has_known_sun for strip in range(1, strips_in_bed(bed) + 1)]


def sun_table(scenario: Scenario, months: Iterable[int] = range(1, 13), why: bool = False) -> tuple[StripSun, ...]:
    """Return the sun of every strip whose bed is placed, or whose hours are given, month by month.

    Parameters
    ----------
    why
        Whether each caster's share is worked out too.
    """
    boxes = [box_of(obstacle) for obstacle in scenario.obstacles]
    return tuple(
        strip_sun(scenario.site.latitude, bed, strip, month, boxes, why)
        for month in months
        for bed, strip in strips_of_garden(scenario)
    )


def strip_sun(latitude: float, bed: Bed, strip: int, month: int, boxes: Sequence[Box], why: bool = False) -> StripSun:
    """Return the sun of one strip in a month, seen from its ground."""
    sky = sky_of(latitude, month)
    full = sky.day_hours
    if bed.sun_hours is not None:
        hours = min(typed_hours(bed, latitude, month), full)
        share = hours / full if full else 0.0
        return StripSun(
            bed=bed.name, strip=strip, month=month, hours=hours, open_hours=full, share=min(share, 1), typed=True
        )
    points = strip_points(bed, strip, latitude < 0)
    left = light_left(boxes, points, sky).mean(axis=0)
    return StripSun(
        bed=bed.name,
        strip=strip,
        month=month,
        hours=float(left @ sky.hours),
        open_hours=full,
        share=min(float(left @ sky.beam), 1),
        casters=_casters(boxes, points, sky) if why else (),
    )


def _casters(boxes: Sequence[Box], points: Numbers, sky: Sky) -> tuple[Caster, ...]:
    found = []
    for box in boxes:
        lost = dimmed(box, points, sky).mean(axis=0)
        hours = float(lost @ sky.hours)
        if hours < LEAST_LOSS_HOURS:
            continue
        shaded = sky.clock[lost > 0]
        found.append(
            Caster(
                name=box.name,
                hours=hours,
                share=min(float(lost @ sky.beam), 1),
                from_hour=float(shaded.min()),
                to_hour=float(shaded.max()),
            )
        )
    return tuple(sorted(found, key=lambda caster: (-caster.share, -caster.hours, caster.name)))
