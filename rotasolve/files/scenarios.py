"""A scenario file to a checked scenario."""

from __future__ import annotations

import copy
import hashlib
import json
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from rotasolve.domain.fault import Fault
from rotasolve.domain.scenario import Scenario
from rotasolve.errors import InputFault
from rotasolve.files.crops import load_catalogue
from rotasolve.files.document import quoted
from rotasolve.files.faults import in_file_order
from rotasolve.files.files import read_text
from rotasolve.files.records import read_record
from rotasolve.files.refusals import refused
from rotasolve.files.scenario_checks import ScenarioCheck
from rotasolve.files.scenario_dates import check_dates
from rotasolve.files.scenario_ground import check_ground
from rotasolve.files.scenario_names import check_names
from rotasolve.files.scenario_standing import check_standing
from rotasolve.files.scenario_warnings import warnings_of
from rotasolve.files.scenario_wishes import check_wishes
from rotasolve.files.unread_names import unknown_crops
from rotasolve.files.yaml_text import read_yaml
from rotasolve.relations.ground.standing import with_young_plants
from rotasolve.relations.season.own_days import with_own_days

if TYPE_CHECKING:
    from collections.abc import Sequence
    from importlib.resources.abc import Traversable

    from rotasolve.domain.catalogue import Catalogue
    from rotasolve.files.document import Document, KeyPath

__all__ = [
    "beside",
    "read_scenario",
    "read_scenario_text",
    "read_text_with_catalogue",
    "read_with_catalogue",
    "scenario_hash",
    "warnings_of",
]

HASH_LETTERS = 16


def read_scenario(path: Path | Traversable, catalogue: Catalogue) -> Scenario:
    """Return the scenario a file holds, with the catalogue's spelling of every crop.

    Raises
    ------
    FileTrouble
        If the file is missing or cannot be opened.
    InputFault
        With all faults, in file order.
    """
    return read_scenario_text(read_text(path), str(path), catalogue)


def read_with_catalogue(file: Path | Traversable, own_crops: Sequence[Path] = ()) -> tuple[Scenario, Catalogue]:
    """Return the scenario a file holds, and the catalogue with its own crops and figures.

    Parameters
    ----------
    file
        The scenario's file; the crop files that it names lie beside it.
    own_crops
        Further crop files of the grower's own. Default: none.

    Raises
    ------
    FileTrouble
        If a file is missing or cannot be opened.
    InputFault
        With all faults of the crops or of the scenario, in file order.
    """
    document = read_yaml(read_text(file), str(file))
    return _with_catalogue(document, [*_crop_files(document, file), *own_crops])


def read_text_with_catalogue(text: str, name: str, crop_files: Sequence[Path]) -> tuple[Scenario, Catalogue]:
    """Return the scenario a text holds, and the catalogue with its own crops and figures.

    Parameters
    ----------
    text
        The whole file.
    name
        The file's name for messages.
    crop_files
        The crop files that it names, wherever they lie now, and further ones of the grower's own.

    Raises
    ------
    FileTrouble
        If a crop file is missing or cannot be opened.
    InputFault
        With all faults of the crops or of the scenario, in file order.
    """
    return _with_catalogue(read_yaml(text, name), crop_files)


def _with_catalogue(document: Document, crop_files: Sequence[Path]) -> tuple[Scenario, Catalogue]:
    catalogue = load_catalogue(crop_files, document)
    scenario = _scenario(document, catalogue)
    return scenario, with_young_plants(with_own_days(catalogue, scenario.site), scenario)


def beside(file: Path | Traversable, name: str) -> Path:
    """Return the crop file that a scenario names: it is looked for beside the scenario."""
    return (file.parent if isinstance(file, Path) else Path()) / name.strip()


def _crop_files(document: Document, file: Path | Traversable) -> list[Path]:
    """Return the crop files that a scenario names."""
    listed = document.at(("crop_files",))
    named = {nth: name for nth, name in enumerate(listed if isinstance(listed, list) else []) if isinstance(name, str)}
    found, faults = list[Path](), list[Fault]()
    for nth, name in named.items():
        path = beside(file, name)
        found.append(path)
        with refused(name, "cannot be looked for"):
            if not path.is_file():
                what = f"there is no file {quoted(name)} beside the scenario"
                faults.append(document.value_fault(("crop_files", nth), what, "write its name as it is there"))
    if faults:
        raise InputFault(faults)
    return found


def read_scenario_text(text: str, name: str, catalogue: Catalogue) -> Scenario:
    """Return the scenario a text holds, with the catalogue's spelling of every crop.

    Parameters
    ----------
    text
        The whole file.
    name
        The file's name for messages.
    catalogue
        The crops and diseases that may be named.

    Raises
    ------
    InputFault
        With all faults, in file order.
    """
    return _scenario(read_yaml(text, name), catalogue)


def _scenario(document: Document, catalogue: Catalogue) -> Scenario:
    try:
        scenario = read_record(document, Scenario)
    except InputFault as refusal:
        raise InputFault(in_file_order([*refusal.faults, *unknown_crops(document, catalogue)])) from None
    check = ScenarioCheck(document, scenario, catalogue)
    check_names(check)
    check_ground(check)
    check_standing(check)
    check_dates(check)
    check_wishes(check)
    if check.faults:
        raise InputFault(in_file_order(check.faults))
    if not check.canonical:
        return scenario
    found = read_record(respelled(document, check.canonical), Scenario)
    found.words.update(words_for_wishes(document, check.canonical))
    return found


def scenario_hash(scenario: Scenario) -> str:
    """Return 16 hexadecimal digits that change with anything in the scenario that is not a comment or spelling."""
    fields = scenario.model_dump(mode="json")
    canonical = json.dumps(fields, sort_keys=True, separators=(",", ":"), ensure_ascii=True)
    return hashlib.sha256(canonical.encode("ascii")).hexdigest()[:HASH_LETTERS]


def words_for_wishes(document: Document, canonical: dict[KeyPath, str]) -> dict[str, str]:
    """Return the crops that a household wishes for in words of its own, with these."""
    wishes = {name: str(document.at(path)).strip() for path, name in canonical.items() if path[0] == "household"}
    return {name: word for name, word in wishes.items() if word.casefold() != name.casefold()}


def respelled(document: Document, canonical: dict[KeyPath, str]) -> Document:
    """Return the document with the names at these paths replaced."""
    changed = replace(document, data=copy.deepcopy(document.data))
    for path, name in canonical.items():
        above, step = changed.at(path[:-1]), path[-1]
        if isinstance(step, str):
            assert isinstance(above, dict)  # the record was read from this very place
            above[step] = name
        else:
            assert isinstance(above, list)
            above[step] = name
    return changed
