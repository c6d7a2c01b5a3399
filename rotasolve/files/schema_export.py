"""JSON Schemas of the three files, for editors that check and complete while typing.

``python -m rotasolve.files.schema_export`` writes them anew into ``rotasolve/files/schemas``.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING

from rotasolve.domain.plan import Plan
from rotasolve.domain.scenario import Scenario
from rotasolve.files.crop_files import CropFile

if TYPE_CHECKING:
    from pydantic import BaseModel

SCHEMA_FOLDER = Path(__file__).with_name("schemas")
_MODELS: dict[str, type[BaseModel]] = {"scenario": Scenario, "crop-file": CropFile, "plan": Plan}


def schema_texts() -> dict[str, str]:
    """Return file name to JSON text of every schema."""
    texts = {}
    for name, model in _MODELS.items():
        schema = {"$schema": "https://json-schema.org/draft/2020-12/schema", **model.model_json_schema()}
        texts[f"{name}.json"] = json.dumps(schema, indent=1, sort_keys=True, ensure_ascii=False) + "\n"
    return texts


def write_schemas(folder: Path = SCHEMA_FOLDER) -> None:
    """Write every schema into a folder, replacing what is there."""
    folder.mkdir(parents=True, exist_ok=True)
    for name, text in schema_texts().items():
        (folder / name).write_bytes(text.encode("utf-8"))


if __name__ == "__main__":
    write_schemas()
