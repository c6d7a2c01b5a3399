"""Wishes in a scenario that are not counted in kilograms: the crop must have the figures that turn them into some."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.files.crop_names import CropNames
from rotasolve.files.document import quoted
from rotasolve.relations.household.wanted import kg_per_unit, per_person_kg

if TYPE_CHECKING:
    from rotasolve.domain.crop import Crop
    from rotasolve.files.document import KeyPath
    from rotasolve.files.scenario_checks import ScenarioCheck

_FIELDS = {"meals": "kg_per_meal", "litres of jars": "kg_per_litre_of_jars"}


def check_wishes(check: ScenarioCheck) -> None:
    """Check targets in plants, meals or jars, and what the household eats."""
    crops = {crop.name: crop for crop in check.catalogue.crops}
    names = CropNames(check.catalogue.crops)
    _targets(check, crops, names)
    _eats(check, crops, names)


def _targets(check: ScenarioCheck, crops: dict[str, Crop], names: CropNames) -> None:
    for index, target in enumerate(check.scenario.household.targets):
        crop = crops.get(names.find(target.crop) or "")
        if crop is None or kg_per_unit(crop, target.counted_in) is not None:
            continue
        path: KeyPath = ("household", "targets", index, target.counted_in.replace(" ", "_"))
        if crop.green_manure:
            check.refuse(path, f"{quoted(crop.name)} is a green manure and is not harvested", "take the target out")
            continue
        field = _FIELDS.get(target.counted_in, "yield")
        what = f"it is not known how many kilograms of {quoted(crop.name)} make one of its {target.counted_in}"
        check.refuse(path, what, f"write kg, or give the crop a {field} in a crop file of your own")


def _eats(check: ScenarioCheck, crops: dict[str, Crop], names: CropNames) -> None:
    first: dict[str, KeyPath] = {}
    targets = {names.find(target.crop) for target in check.scenario.household.targets}
    for index, eats in enumerate(check.scenario.household.eats):
        path: KeyPath = ("household", "eats", index, "crop")
        crop = crops.get(names.find(eats.crop) or "")
        if crop is None:
            continue  # told with the other names
        before = first.setdefault(crop.name, path)
        if before != path:
            what = f"{quoted(crop.name)} stands under 'eats' already, in line {check.line_of(before)}"
            check.refuse(path, what, "write it once")
        elif crop.green_manure:
            check.refuse(path, f"{quoted(crop.name)} is a green manure and is not eaten", "move it to also_allowed")
        elif per_person_kg(eats, crop) is None and crop.name not in targets:
            what = f"no amount of {quoted(crop.name)} for one person is published"
            check.refuse(path, what, "add kg_per_person with the kilograms one person eats in a year")
