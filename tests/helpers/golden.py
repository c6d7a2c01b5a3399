"""Facts worked out by hand, in tests/data/golden_facts: one file a helper that model and referee share.

A file holds ``facts``, each with what is asked, what it ``is`` and the ``sum`` behind it, and perhaps ``within``, the
most by which numbers may differ. To hold another helper to facts: one file, and its question in ``ASK``.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

import pytest
import yaml

from rotasolve.domain.bed import Bed
from rotasolve.domain.catalogue import Catalogue, Cover
from rotasolve.domain.figure import Figure
from rotasolve.domain.obstacle import Obstacle
from rotasolve.domain.scenario import Scenario
from rotasolve.domain.seasons import period_of
from rotasolve.domain.strips import part_breadth_cm, parts_of, strip_depth_cm, strips_per_part
from rotasolve.files.crops import load_catalogue
from rotasolve.files.scenarios import read_scenario
from rotasolve.files.shipped import shipped_folder
from rotasolve.relations.ground.blocks import block_of, smallest_block
from rotasolve.relations.ground.garden import make_garden
from rotasolve.relations.ground.grown import casting_height_cm
from rotasolve.relations.ground.lie_of_beds import (
    height_class,
    part_and_row,
    reach_factor,
    shadings,
)
from rotasolve.relations.ground.offer import wanted_crops
from rotasolve.relations.season.courses import percent_of
from rotasolve.relations.season.frosts import frost_dates
from rotasolve.relations.season.growing import Growing
from rotasolve.relations.season.windows import windows_of_year
from rotasolve.relations.season.yields import expected_harvest
from rotasolve.relations.sun.bed_sun import known_beds, strip_minutes
from tests.helpers.climates import steady
from tests.helpers.tiny import SOURCE, crop, figure, start, steady_warmth

FOLDER = Path(__file__).parents[1] / "data" / "golden_facts"
Fact = dict[str, Any]


@cache
def shelf() -> Catalogue:
    return load_catalogue()


@cache
def shipped(name: str) -> Scenario:
    return read_scenario(shipped_folder("scenarios") / f"{name}.yaml", shelf())


def named_crops(scenario: Scenario) -> frozenset[str]:
    """Return every crop that a scenario wishes, allows or remembers."""
    return wanted_crops(scenario) | {past.crop for past in scenario.history}


def _crop(fact: Fact) -> Any:
    return next(crop for crop in shelf().crops if crop.name == fact["crop"])


def _bed(fact: Fact) -> Bed:
    if "measures" in fact:
        return Bed(name="invented", **fact["measures"])
    return next(bed for bed in shipped(fact["scenario"]).beds if bed.name == fact["bed"])


def _frost_dates(fact: Fact) -> object:
    return frost_dates(shipped(fact["scenario"]).site, fact["year"], fact["chance"])


def _bed_cuts(fact: Fact) -> object:
    bed = _bed(fact)
    return strips_per_part(bed), parts_of(bed), strip_depth_cm(bed), part_breadth_cm(bed)


def _strip_places(fact: Fact) -> object:
    return part_and_row(_bed(fact), fact["strip"])


def _rows_and_plants(fact: Fact) -> object:
    crop, bed = _crop(fact), _bed(fact)
    deep, parts = fact.get("block", (None, None))
    block = smallest_block(crop, bed) if deep is None else block_of(crop, bed, deep, parts)
    return None if block is None else (block.strips, block.rows, block.plants)


def _rest_groups(fact: Fact) -> object:
    scenario = shipped(fact["scenario"])
    for group in make_garden(scenario, shelf()).rest_groups(fact["bed"]):
        if group.name == fact["group"]:
            return group.gap, group.gap_wished, group.closes, sorted(group.crops & named_crops(scenario))
    return None


def _height_classes(fact: Fact) -> object:
    return ("low", "middle", "tall")[height_class(_crop(fact), shipped("allotment").rules)]


def _noon_shadows(fact: Fact) -> object:
    return reach_factor(shipped(fact["scenario"]).site, period_of(fact["day"]))


def _standing_heights(fact: Fact) -> object:
    return casting_height_cm(_crop(fact), fact["start"], fact["ready"], period_of(fact["day"]))


def _bed_gaps(fact: Fact) -> object:
    scenario = shipped(fact["scenario"])
    found = [one for one in shadings(scenario.beds, scenario.site.south) if one.caster == fact["caster"]]
    return next((one.gap_cm for one in found if one.receiver == fact["receiver"]), None)


def _sun_minutes(fact: Fact) -> object:
    scenario, bed = shipped(fact["scenario"]), _bed(fact)
    if "wall" in fact:
        scenario = scenario.model_copy(update={"obstacles": (Obstacle(**fact["wall"]),)})
    if "hours" in fact:
        bed = bed.model_copy(update={"sun_hours": fact["hours"]})
    elif bed not in known_beds(scenario):
        return None
    return strip_minutes(scenario, bed, fact["month"])[fact["strip"] - 1]


def _shares(fact: Fact) -> object:
    loss, season = fact.get("loss"), figure(fact["weeks"], "weeks")
    warmth = {} if "mean" not in fact else steady_warmth(fruit=True)
    winter = None if loss is None else figure(loss, "%")
    record = crop("beet", "goosefoots", **warmth, picking=fact["picking"], winter_loss=winter, starts=[start(0, 60)])
    record = record.model_copy(update={"harvest_weeks": Figure.model_validate(season)})
    cover = shelf().cover("open ground")
    here, there = (steady(mean) for mean in (fact.get("mean", 10), 17))
    reference = Growing(record, record.starts[0], cover, there)
    grown = Growing(record, record.starts[0], cover, here, reference=reference)
    return percent_of(grown, date(2027, 5, 1), fact["ready"], fact["last"])


def _windows(fact: Fact) -> object:
    """Answer for an invented crop, at a shipped scenario's site or where every month has one mean."""
    unit = fact.get("from", "weeks after last frost")
    usual, most = fact["earliest"] if isinstance(fact["earliest"], list) else (fact["earliest"],) * 2
    one = start(0, fact.get("days", 60), way=fact.get("way", "sown in place"), unit=unit)
    one["earliest"] = {"low": usual, "typical": usual, "high": most, "unit": unit, "source": SOURCE}
    one["latest"] = figure(fact["latest"], str(fact.get("closes", unit)))
    gates = ("germination_least", "germination_most", "least_night", "bolting_below")
    warmth: dict[str, Any] = {name: figure(fact[name], "degC") for name in gates if name in fact}
    hardiness = {"level": fact.get("level", "hardy"), "source": SOURCE}
    record = crop("beet", "goosefoots", starts=[one], hardiness=hardiness, **warmth)
    earlier, later = fact.get("cover", (0, 0))
    name = "tunnel" if "cover" in fact else "open ground"
    cover = Cover.model_validate({"name": name, "days_earlier": earlier, "days_later": later, "source": SOURCE})
    site = steady(fact["mean"]) if "mean" in fact else shipped(fact["scenario"]).site
    return [[one.earliest, one.latest] for one in windows_of_year(record, record.starts[0], cover, site, 2027)]


