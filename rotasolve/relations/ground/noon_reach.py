"""Whether a crop's noon shadow reaches the middle of a strip on its pole side: what ``by shadow`` asks.

The crop counts as high as it may stand in the half month (``relations.grown``), and the strip is looked at from its
ground, so the reach is never understated between the equinoxes.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.relations.ground.grown import casting_height_cm
from rotasolve.relations.ground.lie_of_beds import reach_factor

if TYPE_CHECKING:
    from datetime import date

    from rotasolve.domain.crop import Crop
    from rotasolve.domain.plan import Planting
    from rotasolve.domain.site import Site
    from rotasolve.relations.ground.sowings import Sowing


def noon_reach_cm(site: Site, crop: Crop, start: date, ready: date, period: int) -> float:
    """Return how far in cm the noon shadow of a crop started on a day reaches at most in a half month."""
    return casting_height_cm(crop, start, ready, period) * reach_factor(site, period)


def reach_of_sowing(site: Site, crop: Crop, sowing: Sowing, period: int) -> float:
    """Return the reach in cm of a sowing."""
    return noon_reach_cm(site, crop, sowing.start, sowing.course.first_harvest or sowing.course.clear, period)


def reach_of_planting(site: Site, crop: Crop, planting: Planting, period: int) -> float:
    """Return the reach in cm of a planting."""
    return noon_reach_cm(site, crop, planting.start, planting.first_harvest or planting.clear, period)


def reaches_middle(reach_cm: float, gap_cm: float, depth_cm: float) -> bool:
    """Return whether a shadow that begins ``gap_cm`` before a strip so deep passes the strip's middle."""
    return reach_cm > gap_cm + depth_cm / 2
