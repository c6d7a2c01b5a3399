"""One crop file: its record, and where each entry of it was written."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Annotated, Literal

from pydantic import Field

from rotasolve.domain.catalogue import Cover, OtherNames, Source
from rotasolve.domain.crop import Crop, Name
from rotasolve.domain.family import Family, Neighbours, Pathogen, Succession
from rotasolve.domain.record import Record
from rotasolve.domain.reference import ReferenceClimate
from rotasolve.errors import InputFault
from rotasolve.files.files import read_text
from rotasolve.files.records import read_record
from rotasolve.files.yaml_text import read_yaml

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping
    from importlib.resources.abc import Traversable
    from pathlib import Path

    from rotasolve.domain.fault import Fault
    from rotasolve.files.document import Document, KeyPath, Plain

SECTIONS = ("crops", "families", "pathogens", "successions", "neighbours", "covers", "reference_climates", "names")
"""The sections of a crop file that are lists of records."""


class CropFile(Record):
    """A crop file: any of crops, families, pathogens, remarks, covers, reference climates, other names and sources.

    Each crop needs all its fields. A grower's own file replaces shipped crops, families, pathogens, covers,
    reference climates and sources of the same name; other names and remarks on what follows what and on neighbours
    are added.
    """

    format: Literal[1] = 1
    crops: tuple[Crop, ...] = ()
    families: tuple[Family, ...] = ()
    pathogens: tuple[Pathogen, ...] = ()
    successions: tuple[Succession, ...] = ()
    neighbours: tuple[Neighbours, ...] = ()
    covers: tuple[Cover, ...] = ()
    reference_climates: tuple[ReferenceClimate, ...] = ()
    names: tuple[OtherNames, ...] = ()
    sources: Annotated[dict[Name, Source], Field(default_factory=dict)]


@dataclass(frozen=True)
class ReadCropFile:
    """A crop file that has been read, with its document for places."""

    document: Document
    record: CropFile


def read_crop_file(path: Path | Traversable, name: str) -> ReadCropFile:
    """Return one crop file.

    Raises
    ------
    FileTrouble
        If it cannot be opened.
    InputFault
        With all its faults; names and sources are checked later, over all files together.
    """
    document = with_kinds_filled(read_yaml(read_text(path, name), name))
    return ReadCropFile(document, read_record(document, CropFile))


def read_crop_files(paths: Iterable[tuple[Path | Traversable, str]]) -> list[ReadCropFile]:
    """Return several crop files, given as (file, name for messages).

    Raises
    ------
    FileTrouble
        If one cannot be opened.
    InputFault
        With the faults of all of them.
    """
    files: list[ReadCropFile] = []
    faults: list[Fault] = []
    for path, name in paths:
        try:
            files.append(read_crop_file(path, name))
        except InputFault as refusal:
            faults.extend(refusal.faults)
    if faults:
        raise InputFault(faults)
    return files


YIELDS = ("yield_per_plant", "yield_per_row", "yield_per_area")
_OWN_NAMES = ("name", "also", "kind_of")


def filled_up(entry: Mapping[str, Plain], base: Mapping[str, Plain]) -> dict[str, Plain]:
    """Return a crop's fields, those that it does not have taken from another crop; it has one yield of its own."""
    own_yield = bool(entry.keys() & set(YIELDS))
    taken = {field: value for field, value in base.items() if not (own_yield and field in YIELDS)}
    return {field: value for field, value in taken.items() if field not in _OWN_NAMES} | dict(entry)


def with_kinds_filled(document: Document) -> Document:
    """Return the document with each kind of a crop filled up from that crop, if it stands in the same file."""
    listed = document.at(("crops",))
    crops = [crop for crop in listed if isinstance(crop, dict)] if isinstance(listed, list) else []
    if not isinstance(document.data, dict) or not any("kind_of" in crop for crop in crops):
        return document
    by_name = {crop.get("name"): crop for crop in crops if isinstance(crop.get("name"), str)}
    filled: list[Plain] = [filled_up(crop, by_name.get(crop.get("kind_of"), {})) for crop in crops]
    return replace(document, data={**document.data, "crops": filled})


def source_keys(document: Document) -> Iterator[tuple[KeyPath, str]]:
    """Yield (path, key) for every source key that stands under a ``source`` field of the list sections."""
    if isinstance(document.data, dict):
        for section in SECTIONS:
            yield from _source_keys(document.data.get(section), (section,))


def _source_keys(data: Plain, path: KeyPath) -> Iterator[tuple[KeyPath, str]]:
    if isinstance(data, list):
        for index, item in enumerate(data):
            if isinstance(item, dict | list):
                yield from _source_keys(item, (*path, index))
    elif isinstance(data, dict):
        for key, item in data.items():
            if key == "source":
                listed = item if isinstance(item, list) else [item]
                for index, word in enumerate(listed):
                    here = (*path, key, index) if isinstance(item, list) else (*path, key)
                    yield here, str(word)
            elif isinstance(item, dict | list):
                yield from _source_keys(item, (*path, key))