def _yields(fact: Fact) -> object:
    low, usual, high = fact["kg"]
    kg: dict[str, Any] = {"low": low, "typical": usual, "high": high, "unit": f"kg per {fact['per']}", "source": SOURCE}
    field = {"plant": "yield_per_plant", "m2": "yield_per_area", "m of row": "yield_per_row"}[fact["per"]]
    more: dict[str, Any] = {"row_distance_for_yield": figure(fact["rows_cm"], "cm")} if "rows_cm" in fact else {}
    more[field] = kg
    harvest = expected_harvest(crop("beet", "goosefoots", **more), fact["plants"], fact.get("percent", 100))
    return harvest.low_kg, harvest.typical_kg, harvest.high_kg


ASK: dict[str, Callable[[Fact], object]] = {
    "frost_dates": _frost_dates,
    "bed_cuts": _bed_cuts,
    "strip_places": _strip_places,
    "rows_and_plants": _rows_and_plants,
    "rest_groups": _rest_groups,
    "height_classes": _height_classes,
    "noon_shadows": _noon_shadows,
    "standing_heights": _standing_heights,
    "bed_gaps": _bed_gaps,
    "sun_minutes": _sun_minutes,
    "shares": _shares,
    "windows": _windows,
    "yields": _yields,
}


def facts_about(helper: str) -> dict[str, Any]:
    """Return a file of facts as it is."""
    found: dict[str, Any] = yaml.safe_load((FOLDER / f"{helper}.yaml").read_text("utf-8"))
    return found


def _agree(answer: object, fact: object, within: float) -> bool:
    if isinstance(fact, list):
        if not isinstance(answer, tuple | list) or len(answer) != len(fact):
            return False
        return all(_agree(one, other, within) for one, other in zip(answer, fact, strict=True))
    if isinstance(fact, int | float) and not isinstance(fact, bool):
        return isinstance(answer, int | float) and answer == pytest.approx(fact, abs=within, rel=0)
    return answer == fact


def untrue(helper: str) -> list[str]:
    """Return the facts about a helper that do not hold, each with the answer."""
    whole = facts_about(helper)
    answers = [(fact, ASK[helper](fact)) for fact in whole["facts"]]
    return [
        f"{fact}: {answer}" for fact, answer in answers if not _agree(answer, fact["is"], whole.get("within", 1e-9))
    ]
