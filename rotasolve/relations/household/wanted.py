"""What the household wants in kilograms: every wish, in whatever it was counted, as a target.

This is the one place where people, plants, meals and jars become kilograms. Whatever plans or judges asks the garden's
scenario, whose targets have gone through here; ``Scenario.household.targets`` of a file may still lack kilograms.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.domain.household import Eats, Household, Target
from rotasolve.relations.season.own_yields import with_own_yields
from rotasolve.relations.season.yields import expected_harvest

if TYPE_CHECKING:
    from collections.abc import Mapping

    from rotasolve.domain.catalogue import Catalogue
    from rotasolve.domain.crop import Crop
    from rotasolve.domain.figure import Figure
    from rotasolve.domain.household import CountedIn
    from rotasolve.domain.plan import Harvest
    from rotasolve.domain.scenario import Scenario
    from rotasolve.relations.ground.garden import Garden

_MANY = 1000
"""Plants counted at once, because the harvest of one radish is less than the gram a harvest is rounded to."""
_GRAMS = 3


def kg_per_unit(crop: Crop, counted_in: CountedIn) -> float | None:
    """Return the kilograms harvested for one plant, meal or litre of jars; None if the crop has no such figure."""
    if counted_in == "kg":
        return 1.0
    if counted_in == "plants":
        return expected_harvest(crop, _MANY).typical_kg / _MANY or None
    figure = crop.kg_per_meal if counted_in == "meals" else crop.kg_per_litre_of_jars
    return None if figure is None else figure.usual


def per_person_kg(eats: Eats, crop: Crop) -> tuple[float, float] | None:
    """Return (fresh, kept) kilograms a year for one person, before ``how_much``; None if no amount is known.

    The published amounts are ``fresh_per_person`` and ``stored_per_person``. A share to keep is counted on the whole:
    40 % kept beside 3 kg fresh are 2 kg of 5.
    """
    fresh, stored = _usual(crop.fresh_per_person), _usual(crop.stored_per_person)
    keep = eats.keep
    if eats.kg_per_person is not None:
        whole = eats.kg_per_person
        share = stored / (fresh + stored) if keep == "published" and fresh + stored else 0.0
        share = share if keep is None or keep == "published" else keep
        return whole * (1 - share), whole * share
    if fresh + stored == 0:
        return None
    if keep == "published" or fresh == 0:
        return fresh, stored
    if keep is None:
        return fresh, 0.0
    return (fresh, fresh * keep / (1 - keep)) if keep < 1 else (0.0, stored or fresh)


def wanted_of_household(household: Household, crops: Mapping[str, Crop]) -> tuple[Target, ...]:
    """Return a target with kilograms for every wish: the explicit ones first, which win, then what is eaten.

    Crops that ``crops`` does not hold, and wishes that no figure turns into kilograms, are left out: reading a scenario
    refuses both.
    """
    found = [target for target in (_in_kg(target, crops) for target in household.targets) if target is not None]
    named = {target.crop for target in household.targets}
    for eats in household.eats:
        crop = crops.get(eats.crop)
        each = None if crop is None else per_person_kg(eats, crop)
        if each is None or eats.crop in named:
            continue
        people = (household.people or 0) * eats.factor
        kg = round(people * sum(each), _GRAMS)
        if kg > 0:
            share = round(each[1] / sum(each), 4) or None
            target = Target(
                crop=eats.crop,
                kg=kg,
                keep=share,
                weight=eats.weight,
                fresh_from=eats.fresh_from,
                fresh_to=eats.fresh_to,
            )
            found.append(target)
    return tuple(found)


def with_targets(scenario: Scenario, catalogue: Catalogue) -> Scenario:
    """Return the scenario with every wish as a target in kilograms; the same scenario if nothing is to be counted."""
    household = scenario.household
    if not household.eats and all(target.kg for target in household.targets):
        return scenario
    crops = with_own_yields(catalogue, scenario).crops
    targets = wanted_of_household(household, {crop.name: crop for crop in crops})
    return scenario.model_copy(update={"household": household.model_copy(update={"targets": targets})})


def shown_in(target: Target, household: Household, crop: Crop) -> tuple[CountedIn, float]:
    """Return what a target is shown in beside kilograms, and the kilograms of one such unit."""
    for unit in (target.counted_in, household.count_in):
        each = kg_per_unit(crop, unit)
        if unit != "kg" and each is not None:
            return unit, each
    return "kg", 1.0


def wish_by_crop(garden: Garden) -> dict[str, str]:
    """Return the wish that each crop counts for, of those that count for one: its own, or as a kind its crop's."""
    return {kind: one.crop for one in garden.scenario.household.targets for kind in garden.meeting(one.crop)}


def counted_kg(harvest: Harvest, household: Household) -> float:
    """Return what a harvest counts against a target: a usual year's kilograms, or a poor year's if so wished."""
    return harvest.low_kg if household.meet_targets_at == "low yield" else harvest.typical_kg


def _in_kg(target: Target, crops: Mapping[str, Crop]) -> Target | None:
    if target.kg:
        return target
    crop = crops.get(target.crop)
    each = None if crop is None else kg_per_unit(crop, target.counted_in)
    return None if each is None else target.model_copy(update={"kg": round(target.amount * each, _GRAMS)})


def _usual(figure: Figure | None) -> float:
    return 0.0 if figure is None else figure.usual
