"""What the rules of the height order ask of the garden: whether they hold, who is how tall, and who reaches whom."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from rotasolve.domain.seasons import period_of
from rotasolve.domain.strips import strip_depth_cm
from rotasolve.relations.ground.lie_of_beds import TROPIC_DEGREES, height_class
from rotasolve.relations.ground.noon_reach import reach_of_planting, reaches_middle

if TYPE_CHECKING:
    from rotasolve.domain.plan import Planting
    from rotasolve.relations.ground.garden import Garden


@dataclass(frozen=True)
class Stature:
    """A crop with its height class (0 low, 1 middle, 2 tall) and its full-grown height in cm."""

    crop: str
    height_class: int
    height_cm: float


def height_order_is_on(garden: Garden) -> bool:
    """Return whether the height order is judged here at all."""
    return bool(garden.scenario.rules.height_order) and abs(garden.scenario.site.latitude) >= TROPIC_DEGREES


def goes_by_shadow(garden: Garden) -> bool:
    """Return whether only the shadow's reach decides."""
    return garden.scenario.rules.height_order == "by shadow"


def stature_of(garden: Garden, crop: str) -> Stature:
    """Return how tall a crop is."""
    record = garden.crops[crop]
    return Stature(crop, height_class(record, garden.scenario.rules), record.height.usual)


def together(one: Planting, other: Planting) -> range:
    """Return the half months in which both plantings stand."""
    return range(period_of(max(one.start, other.start)), period_of(min(one.clear, other.clear)) + 1)


def shading_periods(garden: Garden, tall: Planting, low: Planting, gap_cm: float) -> list[int]:
    """Return the half months both stand in which the noon shadow of one passes a middle of the other's strips."""
    crop, site = garden.crops[tall.crop], garden.scenario.site
    depth = strip_depth_cm(garden.beds[low.bed])
    return [
        period
        for period in together(tall, low)
        if reaches_middle(reach_of_planting(site, crop, tall, period), gap_cm, depth)
    ]
