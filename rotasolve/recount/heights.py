"""How high crops are, looked up anew: low, middle or tall, and how high a planting may stand on a day."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from datetime import date

    from rotasolve.domain.crop import Crop
    from rotasolve.domain.scenario import Rules


def size_of(crop: Crop, rules: Rules) -> int:
    """Return 0 for a low, 1 for a middle and 2 for a tall crop."""
    middle, tall = rules.height_steps_cm
    if crop.height.usual < middle:
        return 0
    return 1 if crop.height.usual < tall else 2


def height_on(crop: Crop, start: date, ready: date, day: date) -> float:
    """Return the most height in cm that a crop has on a day.

    Half of its height in the initial stage of FAO-56 (chapter 6), three quarters in the first half of the development
    stage, then all of it, the stages being stretched to the time until the harvest; without published stages three
    quarters in the first half of that time.
    """
    full, age, whole = crop.height.usual, (day - start).days, max((ready - start).days, 1)
    age = min(age, whole)
    if crop.water is None:
        return full if 2 * age >= whole else full * 0.75
    initial, development = crop.water.initial_days, crop.water.development_days
    days = initial + development + crop.water.middle_days
    if age * days < initial * whole:
        return full * 0.5
    return full * 0.75 if 2 * age * days < (2 * initial + development) * whole else full
