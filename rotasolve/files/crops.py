"""The catalogue: the shipped crop files and the grower's own, put together and checked against one another."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

from rotasolve.domain.catalogue import Catalogue, Cover, OtherNames
from rotasolve.domain.crop import Crop
from rotasolve.domain.family import Family, Neighbours, Pathogen, Succession
from rotasolve.domain.reference import ReferenceClimate
from rotasolve.errors import InputFault
from rotasolve.files.crop_checks import check_shelf
from rotasolve.files.crop_files import read_crop_files
from rotasolve.files.crop_names import CropNames, fold
from rotasolve.files.crop_shelf import Shelf
from rotasolve.files.faults import in_file_order
from rotasolve.files.own_crops import crops_of_scenario
from rotasolve.files.shipped import shipped_files

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from rotasolve.files.crop_files import ReadCropFile
    from rotasolve.files.document import Document, Plain


def load_catalogue(own: Sequence[Path] = (), scenario: Document | None = None) -> Catalogue:
    """Return the shipped catalogue with the grower's own crop files, and a scenario's own crops, laid over it.

    Parameters
    ----------
    own
        The grower's crop files. An entry replaces the shipped one of the same name; of two own files the later wins.
    scenario
        A scenario's file, whose own crops and figures go before all files. Default: none.

    Raises
    ------
    FileTrouble
        If a file is missing.
    InputFault
        With all faults of the own files (and of the shipped ones, should they have any).
    """
    told = scenario is not None and bool(scenario.at(("crops",)))
    if not own and not told:
        return _shipped_catalogue()
    shelf = _shipped_shelf().copy()
    _fill(shelf, read_crop_files((path, str(path)) for path in own), may_replace=True)
    catalogue = _catalogue(shelf)
    if scenario is None or not told:
        return catalogue
    crops = crops_of_scenario(scenario, CropNames(catalogue.crops), lambda name: _written(shelf, name))
    _fill(shelf, [crops] if crops is not None else [], may_replace=True)
    return _catalogue(shelf)


def _written(shelf: Shelf, name: str) -> dict[str, Plain]:
    """Return a crop's fields as they could be written in a crop file."""
    fields: dict[str, Plain] = shelf.entries["crops"][fold(name)].record.model_dump(mode="json", exclude_none=True)
    return fields


@cache
def _shipped_shelf() -> Shelf:
    shelf = Shelf()
    _fill(shelf, read_crop_files((file, f"crops/{file.name}") for file in shipped_files("crops")), may_replace=False)
    return shelf


@cache
def _shipped_catalogue() -> Catalogue:
    return _catalogue(_shipped_shelf())


def _fill(shelf: Shelf, files: list[ReadCropFile], *, may_replace: bool) -> None:
    faults = shelf.add(files, may_replace=may_replace)
    faults += check_shelf(shelf, [file.document for file in files])
    if faults:
        raise InputFault(in_file_order(faults))


def _catalogue(shelf: Shelf) -> Catalogue:
    return Catalogue(
        crops=tuple(
            sorted((_joined(crop, shelf) for crop in shelf.records("crops", Crop)), key=lambda crop: crop.name)
        ),
        families=shelf.records("families", Family),
        pathogens=shelf.records("pathogens", Pathogen),
        successions=shelf.records("successions", Succession),
        neighbours=shelf.records("neighbours", Neighbours),
        covers=shelf.records("covers", Cover),
        reference_climates=shelf.records("reference_climates", ReferenceClimate),
        names=shelf.records("names", OtherNames),
        sources=shelf.sources,
    )


def _joined(crop: Crop, shelf: Shelf) -> Crop:
    """Return the crop with its other names, and with the climate and the cover its figures were published for."""
    climates = {record.name: record for record in shelf.records("reference_climates", ReferenceClimate)}
    covers: dict[str, Cover] = {record.name: record for record in shelf.records("covers", Cover)}
    reference = climates.get(crop.yield_known_at) if crop.yield_known_at else None
    cover = covers.get(crop.yield_known_under) if crop.yield_known_under else None
    listed = [word for names in shelf.records("names", OtherNames) if names.crop == crop.name for word in names.words]
    also = tuple(dict.fromkeys((*crop.also, *listed)))
    return crop.model_copy(update={"reference": reference, "reference_cover": cover, "also": also})
