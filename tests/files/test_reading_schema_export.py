from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from rotasolve.errors import FileTrouble
from rotasolve.files.crops import load_catalogue
from rotasolve.files.files import read_text
from rotasolve.files.scenarios import read_scenario
from rotasolve.files.schema_export import SCHEMA_FOLDER, schema_texts, write_schemas
from rotasolve.files.shipped import ShippedName, shipped_files
from rotasolve.files.yaml_text import read_yaml


def schema(name: str) -> dict[str, Any]:
    loaded: dict[str, Any] = json.loads((SCHEMA_FOLDER / name).read_text(encoding="utf-8"))
    return loaded


def shipped_data(name: ShippedName) -> Iterator[object]:
    try:
        files = shipped_files(name)
    except FileTrouble:
        return
    for file in files:
        yield read_yaml(read_text(file, file.name), file.name).data


@pytest.mark.parametrize("name", sorted(schema_texts()))
def test_committed_schema_is_current(name: str) -> None:
    """If this fails: ``python -m rotasolve.files.schema_export``."""
    assert (SCHEMA_FOLDER / name).read_text(encoding="utf-8") == schema_texts()[name]
    jsonschema.Draft202012Validator.check_schema(schema(name))


def test_no_schema_is_left_over_and_writing_repeats(tmp_path: Path) -> None:
    write_schemas(tmp_path)
    assert sorted(file.name for file in tmp_path.iterdir()) == sorted(file.name for file in SCHEMA_FOLDER.iterdir())


def test_garden_is_valid_and_a_number_for_a_length_is_not(garden: str) -> None:
    jsonschema.validate(read_yaml(garden, "g").data, schema("scenario.json"))
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate(read_yaml(garden.replace("4 m", "4"), "g").data, schema("scenario.json"))


def test_shipped_scenarios_and_crops_are_valid() -> None:
    for data in shipped_data("scenarios"):
        jsonschema.validate(data, schema("scenario.json"))
    for data in shipped_data("crops"):
        jsonschema.validate(data, schema("crop-file.json"))


def test_shipped_scenarios_are_read_with_the_shipped_crops() -> None:
    try:
        files = shipped_files("scenarios")
    except FileTrouble:
        pytest.skip("no shipped scenarios here")
    for file in files:
        assert read_scenario(file, load_catalogue()).beds
