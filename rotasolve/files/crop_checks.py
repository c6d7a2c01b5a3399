"""Checks over all crop files together: names that lead somewhere, names that are unique, sources that exist."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from rotasolve.domain.catalogue import Cover, OtherNames
from rotasolve.domain.crop import Crop
from rotasolve.domain.family import Family, Neighbours, Pathogen, Succession
from rotasolve.domain.reference import ReferenceClimate
from rotasolve.domain.spelling import spelling_key
from rotasolve.files.crop_files import source_keys
from rotasolve.files.crop_names import FAMILY_MARK
from rotasolve.files.document import quoted
from rotasolve.files.wording import did_you_mean

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from rotasolve.domain.fault import Fault
    from rotasolve.files.crop_shelf import Shelf, ShelfEntry
    from rotasolve.files.document import Document, KeyPath


def check_shelf(shelf: Shelf, documents: Sequence[Document]) -> list[Fault]:
    """Return the faults between entries; sources are checked in ``documents`` only, the files just read."""
    return [
        *_families_known(shelf),
        *_conditions_known(shelf),
        *_kinds_known(shelf),
        *_names_unique(shelf, documents),
        *_sides_known(shelf),
        *_sources_known(shelf, documents),
    ]


def _families_known(shelf: Shelf) -> Iterator[Fault]:
    families = [family.name for family in shelf.records("families", Family)]
    known = set(families)
    for entry, crop in shelf.each("crops", Crop):
        if crop.family not in known:
            what = f"the family {quoted(crop.family)} is not known"
            yield entry.fault(("family",), what, did_you_mean(crop.family, families) or "describe it under 'families'")


def _conditions_known(shelf: Shelf) -> Iterator[Fault]:
    """Yield a fault for each yield that is known at a climate, or under a cover, that nobody describes."""
    climates = [climate.name for climate in shelf.records("reference_climates", ReferenceClimate)]
    covers: list[str] = [cover.name for cover in shelf.records("covers", Cover)]
    for entry, crop in shelf.each("crops", Crop):
        for field, name, known in (
            ("yield_known_at", crop.yield_known_at, climates),
            ("yield_known_under", crop.yield_known_under, covers),
        ):
            if name is not None and name not in known:
                section = "reference_climates" if field == "yield_known_at" else "covers"
                hint = did_you_mean(name, known) or f"describe it under '{section}'"
                yield entry.fault((field,), f"{quoted(name)} is not known", hint)


def _kinds_known(shelf: Shelf) -> Iterator[Fault]:
    """Yield a fault for each kind of a crop that is not known, is a kind itself or of another family."""
    crops = {crop.name: crop for crop in shelf.records("crops", Crop)}
    for entry, crop in shelf.each("crops", Crop):
        if crop.kind_of is None:
            continue
        base = crops.get(crop.kind_of)
        if base is None:
            hint = did_you_mean(crop.kind_of, crops) or "name a crop that is known"
            yield entry.fault(("kind_of",), f"the crop {quoted(crop.kind_of)} is not known", hint)
        elif base.kind_of is not None or base.family != crop.family:
            what = "is a kind itself" if base.kind_of is not None else f"is of the family {quoted(base.family)}"
            yield entry.fault(("kind_of",), f"{quoted(base.name)} {what}", "name a crop of the same family, no kind")


def _names_unique(shelf: Shelf, documents: Sequence[Document]) -> Iterator[Fault]:
    """Yield a fault for each second name of a crop that another crop bears as a name or second name.

    Only the lists of other names may give one word to several crops: then it is asked which of them is meant.
    """
    taken: dict[str, _Bearer] = {}
    for entry, crop in shelf.each("crops", Crop):
        taken[spelling_key(crop.name)] = _Bearer(entry, crop.name, ("name",))
    for entry, crop in shelf.each("crops", Crop):
        for index, other in enumerate(crop.also):
            here = _Bearer(entry, crop.name, ("also", index))
            there = taken.setdefault(spelling_key(other), here)
            yield from _borne_twice(other, here, there, documents)
    for entry, names in shelf.each("names", OtherNames):
        for index, other in enumerate(names.words):
            here = _Bearer(entry, names.crop, ("words", index))
            yield from _borne_twice(other, here, taken.get(spelling_key(other), here), documents)


class _Bearer(NamedTuple):
    """A crop that bears a name, and where that is written."""

    entry: ShelfEntry
    crop: str
    path: KeyPath


def _borne_twice(other: str, here: _Bearer, there: _Bearer, documents: Sequence[Document]) -> Iterator[Fault]:
    if there.crop == here.crop:
        return
    # The files just read are to be mended: those read before, the shipped ones, were sound by themselves.
    mine_is_new, other_is_new = (one.entry.document in documents for one in (here, there))
    wrong, right = (there, here) if other_is_new and not mine_is_new else (here, there)
    replaces = f"call it '{right.crop}' to replace that crop, or choose another name"
    mend = replaces if wrong.path == ("name",) else "remove it"
    yield wrong.entry.fault(wrong.path, f"{quoted(other)} is a name of {quoted(right.crop)} already", mend)


def _sides_known(shelf: Shelf) -> Iterator[Fault]:
    crops = [crop.name for crop in shelf.records("crops", Crop)]
    families = [family.name for family in shelf.records("families", Family)]
    known = {*crops, *(FAMILY_MARK + family for family in families)}
    diseases = {pathogen.name for pathogen in shelf.records("pathogens", Pathogen)}

    def unknown(entry: ShelfEntry, path: tuple[str | int, ...], word: str) -> Iterator[Fault]:
        if word in known:
            return
        kind = "family" if word.startswith(FAMILY_MARK) else "crop"
        hint = did_you_mean(word, [name for name in known if name.startswith(FAMILY_MARK) == (kind == "family")])
        yield entry.fault(path, f"{quoted(word)} is not a {kind} known here", hint or "write a crop or family:NAME")

    for entry, pathogen in shelf.each("pathogens", Pathogen):
        for index, host in enumerate(pathogen.hosts):
            yield from unknown(entry, ("hosts", index), host)
    for entry, follows in shelf.each("successions", Succession):
        yield from unknown(entry, ("before",), follows.before)
        yield from unknown(entry, ("after",), follows.after)
        for index, disease in enumerate(follows.only_where):
            if disease not in diseases:
                hint = did_you_mean(disease, diseases) or "describe it under 'pathogens'"
                yield entry.fault(("only_where", index), f"{quoted(disease)} is not known", hint)
    for entry, names in shelf.each("names", OtherNames):
        yield from unknown(entry, ("crop",), names.crop)
    for entry, beside in shelf.each("neighbours", Neighbours):
        yield from unknown(entry, ("one",), beside.one)
        yield from unknown(entry, ("other",), beside.other)


def _sources_known(shelf: Shelf, documents: Sequence[Document]) -> Iterator[Fault]:
    for document in documents:
        for path, key in source_keys(document):
            if key.strip() not in shelf.sources:
                hint = did_you_mean(key, shelf.sources) or "describe it under 'sources'"
                yield document.value_fault(path, f"the source {quoted(key)} is not described", hint)
