"""Days to harvest that a grower counted in the own garden, turned into published days, which are of another climate.

Published days are days at the warmth at which they are taken (``growing.Growing.known_at``). Own days are days of this
site: the warmth that comes together in so many days from the first day on which it may be started in the open is what
the crop needs. The published days that need the same warmth stand for them, so that the crop is ripe here after its own
days, and earlier or later where it is started on other days or under a cover.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from rotasolve.relations.season.daily_curves import day_number
from rotasolve.relations.season.growing import Growing
from rotasolve.relations.season.windows import windows_of_year

if TYPE_CHECKING:
    from datetime import date

    from rotasolve.domain.catalogue import Catalogue, Cover
    from rotasolve.domain.crop import Crop, Start
    from rotasolve.domain.site import Site

OWN_SOURCE = "own"
"""The key under which a figure names the grower as its source."""
_ANY_YEAR = 2027
_ROUNDS = 20
"""The warmth at which published days are taken depends on them a little: so many rounds settle it."""


def with_own_days(catalogue: Catalogue, site: Site) -> Catalogue:
    """Return the catalogue with the own days to harvest of crops turned into published ones."""
    if not any(_is_own(start) for crop in catalogue.crops for start in crop.starts):
        return catalogue
    bare = catalogue.cover("open ground")
    crops = tuple(_turned(crop, bare, site) for crop in catalogue.crops)
    return catalogue.model_copy(update={"crops": crops})


def _is_own(start: Start) -> bool:
    return start.days_to_harvest.source == (OWN_SOURCE,)


def _turned(crop: Crop, bare: Cover, site: Site) -> Crop:
    if not any(_is_own(start) for start in crop.starts):
        return crop
    starts = tuple(_as_published(crop, start, bare, site) if _is_own(start) else start for start in crop.starts)
    return crop.model_copy(update={"starts": starts})


def _as_published(crop: Crop, start: Start, bare: Cover, site: Site) -> Start:
    own = start.days_to_harvest
    open_days = windows_of_year(crop, start, bare, site, _ANY_YEAR)
    first = open_days[0].earliest if open_days else Growing(crop, start, bare, site).opening
    ends = {name: end for name in ("value", "low", "typical", "high") if (end := getattr(own, name)) is not None}
    turned = {name: _published(Growing(crop, start, bare, site), first, end) for name, end in ends.items()}
    return start.model_copy(update={"days_to_harvest": own.model_copy(update=turned)})


def _published(growing: Growing, first: date, own_days: float) -> float:
    """Return the published days that need the warmth of so many own days from the first day of a start."""
    if growing.air is None or growing.warmth is None:
        return own_days
    sums, begin = growing.air.warmth, day_number(first) - 1
    needed, days = sums[begin + round(own_days)] - sums[begin], own_days
    for _ in range(_ROUNDS if needed > 0 else 0):
        figure = growing.start.days_to_harvest.model_copy(
            update={"value": days, "low": None, "typical": None, "high": None}
        )
        told = replace(growing, start=growing.start.model_copy(update={"days_to_harvest": figure}))
        days = max(1.0, needed / (told.known_at - growing.warmth.base))
    return days
