"""What the rules of the least sun ask of the garden before any sun is worked out: this module loads no numpy."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.domain.seasons import period_of

if TYPE_CHECKING:
    from rotasolve.domain.plan import Planting
    from rotasolve.relations.ground.garden import Garden


def least_sun_is_on(garden: Garden) -> bool:
    """Return whether the least sun is judged here at all."""
    return bool(garden.scenario.rules.least_sun) and any(bed.has_known_sun for bed in garden.scenario.beds)


def neighbours_count(garden: Garden) -> bool:
    """Return whether what crops take from other beds is judged too."""
    return least_sun_is_on(garden) and garden.scenario.rules.least_sun == "with neighbours"


def least_minutes(garden: Garden, crop: str) -> int:
    """Return the minutes of sun a day that a crop can do with; 0 if nothing is known of it."""
    figure = garden.crops[crop].sun_hours_least
    return 0 if figure is None else round(figure.least * 60)


def half_months_of(planting: Planting) -> range:
    """Return the half months in which a planting stands, by its days."""
    return range(period_of(planting.start), period_of(planting.clear) + 1)
