"""Where the ground lies: which strip is on the pole side, which bed stands in another's shadow, and how far it reaches.

The simple shadow rule (exact for an east-west row between the equinoxes): on the pole side a row h higher reaches at
most h x tan(|latitude| - declination) at noon, which is the longest of the day. In winter, when the noon shadow is the
longest of all but little grows, the equinox reach is used.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import date
from functools import lru_cache
from itertools import permutations
from typing import TYPE_CHECKING

from rotasolve.domain.seasons import first_day, last_day
from rotasolve.domain.strips import parts_of, strips_per_part

if TYPE_CHECKING:
    from collections.abc import Iterable

    from rotasolve.domain.bed import Bed
    from rotasolve.domain.crop import Crop
    from rotasolve.domain.scenario import Rules
    from rotasolve.domain.site import Site

TROPIC_DEGREES = 23.44
"""Obliquity of the ecliptic: nearer the equator the noon sun changes sides and the rule is off."""


def rough_declination(day: date) -> float:
    """Return the sun's declination in degrees, by the usual cosine approximation (within 1.3 degrees)."""
    return -TROPIC_DEGREES * math.cos(2 * math.pi * (day.timetuple().tm_yday + 10) / 365)


def reach_factor(site: Site, period: int) -> float:
    """Return the longest noon shadow of a half month in metres per metre of height; 0 where the rule is off."""
    return _reach_factor(site.latitude, period)


@lru_cache(maxsize=10_000)
def _reach_factor(latitude: float, period: int) -> float:
    if abs(latitude) < TROPIC_DEGREES:
        return 0.0
    sign = -1 if latitude < 0 else 1
    lean = min(sign * rough_declination(day) for day in (first_day(period), last_day(period)))
    return math.tan(math.radians(abs(latitude) - max(lean, 0.0)))


def height_class(crop: Crop, rules: Rules) -> int:
    """Return 0 for low, 1 for middle, 2 for tall, by full-grown height."""
    return sum(crop.height.usual >= step for step in rules.height_steps_cm)


@dataclass(frozen=True)
class Shading:
    """``caster`` lies on the equator side of ``receiver``, ``gap_cm`` away; they overlap from east to west."""

    caster: str
    receiver: str
    gap_cm: float


def shadings(beds: tuple[Bed, ...], south: bool) -> tuple[Shading, ...]:
    """Return every pair of placed beds of which one lies on the equator side of the other.

    Nothing is said of beds without a place. ``gap_cm`` is the clear distance along north-south.
    """
    found = []
    for caster, receiver in permutations(beds, 2):
        if caster.east is None or caster.north is None or receiver.east is None or receiver.north is None:
            continue
        overlap = min(caster.east + caster.breadth_cm, receiver.east + receiver.breadth_cm) - max(
            caster.east, receiver.east
        )
        if south:
            gap = caster.north - (receiver.north + receiver.depth_cm)
        else:
            gap = receiver.north - (caster.north + caster.depth_cm)
        if overlap > 0 and gap >= 0:
            found.append(Shading(caster.name, receiver.name, gap))
    return tuple(found)


def part_and_row(bed: Bed, strip: int) -> tuple[int, int]:
    """Return the part (from 1, west) and the place in the part (from 1, pole side) of a strip number."""
    part, row = divmod(strip - 1, strips_per_part(bed))
    return part + 1, row + 1


def places_of(bed: Bed, deep: int, parts: int = 1) -> list[tuple[int, ...]]:
    """Return the strips of every place in a bed where so many strips lie side by side in so many neighbouring parts."""
    depth = strips_per_part(bed)
    return [
        tuple(part * depth + row for part in range(west, west + parts) for row in range(first, first + deep))
        for west in range(parts_of(bed) - parts + 1)
        for first in range(1, depth - deep + 2)
    ]


def rectangle_of(bed: Bed, strips: Iterable[int]) -> tuple[int, int] | None:
    """Return how many strips deep and how many parts broad strips lie; None unless they fill a rectangle once each."""
    places = [part_and_row(bed, strip) for strip in strips]
    if not places:
        return None
    (west, first), (east, last) = min(places), max(places)
    deep, parts = last - first + 1, east - west + 1
    filled = {(part, row) for part in range(west, east + 1) for row in range(first, last + 1)}
    whole = deep > 0 and len(places) == deep * parts and set(places) == filled
    return (deep, parts) if whole else None
