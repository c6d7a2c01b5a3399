"""Names in a scenario: beds, crops and diseases must lead somewhere, and each means one thing."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.files.crop_names import CropNames, fold
from rotasolve.files.document import quoted
from rotasolve.files.unread_names import UNKNOWN_CROP_MEND
from rotasolve.files.wording import did_you_mean

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rotasolve.files.document import KeyPath
    from rotasolve.files.scenario_checks import ScenarioCheck


def check_names(check: ScenarioCheck) -> None:
    """Check every name; other spellings of crops and diseases are noted with the catalogue's spelling."""
    _bed_names_unique(check)
    _beds_known(check)
    _crops_known(check)
    _diseases_known(check)
    _host_years_known(check)
    _targets_unique(check)
    _kinds_of_their_crops(check)


def _bed_names_unique(check: ScenarioCheck) -> None:
    first: dict[str, KeyPath] = {}
    for index, bed in enumerate(check.scenario.beds):
        path = ("beds", index, "name")
        before = first.setdefault(fold(bed.name), path)
        if before != path:
            what = f"a bed is called {quoted(bed.name)} already, in line {check.line_of(before)}"
            check.refuse(path, what, "give each bed its own name")


def _beds_known(check: ScenarioCheck) -> None:
    names = [bed.name for bed in check.scenario.beds]
    scenario = check.scenario
    wanted: list[tuple[KeyPath, str | None]] = [
        *((("history", index, "bed"), past.bed) for index, past in enumerate(scenario.history)),
        *((("pinned", index, "bed"), pin.bed) for index, pin in enumerate(scenario.pinned)),
        *((("standing", index, "bed"), one.bed) for index, one in enumerate(scenario.standing)),
        *((("manure", index, "bed"), spread.bed) for index, spread in enumerate(scenario.manure)),
        *((("closed", index, "bed"), closed.bed) for index, closed in enumerate(scenario.closed)),
        *((("seen", index, "bed"), seen.bed) for index, seen in enumerate(scenario.seen)),
        *(
            (("household", "must_have", index, "bed"), must.bed)
            for index, must in enumerate(scenario.household.must_have)
        ),
    ]
    for path, name in wanted:
        if name is not None and name not in names:
            check.refuse(path, f"there is no bed {quoted(name)}", did_you_mean(name, names) or _list_of(names))


def _crop_places(check: ScenarioCheck) -> Iterator[tuple[KeyPath, str]]:
    scenario = check.scenario
    for index, target in enumerate(scenario.household.targets):
        yield ("household", "targets", index, "crop"), target.crop
        for nth, kind in enumerate(target.kinds):
            yield ("household", "targets", index, "kinds", nth), kind
    for index, must in enumerate(scenario.household.must_have):
        yield ("household", "must_have", index, "crop"), must.crop
    for index, eats in enumerate(scenario.household.eats):
        yield ("household", "eats", index, "crop"), eats.crop
    for index, name in enumerate(scenario.also_allowed):
        yield ("also_allowed", index), name
    for index, past in enumerate(scenario.history):
        yield ("history", index, "crop"), past.crop
    for index, pin in enumerate(scenario.pinned):
        yield ("pinned", index, "crop"), pin.crop
    for index, one in enumerate(scenario.standing):
        yield ("standing", index, "crop"), one.crop
    for index, weighed in enumerate(scenario.weighed):
        yield ("weighed", index, "crop"), weighed.crop


def _crops_known(check: ScenarioCheck) -> None:
    names = CropNames(check.catalogue.crops)
    for path, word in _crop_places(check):
        found = names.find(word)
        if found is None:
            check.refuse(path, *names.trouble(word, UNKNOWN_CROP_MEND))
        elif found != word:
            check.canonical[path] = found


def _diseases_known(check: ScenarioCheck) -> None:
    known = {fold(pathogen.name): pathogen.name for pathogen in check.catalogue.pathogens}
    named: list[tuple[KeyPath, str]] = [
        (("beds", index, "diseases", nth), word)
        for index, bed in enumerate(check.scenario.beds)
        for nth, word in enumerate(bed.diseases)
    ]
    named += [(("seen", index, "disease"), seen.disease) for index, seen in enumerate(check.scenario.seen)]
    for path, word in named:
        found = known.get(fold(word))
        if found is None:
            hint = did_you_mean(word, known.values()) or _list_of(list(known.values()))
            check.refuse(path, f"the disease {quoted(word)} is not known", hint)
            continue
        if found != word:
            check.canonical[path] = found
        _rotation_helps(check, path, found)


def _rotation_helps(check: ScenarioCheck, path: KeyPath, disease: str) -> None:
    """Refuse a disease against which no years of rest are known: it would be accepted and change nothing."""
    told = [pathogen for pathogen in check.catalogue.pathogens if pathogen.name == disease]
    if any(one.closes or one.gap_low is not None or one.gap_high is not None for one in told):
        return
    what = f"rotation does not help against {quoted(disease)}"
    if all(pathogen.rotation_helps for pathogen in told):
        what = f"no source says for how many years hosts of {quoted(disease)} must stay away"
    notes = " ".join(pathogen.note for pathogen in told if pathogen.note)
    mend = "take it off the bed, or give it a gap_low in a crop file of your own"
    check.refuse(path, what, f"{mend} ({notes})" if notes else mend)


def _host_years_known(check: ScenarioCheck) -> None:
    asked = check.scenario.rules.host_years
    names, families = CropNames(check.catalogue.crops), {family.name for family in check.catalogue.families}
    for index, one in enumerate(() if asked == "as published" else asked):
        word, path = one.hosts, ("rules", "host_years", index, "hosts")
        family = word.removeprefix("family:")
        if word != family:
            if family not in families:
                hint = did_you_mean(family, sorted(families)) or _list_of(sorted(families))
                check.refuse(path, f"the family {quoted(family)} is not known", hint)
            continue
        found = names.find(word)
        if found is None:
            check.refuse(path, *names.trouble(word, UNKNOWN_CROP_MEND))
        elif found != word:
            check.canonical[path] = found


def _targets_unique(check: ScenarioCheck) -> None:
    first: dict[str, KeyPath] = {}
    for index, target in enumerate(check.scenario.household.targets):
        path = ("household", "targets", index, "crop")
        name = check.canonical.get(path, target.crop)
        before = first.setdefault(name, path)
        if before != path:
            what = f"{quoted(name)} has a target already, in line {check.line_of(before)}"
            check.refuse(path, what, "write one target with the sum")


def _kinds_of_their_crops(check: ScenarioCheck) -> None:
    bases = {crop.name: crop.kind_of or crop.name for crop in check.catalogue.crops}
    for index, target in enumerate(check.scenario.household.targets):
        crop = check.canonical.get(("household", "targets", index, "crop"), target.crop)
        kinds = [name for name, base in sorted(bases.items()) if base == crop]
        for nth, word in enumerate(target.kinds):
            path: KeyPath = ("household", "targets", index, "kinds", nth)
            kind = check.canonical.get(path, word)
            if kind in bases and kind not in kinds:
                check.refuse(path, f"{quoted(kind)} is no kind of {quoted(crop)}", _list_of(kinds))


def _list_of(names: list[str], most: int = 12) -> str:
    if not names:
        return "remove the line"
    shown = ", ".join(names[:most])
    return f"known here: {shown}" + (", ..." if len(names) > most else "")
