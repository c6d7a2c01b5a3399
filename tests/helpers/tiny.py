"""Builders of a tiny garden: a handful of crops with round figures (all common practice, no source), small beds.

Strips are 60 cm deep and 120 cm broad; every crop stands 30 cm apart in rows 60 cm apart unless told otherwise, so a
strip holds one row of 120 / 30 = 4 plants, and 4 plants of 0.5 kg yield 2 kg. The last frost falls half-way on 1 May
and the first on 1 October (south: 1 November and 1 April); every start window is a single day unless told otherwise.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date
from typing import Any

from rotasolve.domain.bed import Bed
from rotasolve.domain.catalogue import Catalogue
from rotasolve.domain.crop import Crop
from rotasolve.domain.plan import Harvest, Planting
from rotasolve.domain.scenario import Scenario

SOURCE = "common-practice"
FIRST_YEAR = 2027
NOTHING = Harvest(low_kg=0, typical_kg=0, high_kg=0)

SPRING = "weeks after last frost"
AUTUMN = "weeks after first frost"


def figure(value: float, unit: str) -> dict[str, Any]:
    return {"value": value, "unit": unit, "source": SOURCE}


def start(
    earliest: float, days: float, latest: float | None = None, way: str = "sown in place", unit: str = SPRING
) -> dict[str, Any]:
    """Return a way of starting, open from ``earliest`` to ``latest`` weeks (one day if left out)."""
    return {
        "way": way,
        "earliest": figure(earliest, unit),
        "latest": figure(earliest if latest is None else latest, unit),
        "days_to_harvest": figure(days, "days"),
    }


def crop(name: str, family: str, height: float = 30, weeks: float = 2, **more: Any) -> Crop:
    """Return a hardy crop started one week after the last frost and ripe after 60 days."""
    fields: dict[str, Any] = {
        "name": name,
        "species": f"Species of {name}",
        "family": family,
        "hardiness": {"level": "hardy", "source": SOURCE},
        "height": figure(height, "cm"),
        "spacing_in_row": figure(30, "cm"),
        "spacing_between_rows": figure(60, "cm"),
        "starts": [start(1, 60)],
        "harvest_weeks": figure(weeks, "weeks"),
        **more,
    }
    if not fields.get("green_manure") and not {"yield_per_row", "yield_per_area"} & fields.keys():
        fields.setdefault("yield_per_plant", figure(0.5, "kg per plant"))
    return Crop.model_validate(fields)


def steady_warmth(**more: Any) -> dict[str, Any]:
    """Return fields of a crop that grows from 5 degrees, best from 15 to 20, not from 30; days are known at 15."""
    return {
        "degree_days": {"base": figure(5, "degC"), "method": "mean of the day"},
        "growth_least": figure(5, "degC"),
        "growth_best": {"low": 15, "typical": 17.5, "high": 20, "unit": "degC", "source": SOURCE},
        "growth_most": figure(30, "degC"),
        "days_known_at": figure(15, "degC"),
        **more,
    }


LETTUCE = crop("lettuce", "daisies", 30, feeder="light")
"""8 May, picked 7 to 20 July, so the ground is taken to 31 July; low."""
KALE = crop("kale", "cabbages", 70, starts=[start(11, 50)])
"""17 July, picked 5 to 18 September; ground to 30 September; middle. Shares the second half of July with lettuce."""
POTATO = crop("potato", "nightshades", 60, feeder="heavy", starts=[start(-2, 100)], picking="once")
"""17 April, lifted 26 July to 8 August; ground to 15 August; middle."""
TOMATO = crop(
    "tomato",
    "nightshades",
    150,
    feeder="heavy",
    weeks=8,
    starts=[start(2, 60, way="set out")],
    hardiness={"level": "tender", "source": SOURCE},
)
"""15 May, picked 14 July to 7 September (half-way: 10 August); tall."""
GARLIC = crop("garlic", "onions", 50, starts=[start(2, 280, unit=AUTUMN)], picking="once")
"""15 October, lifted 22 July to 4 August of the next year (a day sooner in a leap year); to 15 August; middle."""
LEEK = crop("leek", "onions", 60, starts=[start(11, 161)])
"""17 July, picked 25 December to 7 January; ground to 15 January; middle. A host of the first year alone."""
BEAN = crop("bean", "legumes", 40, feeder="fixes nitrogen", starts=[start(4, 45)])
"""29 May, picked 13 to 26 July; ground to 31 July; low."""
CLOVER = crop(
    "clover", "legumes", 30, feeder="fixes nitrogen", starts=[start(16, 30)], green_manure=True, counts_for_rest=False
)
"""21 August, grown for 30 days and kept for two weeks, to 3 October; ground to 15 October; low, no legume to rest."""

SPROUTS = crop("sprouts", "cabbages", 70, starts=[start(8, 290)], weeks=3)
"""26 June, picked 12 April (a leap year: 11 April) to 2 May; ground to 15 May; middle. A host of both years."""

AGAIN = {"how": "sown again and again", "source": SOURCE}
RADISH = crop("radish", "cabbages", 20, starts=[start(1, 25)], weeks=1, again_in_season=AGAIN)
"""8 May, picked 2 to 8 June; ground to 15 June; low. A quick crop, as rocket is."""
ROCKET = crop("rocket", "cabbages", 20, starts=[start(7, 22)], weeks=1, again_in_season=AGAIN, no_fresh_manure=AGAIN)
"""19 June, picked 11 to 17 July; ground to 31 July; low. Shares the second half of July with kale."""

CROPS = (LETTUCE, KALE, POTATO, TOMATO, GARLIC, LEEK, BEAN, CLOVER, SPROUTS, RADISH, ROCKET)


def catalogue(crops: Iterable[Crop] = CROPS, **more: Any) -> Catalogue:
    """Return a catalogue of the crops; ``more`` replaces families, pathogens, neighbours or covers."""
    crops = tuple(crops)
    fields: dict[str, Any] = {
        "crops": crops,
        "families": [
            {"name": name, "common_name": name, "source": SOURCE} for name in sorted({crop.family for crop in crops})
        ],
        "pathogens": [
            {"name": "club root", "hosts": ["family:cabbages"], "gap_low": 4, "source": SOURCE},
            {"name": "white rot", "hosts": ["garlic"], "closes": True, "source": SOURCE},
        ],
        "neighbours": [
            {"one": "kale", "other": "lettuce", "effect": "good", "evidence": "some", "source": SOURCE},
            {"one": "bean", "other": "potato", "effect": "good", "evidence": "tradition", "source": SOURCE},
        ],
        "successions": [
            {"before": "lettuce", "after": "clover", "effect": "bad", "strength": "strong", "source": SOURCE},
            {"before": "family:cabbages", "after": "leek", "effect": "avoid", "strength": "some", "source": SOURCE},
            {"before": "kale", "after": "potato", "effect": "bad", "strength": "some", "source": SOURCE},
        ],
        "covers": [
            {"name": "open ground", "days_earlier": 0, "days_later": 0, "source": SOURCE},
            {"name": "tunnel", "days_earlier": 21, "days_later": 28, "source": SOURCE},
        ],
        "sources": {SOURCE: {"title": "Common practice, no source"}},
        **more,
    }
    return Catalogue.model_validate(fields)


CATALOGUE = catalogue()


def bed(name: str = "bed", strips: int = 2, **more: Any) -> Bed:
    """Return a bed of so many strips, 60 cm deep and 120 cm broad each."""
    return Bed.model_validate(
        {"name": name, "length": strips * 60.0, "width": 120.0, "strip": 60.0, "runs": "north-south", **more}
    )


def site(latitude: float = 50, **more: Any) -> dict[str, Any]:
    spring, autumn = ("1 November", "1 April") if latitude < 0 else ("1 May", "1 October")
    return {"latitude": latitude, "last_frost": {"half": spring}, "first_frost": {"half": autumn}, **more}


def scenario(
    allowed: Iterable[str] = (),
    beds: Iterable[Bed] = (),
    years: int = 1,
    targets: Iterable[Mapping[str, Any]] = (),
    must: Iterable[Mapping[str, Any]] = (),
    latitude: float = 50,
    household: Mapping[str, Any] | None = None,
    **more: Any,
) -> Scenario:
    """Return a scenario from 2027 on; one bed of two strips unless ``beds`` are given."""
    return Scenario.model_validate(
        {
            "title": "A tiny garden",
            "site": site(latitude),
            "first_year": FIRST_YEAR,
            "years": years,
            "beds": tuple(beds) or (bed(),),
            "household": {"targets": tuple(targets), "must_have": tuple(must), **(household or {})},
            "also_allowed": tuple(allowed),
            **more,
        }
    )


def planting(
    crop: str, strips: tuple[int, ...], begin: str, clear: str, first: str | None = None, bed: str = "bed", **more: Any
) -> Planting:
    """Return a planting by its dates; rows and plants are those of one tiny row a strip unless told otherwise."""
    return Planting.model_validate(
        {
            "bed": bed,
            "strips": strips,
            "crop": crop,
            "way": "sown in place",
            "start": begin,
            "first_harvest": first,
            "last_harvest": first and clear,
            "clear": clear,
            "rows": len(strips),
            "plants": 4 * len(strips),
            "harvest": NOTHING,
            **more,
        }
    )


def day(text: str) -> date:
    return date.fromisoformat(text)
