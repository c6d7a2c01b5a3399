"""Small gardens at the ends of what may be written down: latitudes, frosts, climates, years and wishes."""

from __future__ import annotations

import math
import random
from typing import Any

from rotasolve.domain.seasons import MONTHS
from rotasolve.files.crops import load_catalogue

LATITUDES = (-66, -60, -41, -23.5, -1, 0, 5, 23.4, 35, 52, 60, 66)
FIRST_YEARS = (1960, 2027, 2028, 2180)
_CROPS = tuple(crop.name for crop in load_catalogue().crops)


def extreme_garden(chance: random.Random) -> dict[str, Any]:
    """Return the fields of a scenario; the reader may refuse it, but never stumble over it."""
    first = chance.choice(FIRST_YEARS)
    years = chance.choice([1, 1, 2])
    beds = [_bed(number, chance) for number in range(chance.randint(1, 2))]
    fields: dict[str, Any] = {
        "format": 1,
        "title": "x",
        "site": _site(chance),
        "first_year": first,
        "years": years,
        "beds": beds,
        "household": {"people": chance.choice([1, 200]), "targets": [_target(crop, chance) for crop in _some(chance)]},
        "units": chance.choice(["metric", "inches"]),
    }
    if chance.random() < 0.3:
        fields["household"]["must_have"] = [{"crop": chance.choice(_CROPS), "plants": chance.choice([1, 100_000])}]
    if chance.random() < 0.4:
        year = chance.choice([1950, first - 1, first - 3])
        fields["history"] = [{"bed": "bed 0", "crop": chance.choice(_CROPS), "year": year}]
    if chance.random() < 0.3:
        fields["rules"] = {
            "family_gap": chance.choice([0, 50]),
            "rotation": chance.choice(["bed", "strip"]),
            "least_sun": chance.choice([True, False, "with neighbours"]),
            "height_order": chance.choice(["by shadow", False, True]),
            "green_manure_wait": chance.choice([0, 26]),
        }
    if chance.random() < 0.2:
        start = f"{first}-0{chance.randint(1, 9)}-15"
        fields["pinned"] = [{"bed": "bed 0", "crop": chance.choice(_CROPS), "start": start}]
    if chance.random() < 0.2:
        fields["manure"] = [{"bed": "bed 0", "spread": f"{first}-03-01"}]
    return fields


def _some(chance: random.Random) -> list[str]:
    return chance.sample(_CROPS, chance.randint(1, 4))


def _target(crop: str, chance: random.Random) -> dict[str, Any]:
    fresh: dict[str, Any] = {}
    if chance.random() < 0.4:
        fresh = {"fresh_from": chance.choice(MONTHS), "fresh_to": chance.choice(MONTHS)}
    return {"crop": crop, "kg": chance.choice([0.001, 1, 10_000]), "weight": chance.randint(1, 5), **fresh}


def _bed(number: int, chance: random.Random) -> dict[str, Any]:
    bed: dict[str, Any] = {
        "name": f"bed {number}",
        "length": chance.choice(["20 cm", "1 m", "4 m"]),
        "width": chance.choice(["20 cm", "1.2 m", "3 m"]),
        "cover": chance.choice(["open ground", "open ground", "cold frame", "tunnel", "fleece", "low tunnel"]),
    }
    if chance.random() < 0.4:
        bed |= {"east": f"{chance.choice([0, -1000, 1000, 5])} m", "north": f"{chance.choice([0, -1000, 1000, 7])} m"}
    if chance.random() < 0.2:
        bed["sun_hours"] = chance.choice([0, 24, 6])
    if chance.random() < 0.2:
        bed["bearing"] = chance.choice([-45, 45])
    if chance.random() < 0.2:
        bed["diseases"] = ["clubroot"]
    if chance.random() < 0.2:
        bed["history_since"] = chance.choice([1950, 2026])
    return bed


def _site(chance: random.Random) -> dict[str, Any]:
    site: dict[str, Any] = {"latitude": chance.choice(LATITUDES), "risk": chance.choice(["usual", "cautious", "early"])}
    frosts = chance.random() < 0.7
    if frosts:
        for name in ("last_frost", "first_frost"):
            frost: dict[str, Any] = {"half": _day(chance)}
            frost |= chance.choice([{}, {}, {"spread_days": 1}, {"spread_days": 60}, {"safe": _day(chance)}])
            site[name] = frost
    if not frosts or chance.random() < 0.6:
        site["climate"] = _climate(chance)
    return site


def _climate(chance: random.Random) -> dict[str, Any]:
    middle, swing = chance.choice([-35, -20, -5, 0, 5, 10, 20, 30]), chance.choice([0, 0.5, 5, 15, 25])
    coldest, between = chance.choice([0, 6]), chance.choice([0.1, 1, 8, 15])
    nights = [round(middle - swing * math.cos((month - coldest) * math.pi / 6), 1) for month in range(12)]
    climate: dict[str, Any] = {
        "mean_minima_c": [min(59.0, max(-60.0, night)) for night in nights],
        "mean_maxima_c": [min(60.0, max(-59.9, round(night + between, 1))) for night in nights],
    }
    if chance.random() < 0.3:
        climate["rain_mm"] = [chance.choice([0, 50, 5000])] * 12
    if chance.random() < 0.3:
        climate["night_spread_c"] = chance.choice([0.5, 10])
    if chance.random() < 0.3:
        climate["soil_offset_c"] = chance.choice([-10, 10])
    return climate


def _day(chance: random.Random) -> str:
    return f"{chance.randint(1, 28)} {chance.choice(MONTHS)}"
