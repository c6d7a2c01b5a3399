"""Amounts in a diary: kilograms weighed, plants counted, degrees read."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, NamedTuple

from rotasolve.errors import Unusable

if TYPE_CHECKING:
    from collections.abc import Collection

    from rotasolve.domain.diary import Amount, Kind

AMOUNT = re.compile(
    r"\s*([-+\u2212]?\d+(?:[.,]\d+)*)\s*(kg|g|lbs?|oz|plants?|deg(?:rees)?\s?[CF]|[CF])?(?=[\s,]|$)",
    re.IGNORECASE,
)
"""A number with its unit, where the words after what happened begin with one."""
KG_PER_UNIT = {"kg": 1.0, "g": 0.001, "lb": 0.45359237, "lbs": 0.45359237, "oz": 0.028349523125}
"""Kilograms in one unit; the pound is 0.45359237 kg by the international yard and pound agreement of 1959, the ounce
a sixteenth of it."""
MOST_KG, MOST_PLANTS, MOST_DEGREES = 100_000, 100_000, 60


class Amounts(NamedTuple):
    """What of a happening is an amount: plants, kilograms, degrees C."""

    plants: int | None = None
    kg: float | None = None
    degrees_c: float | None = None


def read_amount(match: re.Match[str], kind: Kind, allowed: Collection[Amount]) -> Amounts:
    """Return what a number with its unit says.

    Raises
    ------
    Unusable
        If the number cannot be one, or the kind is not told with such an amount.
    """
    number, unit = match[1].replace("\u2212", "-"), (match[2] or "").lower()
    if "kg" in allowed and unit in KG_PER_UNIT:
        return Amounts(kg=_within(round(_number(number) * KG_PER_UNIT[unit], 4), 0, MOST_KG, "kg"))
    if "degrees" in allowed and (unit in ("", "c", "f") or unit.startswith("deg")):
        degrees = _number(number)
        celsius = round((degrees - 32) / 1.8, 1) if unit.endswith("f") else degrees
        return Amounts(degrees_c=_within(celsius, -MOST_DEGREES, MOST_DEGREES, "degrees C"))
    if "plants" in allowed and (not unit or unit.startswith("plant")):
        plants = _number(number)
        if not plants.is_integer():
            mend = "write kg or g behind a weight" if "kg" in allowed else "write how many plants"
            raise Unusable(f"{match[1]} is no number of plants", mend)
        return Amounts(plants=int(_within(plants, 1, MOST_PLANTS, "plants")))
    told = " or ".join({"kg": "kg", "plants": "plants", "degrees": "degrees C"}[one] for one in allowed)
    what = f"'{kind}' is told in {told}" if told else f"'{kind}' is told without an amount"
    raise Unusable(what, f"not as '{match[0].strip()}'; take it out, or put it into a note behind a colon")


def _number(text: str) -> float:
    if re.fullmatch(r"[-+]?\d+,\d{3}(?:[.,]\d+)?", text):
        raise Unusable(f"{text} could be thousands or a part of one", "write it without the comma, or with a full stop")
    try:
        return float(text.replace(",", "."))
    except ValueError:
        raise Unusable(f"{text} is not a number", "write it as 1.2") from None


def _within(value: float, low: float, high: float, unit: str) -> float:
    if not low <= value <= high:
        raise Unusable(f"{value:g} {unit} cannot be", f"from {low:g} to {high:g} {unit} are read here")
    return value
