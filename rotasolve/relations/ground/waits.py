"""How long ground waits: after a green manure was dug in, and from raw manure to a harvest."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from rotasolve.domain.crop import Crop
    from rotasolve.domain.scenario import Rules


def days_after_digging_in(crop: Crop, rules: Rules) -> int:
    """Return the days that ground waits after a green manure was cut and dug in; 0 for every other crop."""
    if not crop.green_manure:
        return 0
    if rules.green_manure_wait is not None:
        return round(rules.green_manure_wait * 7)
    return 0 if crop.wait_after is None else round(crop.wait_after.usual * 7)


def days_after_manure(crop: Crop, rules: Rules) -> int:
    """Return the days from raw manure to the first harvest of a crop; what is not known to hang clear touches soil."""
    return rules.manure_days_touching if crop.clear_of_soil is None else rules.manure_days_clear
