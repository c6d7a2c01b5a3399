"""A scenario file to a checked scenario."""

from __future__ import annotations

import copy
import hashlib
import json
from dataclasses import replace
from typing import TYPE_CHECKING

from rotasolve.domain.scenario import Scenario
from rotasolve.errors import InputFault
from rotasolve.files.faults import in_file_order
from rotasolve.files.files import read_text
from rotasolve.files.records import read_record
from rotasolve.files.scenario_checks import ScenarioCheck
from rotasolve.files.scenario_dates import check_dates
from rotasolve.files.scenario_ground import check_ground
from rotasolve.files.scenario_names import check_names
from rotasolve.files.scenario_warnings import warnings_of
from rotasolve.files.scenario_wishes import check_wishes
from rotasolve.files.unread_names import unknown_crops
from rotasolve.files.yaml_text import read_yaml

if TYPE_CHECKING:
    from importlib.resources.abc import Traversable
    from pathlib import Path

    from rotasolve.domain.catalogue import Catalogue
    from rotasolve.files.document import Document, KeyPath

__all__ = ["read_scenario", "read_scenario_text", "scenario_hash", "warnings_of"]

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
    document = read_yaml(text, name)
    try:
        scenario = read_record(document, Scenario)
    except InputFault as refusal:
        raise InputFault(in_file_order([*refusal.faults, *unknown_crops(document, catalogue)])) from None
    check = ScenarioCheck(document, scenario, catalogue)
    check_names(check)
    check_ground(check)
    check_dates(check)
    check_wishes(check)
    if check.faults:
        raise InputFault(in_file_order(check.faults))
    if not check.canonical:
        return scenario
    return read_record(respelled(document, check.canonical), Scenario)


def scenario_hash(scenario: Scenario) -> str:
    """Return 16 hexadecimal digits that change with anything in the scenario that is not a comment or spelling."""
    fields = scenario.model_dump(mode="json")
    canonical = json.dumps(fields, sort_keys=True, separators=(",", ":"), ensure_ascii=True)
    return hashlib.sha256(canonical.encode("ascii")).hexdigest()[:HASH_LETTERS]


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
