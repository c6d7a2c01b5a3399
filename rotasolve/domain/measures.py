"""Lengths as growers write them: a number with a unit, metric or inches and feet."""

from __future__ import annotations

import re
from typing import Annotated

from pydantic import BeforeValidator, ValidationInfo, WithJsonSchema

from rotasolve.errors import Unusable

CM_PER_UNIT = {
    "cm": 1.0,
    "m": 100.0,
    "mm": 0.1,
    "in": 2.54,
    "inch": 2.54,
    "inches": 2.54,
    '"': 2.54,
    "ft": 30.48,
    "foot": 30.48,
    "feet": 30.48,
    "'": 30.48,
}
"""Centimetres in one unit; the inch is 2.54 cm by the international yard and pound agreement of 1959."""

_ONE = r"(\d+(?:\.\d+)?)\s*([a-zA-Z\"']+)"
_LENGTH = re.compile(rf"^\s*(-?){_ONE}(?:\s*{_ONE})?\s*$")
LENGTH_HINT = "write a number with its unit, such as 30 cm, 1.2 m, 6 in or 4 ft"


def parse_length(value: object) -> float:
    """Return centimetres for a text such as ``"1.2 m"``, ``"6 in"`` or ``"4 ft 6 in"``.

    Raises
    ------
    ValueError
        If there is no number, no unit, or an unknown unit.
    """
    if isinstance(value, int | float) and not isinstance(value, bool):
        raise Unusable(f"a length needs a unit, and {value} has none", LENGTH_HINT)
    if not isinstance(value, str):
        raise Unusable("this is not a length", LENGTH_HINT)
    match = _LENGTH.match(value)
    if match is None:
        raise Unusable(f"{value!r} is not a length", LENGTH_HINT)
    total = 0.0
    for number, unit in ((match[2], match[3]), (match[4], match[5])):
        if number is None:
            continue
        if unit.lower() not in CM_PER_UNIT:
            raise Unusable(f"{unit!r} is not a unit of length known here", LENGTH_HINT)
        total += float(number) * CM_PER_UNIT[unit.lower()]
    # The sign stands for the whole length: -4 ft 6 in lies 4 ft 6 in the other way.
    return round(-total if match[1] else total, 4)


WRITTEN = "written by a grower"
"""Key of the validation context: lengths come from a file and must carry their unit."""


def _length_within(low_cm: float, high_cm: float, what: str) -> BeforeValidator:
    def check(value: object, info: ValidationInfo) -> float:
        # A value that has been read once comes back as a number of cm when a record is copied or reloaded; in a
        # grower's file a bare number could be centimetres, metres or feet.
        written = (info.context or {}).get(WRITTEN)
        if isinstance(value, int | float) and not isinstance(value, bool) and not written:
            cm = float(value)
        else:
            cm = parse_length(value)
        if not low_cm <= cm <= high_cm:
            raise ValueError(f"{what} must lie between {say_metric(low_cm)} and {say_metric(high_cm)}, not {value}")
        return cm

    return BeforeValidator(check)


def say_metric(cm: float) -> str:
    """Say a length in the unit a grower would choose: centimetres below 1 m, metres above."""
    return f"{cm:g} cm" if abs(cm) < 100 else f"{cm / 100:g} m"


_SCHEMA = WithJsonSchema(
    {"type": "string", "pattern": r"^\s*-?\d+(\.\d+)?\s*(cm|mm|m|in|inch|inches|ft|foot|feet|\"|').*$"}
)

BedLengthCm = Annotated[float, _length_within(20, 10_000, "a bed's length or width"), _SCHEMA]
"""Length or width of a bed in cm, 20 cm to 100 m."""
StripDepthCm = Annotated[float, _length_within(10, 300, "a strip's depth"), _SCHEMA]
"""Depth of a strip in cm, 10 cm to 3 m."""
PositionCm = Annotated[float, _length_within(-100_000, 100_000, "a position"), _SCHEMA]
"""A place on the site in cm east or north of the site's corner."""
ThicknessCm = Annotated[float, _length_within(1, 10_000, "the width of an obstacle"), _SCHEMA]
"""Width of a wall, fence, hedge or shed in cm, 1 cm to 100 m."""
HeightCm = Annotated[float, _length_within(1, 5_000, "a height"), _SCHEMA]
"""Height above the ground in cm, 1 cm to 50 m."""
