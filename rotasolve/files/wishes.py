"""A file of wishes: a household without a garden, to be tried in a garden that is there already."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Literal

from pydantic import Field

from rotasolve.domain.household import Household
from rotasolve.domain.record import Record
from rotasolve.errors import InputFault
from rotasolve.files.faults import in_file_order
from rotasolve.files.files import read_text
from rotasolve.files.records import read_record
from rotasolve.files.scenario_checks import ScenarioCheck
from rotasolve.files.scenario_dates import check_dates
from rotasolve.files.scenario_names import check_names
from rotasolve.files.scenario_wishes import check_wishes
from rotasolve.files.scenarios import respelled
from rotasolve.files.unread_names import unknown_crops
from rotasolve.files.yaml_text import read_yaml

if TYPE_CHECKING:
    from pathlib import Path

    from rotasolve.domain.catalogue import Catalogue
    from rotasolve.domain.scenario import Scenario


class Wishes(Record):
    """The household of a scenario by itself."""

    format: Literal[1] = 1
    title: Annotated[str, Field(min_length=1, max_length=120)] = "other wishes"
    household: Household


def holds_wishes_alone(path: Path) -> bool:
    """Return whether a file holds a household and no garden.

    Raises
    ------
    RotasolveError
        If it cannot be read as YAML.
    """
    data = read_yaml(read_text(path), str(path)).data
    return isinstance(data, dict) and "household" in data and not {"beds", "site"} & data.keys()


def read_wishes(path: Path, scenario: Scenario, catalogue: Catalogue) -> Scenario:
    """Return the scenario with the household of a file in place of its own.

    Raises
    ------
    FileTrouble
        If the file is missing or cannot be opened.
    InputFault
        With all faults, in file order.
    """
    document = read_yaml(read_text(path), str(path))
    try:
        wishes = read_record(document, Wishes)
    except InputFault as refusal:
        raise InputFault(in_file_order([*refusal.faults, *unknown_crops(document, catalogue)])) from None

    def combined(found: Wishes) -> Scenario:
        title = f"{scenario.title}: {found.title}"[:120]
        return scenario.model_copy(update={"household": found.household, "title": title})

    # The garden has passed its own checks; what is found now lies in the wishes.
    check = ScenarioCheck(document, combined(wishes), catalogue)
    check_names(check)
    check_dates(check)
    check_wishes(check)
    if check.faults:
        raise InputFault(in_file_order(check.faults))
    if check.canonical:
        wishes = read_record(respelled(document, check.canonical), Wishes)
    return combined(wishes)
