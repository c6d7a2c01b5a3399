"""The sun of a garden for programs: strips, months and casters, and spots for a new bed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.views.exports.as_json import SCHEMA_VERSION, Answer

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rotasolve.domain.sun import Spot, StripSun


def sun_answer(found: Sequence[StripSun], notes: Sequence[str], plan_year: int | None = None) -> Answer:
    """Return the sun of strips; hours are hours a day, shares are of 1. ``plan_year`` if a plan's crops stand."""
    return {
        "schema_version": SCHEMA_VERSION,
        "plan_year": plan_year,
        "strips": [_rounded(sun) for sun in found],
        "notes": list(notes),
    }


def _rounded(sun: StripSun) -> Answer:
    return {
        "bed": sun.bed,
        "strip": sun.strip,
        "month": sun.month,
        "hours": round(sun.hours, 3),
        "open_hours": round(sun.open_hours, 3),
        "beam_share": round(sun.share, 4),
        "typed": sun.typed,
        "casters": [
            {
                "name": caster.name,
                "hours": round(caster.hours, 3),
                "beam_share": round(caster.share, 4),
                "from_solar_hour": round(caster.from_hour, 2),
                "to_solar_hour": round(caster.to_hour, 2),
            }
            for caster in sun.casters
        ],
    }


def spot_answer(spots: Sequence[Spot], months: Sequence[int], notes: Sequence[str]) -> Answer:
    """Return spots, most beam first; middles in cm, bearings in degrees, shares of 1, hours a day."""
    return {
        "schema_version": SCHEMA_VERSION,
        "months": list(months),
        "spots": [
            {
                "middle_east_cm": spot.east,
                "middle_north_cm": spot.north,
                "bearing": spot.bearing,
                "beam_share": round(spot.share, 4),
                "hours": round(spot.hours, 3),
                "darker_side_beam_share": None if spot.darker_side is None else round(spot.darker_side, 4),
            }
            for spot in spots
        ],
        "notes": list(notes),
    }
