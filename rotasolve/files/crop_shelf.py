"""The entries of all crop files side by side, before they become one catalogue."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, TypeVar

from rotasolve.domain.catalogue import Cover, Source
from rotasolve.domain.crop import Crop
from rotasolve.domain.family import Family
from rotasolve.domain.record import Record
from rotasolve.domain.reference import ReferenceClimate
from rotasolve.files.crop_names import fold
from rotasolve.files.document import quoted

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from rotasolve.domain.fault import Fault
    from rotasolve.files.crop_files import ReadCropFile
    from rotasolve.files.document import Document, KeyPath

SomeEntry = TypeVar("SomeEntry", bound=Record)
Named = Crop | Family | Cover | ReferenceClimate

ALWAYS_SOURCES = {
    "memory": Source(title="From memory, not looked up"),
    "common-practice": Source(title="Common practice of growers, without one publication behind it"),
}
"""Sources that any crop file may name; sources.yaml may describe them in more words."""


@dataclass(frozen=True)
class ShelfEntry:
    """A record and where it was written."""

    record: Record
    document: Document
    path: KeyPath

    def fault(self, field_path: KeyPath, what: str, mend: str = "") -> Fault:
        """Return a fault at a field of this entry."""
        return self.document.value_fault((*self.path, *field_path), what, mend)


@dataclass(frozen=True)
class Shelf:
    """Entries by section and key, and the sources. The key of a crop, family, cover or climate is its name."""

    entries: dict[str, dict[str, ShelfEntry]] = field(default_factory=dict)
    sources: dict[str, Source] = field(default_factory=lambda: dict(ALWAYS_SOURCES))

    def copy(self) -> Shelf:
        """Return a shelf to which more can be added."""
        return Shelf({section: dict(found) for section, found in self.entries.items()}, dict(self.sources))

    def each(self, section: str, kind: type[SomeEntry]) -> Iterator[tuple[ShelfEntry, SomeEntry]]:
        """Yield (entry, record) of a section."""
        for entry in self.entries.get(section, {}).values():
            if isinstance(entry.record, kind):
                yield entry, entry.record

    def records(self, section: str, kind: type[SomeEntry]) -> tuple[SomeEntry, ...]:
        """Return the records of a section in the order they were added."""
        return tuple(record for _, record in self.each(section, kind))

    def add(self, files: Sequence[ReadCropFile], *, may_replace: bool) -> list[Fault]:
        """Add the files' entries and return the faults: a name that is there twice, unless it may be replaced."""
        faults: list[Fault] = []
        for file in files:
            faults.extend(self._add_named(file, may_replace))
            self._add_pathogens(file, may_replace)
            self._add_remarks(file)
            for key, source in file.record.sources.items():
                if key in self.sources and not may_replace and key not in ALWAYS_SOURCES:
                    what = f"source {quoted(key)} is described twice"
                    faults.append(file.document.key_fault(("sources", key), what, "keep one of the two"))
                self.sources[key] = source
        return faults

    def _add_named(self, file: ReadCropFile, may_replace: bool) -> Iterator[Fault]:
        for section, index, record in _named(file):
            there = self.entries.setdefault(section, {})
            entry = ShelfEntry(record, file.document, (section, index))
            before = there.get(fold(record.name))
            if before is not None and (not may_replace or before.document is file.document):
                line = before.document.place_of_value(before.path).line
                first = f"line {line}" if before.document is file.document else f"{before.document.file}:{line}"
                what = f"{quoted(record.name)} is written twice in '{section}', first in {first}"
                yield entry.fault(("name",), what, "keep one of the two")
            elif before is not None and isinstance(before.record, Named):
                # The spelling that was there stays, so that hosts and remarks still find the crop.
                same_name = record.model_copy(update={"name": before.record.name})
                there[fold(record.name)] = ShelfEntry(same_name, file.document, entry.path)
            else:
                there[fold(record.name)] = entry

    def _add_pathogens(self, file: ReadCropFile, may_replace: bool) -> None:
        # A pathogen may stand there several times, once for each source with a gap of its own.
        there = self.entries.setdefault("pathogens", {})
        if may_replace:
            told_anew = {fold(pathogen.name) for pathogen in file.record.pathogens}
            for key in [key for key in there if key.rpartition("#")[0] in told_anew]:
                del there[key]
        for index, pathogen in enumerate(file.record.pathogens):
            entry = ShelfEntry(pathogen, file.document, ("pathogens", index))
            there[f"{fold(pathogen.name)}#{file.document.file}:{index}"] = entry

    def _add_remarks(self, file: ReadCropFile) -> None:
        for section in ("successions", "neighbours", "names"):
            there = self.entries.setdefault(section, {})
            remarks: tuple[Record, ...] = getattr(file.record, section)
            for index, record in enumerate(remarks):
                # Sources may disagree about a pair, so remarks never replace one another.
                there[f"{len(there)}"] = ShelfEntry(record, file.document, (section, index))


def _named(file: ReadCropFile) -> Iterator[tuple[str, int, Named]]:
    sections: tuple[tuple[str, tuple[Named, ...]], ...] = (
        ("crops", file.record.crops),
        ("families", file.record.families),
        ("covers", file.record.covers),
        ("reference_climates", file.record.reference_climates),
    )
    for section, records in sections:
        for index, record in enumerate(records):
            yield section, index, record
