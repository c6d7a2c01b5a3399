"""Crop names in a scenario whose other faults keep it from becoming a record: they are told in the same breath."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from rotasolve.files.crop_names import CropNames

if TYPE_CHECKING:
    from rotasolve.domain.catalogue import Catalogue
    from rotasolve.domain.fault import Fault
    from rotasolve.files.document import Document, KeyPath

UNKNOWN_CROP_MEND = "choose a crop of the list, or describe it in a crop file of your own"
_LISTS: tuple[KeyPath, ...] = (
    ("household", "targets"),
    ("household", "must_have"),
    ("household", "eats"),
    ("history",),
    ("pinned",),
    ("standing",),
    ("weighed",),
)


def unknown_crops(document: Document, catalogue: Catalogue) -> list[Fault]:
    """Return a fault for each crop name that leads nowhere, found without reading the scenario as a record."""
    names = CropNames(catalogue.crops)
    return [
        document.value_fault(path, *names.trouble(word, UNKNOWN_CROP_MEND))
        for path, word in _words(document)
        if names.find(word) is None
    ]


def _words(document: Document) -> Iterator[tuple[KeyPath, str]]:
    for above in _LISTS:
        for index, entry in enumerate(_list_at(document, above)):
            if isinstance(entry, dict) and isinstance(entry.get("crop"), str):
                yield (*above, index, "crop"), entry["crop"]
    for index, word in enumerate(_list_at(document, ("also_allowed",))):
        if isinstance(word, str):
            yield ("also_allowed", index), word


def _list_at(document: Document, path: KeyPath) -> list[object]:
    found: object = document.data
    for step in path:
        found = found.get(step) if isinstance(found, dict) else None
    return found if isinstance(found, list) else []
