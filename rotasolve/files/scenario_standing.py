"""What stays for years in a scenario: it must be told where it stands, and nothing else can be."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.domain.seasons import garden_year
from rotasolve.domain.strips import strips_in_bed
from rotasolve.files.document import quoted
from rotasolve.relations.ground.blocks import block_of
from rotasolve.relations.ground.distances import said_distances_of
from rotasolve.relations.ground.lie_of_beds import rectangle_of

if TYPE_CHECKING:
    from rotasolve.domain.scenario import Standing
    from rotasolve.files.document import KeyPath
    from rotasolve.files.scenario_checks import ScenarioCheck


def check_standing(check: ScenarioCheck) -> None:
    """Check that only what stays is told to stand, once on the same ground, and that nothing that stays is chosen."""
    staying = {crop.name for crop in check.catalogue.crops if crop.stays is not None}
    known = {crop.name for crop in check.catalogue.crops}
    scenario, south = check.scenario, check.scenario.site.south
    told: set[str] = set()
    for index, one in enumerate(scenario.standing):
        path: KeyPath = ("standing", index)
        name = check.canonical.get((*path, "crop"), one.crop)
        told.add(name)
        if name in known and name not in staying:
            what = f"{quoted(name)} does not stay for years"
            check.refuse((*path, "crop"), what, f"known here: {', '.join(sorted(staying))}; or pin it under 'pinned'")
        _fits(check, path, one, name)
        if one.until is not None and garden_year(one.until, south) < one.planted:
            check.refuse((*path, "until"), "it is gone before it is planted", "write a later day, or an earlier year")
        for nth, other in enumerate(scenario.standing[:index]):
            if one.bed == other.bed and set(one.strips) & set(other.strips) and _together(one, other, south):
                line = check.line_of(("standing", nth, "crop"))
                check.refuse((*path, "strips"), f"the ground is taken by what stands in line {line}", "choose another")
    wishes = [(("household", "targets", n, "crop"), target.crop) for n, target in enumerate(scenario.household.targets)]
    chosen: list[tuple[KeyPath, str]] = [
        *wishes,
        *((("pinned", n, "crop"), pin.crop) for n, pin in enumerate(scenario.pinned)),
        *((("also_allowed", n), name) for n, name in enumerate(scenario.also_allowed)),
    ]
    for place, word in chosen:
        name = check.canonical.get(place, word)
        if name in staying and not (place[0] == "household" and name in told):
            what = f"{quoted(name)} stays for years: no plan can choose it"
            check.refuse(place, what, "tell under 'standing' where it stands, or will stand, and since when")


def _fits(check: ScenarioCheck, path: KeyPath, one: Standing, name: str) -> None:
    """Refuse more plants than the strips hold at their distances: their harvest would be counted too high."""
    bed = next((bed for bed in check.scenario.beds if bed.name == one.bed), None)
    crop = next((crop for crop in check.catalogue.crops if crop.name == name), None)
    if bed is None or crop is None or any(strip > strips_in_bed(bed) for strip in one.strips):
        return
    if check.scenario.units == "metric":
        crop = said_distances_of(crop)
    size = rectangle_of(bed, one.strips)
    block = None if size is None else block_of(crop, bed, *size)
    if block is None:
        what = "these strips are no block that the crop fits into"
        check.refuse((*path, "strips"), what, "name strips side by side, or own distances under 'crops'")
    elif one.plants > block.plants:
        what = f"no more than {block.plants} of {quoted(name)} fit into these strips, not {one.plants}"
        check.refuse((*path, "plants"), what, "write fewer, or your own distances under 'crops'")


def _together(one: Standing, other: Standing, south: bool) -> bool:
    first, then = sorted((one, other), key=lambda each: each.planted)
    return first.until is None or garden_year(first.until, south) >= then.planted
