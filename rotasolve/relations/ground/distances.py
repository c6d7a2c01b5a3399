"""Distances as growers say them: 60 cm between rows, not the 60.96 cm that 24 inches come to.

Many sources give distances in inches. A garden planned in metric units is planted with rounded ones: to 5 cm from 20 cm
on, to 1 cm from 4 cm on, to 0.5 cm below. A distance is left as published where rounding would leave its published
range by more than the part of a distance that a row may be short of room.
"""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

from rotasolve.relations.ground.blocks import SPACING_TOLERANCE

if TYPE_CHECKING:
    from rotasolve.domain.catalogue import Catalogue
    from rotasolve.domain.crop import Crop
    from rotasolve.domain.figure import Figure

_FIELDS = ("spacing_in_row", "spacing_between_rows")


def rounded_cm(published: Figure) -> float:
    """Return a distance of so many cm as growers say it, within its published range; as published if there is none."""
    usual = published.usual
    step = 5.0 if usual >= 20 else 1.0 if usual >= 4 else 0.5
    said = round(usual / step) * step
    least, most = published.least * (1 - SPACING_TOLERANCE), published.most * (1 + SPACING_TOLERANCE)
    return said if least <= said <= most else usual


def with_said_distances(catalogue: Catalogue) -> Catalogue:
    """Return the catalogue with all spacings as growers say them in metric units."""
    return catalogue.model_copy(update={"crops": tuple(said_distances_of(crop) for crop in catalogue.crops)})


@lru_cache(maxsize=1000)
def said_distances_of(crop: Crop) -> Crop:
    """Return a crop with its spacings as growers say them in metric units."""
    found = {name: _rounded(getattr(crop, name)) for name in _FIELDS}
    changed = {name: figure for name, figure in found.items() if figure != getattr(crop, name)}
    return crop.model_copy(update=changed) if changed else crop


def _rounded(published: Figure) -> Figure:
    said = rounded_cm(published)
    if said == published.usual:
        return published
    if published.value is not None:
        return published.model_copy(update={"value": said})
    low, high = min(published.least, said), max(published.most, said)
    return published.model_copy(update={"low": low, "typical": said, "high": high})
