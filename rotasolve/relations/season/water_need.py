"""Water for beds, week by week: reference evapotranspiration times the crops' coefficients, less rain.

A crop needs Kc times the reference (FAO Irrigation and Drainage Paper 56, equation 58), Kc running through its four
stages (figure 34 there). The stages are stretched to the planting's time from its start to its last harvest. 1 mm on
1 m2 is 1 litre.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from datetime import date, timedelta
from functools import lru_cache
from typing import TYPE_CHECKING

from rotasolve.domain.strips import strips_in_bed
from rotasolve.relations.season.daily_curves import DAYS, MONTH_DAYS, day_number
from rotasolve.relations.season.evapotranspiration import reference_mm
from rotasolve.relations.season.site_climate import afternoons, nights

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from rotasolve.domain.bed import Bed
    from rotasolve.domain.climate import Climate
    from rotasolve.domain.crop import Crop
    from rotasolve.domain.growth import WaterUse
    from rotasolve.domain.plan import Planting

_RAINED_ON = ("open ground", "fleece")
"""Covers that let rain through; glass and film keep it off."""

_WEEK = timedelta(days=7)


@dataclass(frozen=True)
class WeekOfBed:
    """Water for one bed in the week from Monday ``monday``: litres in all and by crop; crops of unknown need apart."""

    bed: str
    monday: date
    litres: float
    by_crop: tuple[tuple[str, float], ...]
    unknown: tuple[str, ...] = ()


@lru_cache(maxsize=16)
def reference_year(climate: Climate, latitude: float) -> tuple[float, ...]:
    """Return the reference evapotranspiration of each day of the year in mm, 1 January first."""
    low, high = nights(climate).days, afternoons(climate).days
    return tuple(reference_mm(latitude, number + 1, low[number], high[number]) for number in range(DAYS))


def rain_mm(climate: Climate, day: date) -> float:
    """Return the mean rain of a day in mm, spread evenly over its month; 0 if it is not known."""
    return 0.0 if climate.rain_mm is None else climate.rain_mm[day.month - 1] / MONTH_DAYS[day.month - 1]


def coefficient(use: WaterUse, share: float) -> float:
    """Return the crop coefficient when ``share`` (0 to 1) of the crop's time in the ground has passed."""
    days = share * (use.initial_days + use.development_days + use.middle_days + use.late_days)
    if days <= use.initial_days:
        return use.initial
    days -= use.initial_days
    if days <= use.development_days:
        return use.initial + (use.middle - use.initial) * days / use.development_days
    days -= use.development_days + use.middle_days
    return use.middle if days <= 0 else use.middle + (use.end - use.middle) * min(1.0, days / use.late_days)


def strip_m2(bed: Bed) -> float:
    """Return the area of one strip of a bed in m2."""
    return bed.length * bed.width / 10_000 / strips_in_bed(bed)


def weeks_of_water(
    plantings: Iterable[Planting],
    beds: Mapping[str, Bed],
    crops: Mapping[str, Crop],
    climate: Climate,
    latitude: float,
    first: date,
    last: date,
) -> tuple[WeekOfBed, ...]:
    """Return the water of each bed in each week that has a day from ``first`` to ``last``, by bed and date.

    Weeks with nothing in the ground are left out. Rain is taken off where it reaches the bed, all of it, week by
    week; a week's rain beyond the need is lost.
    """
    found: dict[tuple[str, date], dict[str, float]] = defaultdict(lambda: defaultdict(float))
    unknown: dict[tuple[str, date], set[str]] = defaultdict(set)
    for planting in plantings:
        bed, use = beds[planting.bed], crops[planting.crop].water
        monday = max(planting.start, first)
        monday -= timedelta(days=monday.weekday())
        while monday <= min(_ends(planting), last):
            if use is None:
                unknown[bed.name, monday].add(planting.crop)
            else:
                mm = _week_mm(planting, use, bed, climate, latitude, monday)
                found[bed.name, monday][planting.crop] += mm * strip_m2(bed) * len(planting.strips)
            monday += _WEEK
    order = {name: place for place, name in enumerate(beds)}
    return tuple(
        WeekOfBed(
            bed,
            monday,
            sum(found[bed, monday].values()),
            tuple(sorted(found[bed, monday].items())),
            tuple(sorted(unknown[bed, monday])),
        )
        for bed, monday in sorted(found.keys() | unknown.keys(), key=lambda key: (order[key[0]], key[1]))
    )


def _week_mm(planting: Planting, use: WaterUse, bed: Bed, climate: Climate, latitude: float, monday: date) -> float:
    """Return a planting's need of a week in mm, less the rain of its days in that week, never below 0."""
    reference = reference_year(climate, latitude)
    stands = max(1, (_ends(planting) - planting.start).days)
    need = rain = 0.0
    for day in (monday + timedelta(days=step) for step in range(7)):
        if planting.start <= day <= _ends(planting):
            share = min(1.0, (day - planting.start).days / stands)
            need += coefficient(use, share) * reference[day_number(day) - 1]
            rain += rain_mm(climate, day)
    return max(0.0, need - (rain if bed.cover in _RAINED_ON else 0.0))


def _ends(planting: Planting) -> date:
    """Return the last day a planting drinks: of its last harvest; ground kept after that is bare."""
    return planting.last_harvest or planting.clear
