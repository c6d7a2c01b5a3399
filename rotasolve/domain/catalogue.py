"""The catalogue: all crops with what is known between them, and where each figure comes from."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from rotasolve.domain.cover import Cover as Cover
from rotasolve.domain.cover import CoverName as CoverName
from rotasolve.domain.crop import Crop, Name
from rotasolve.domain.family import Family, Neighbours, Pathogen, Succession
from rotasolve.domain.figure import Sources
from rotasolve.domain.record import Record
from rotasolve.domain.reference import ReferenceClimate


class Source(Record):
    """Where a figure was read: title, publisher, year and table."""

    title: str
    publisher: str = ""
    year: str = ""
    section: str = ""
    address: str = ""
    how_read: str = ""


class OtherNames(Record):
    """Other names that people use for a crop, most usual first; a word may stand under several crops.

    Their plurals and spellings need not be told (``domain.spelling``).
    """

    crop: Name
    words: Annotated[tuple[Name, ...], Field(min_length=1)]
    source: Sources
    note: str = ""


class Catalogue(Record):
    """Everything read from crops/ and the grower's own crop files."""

    crops: tuple[Crop, ...]
    families: tuple[Family, ...]
    pathogens: tuple[Pathogen, ...] = ()
    successions: tuple[Succession, ...] = ()
    neighbours: tuple[Neighbours, ...] = ()
    covers: tuple[Cover, ...]
    reference_climates: tuple[ReferenceClimate, ...] = ()
    names: tuple[OtherNames, ...] = ()
    sources: dict[str, Source]

    def crop(self, name: Name) -> Crop:
        """Return the crop of that name.

        Raises
        ------
        KeyError
            If there is none.
        """
        for crop in self.crops:
            if crop.name == name:
                return crop
        raise KeyError(name)

    def cover(self, name: CoverName) -> Cover:
        """Return the cover of that name.

        Raises
        ------
        KeyError
            If there is none.
        """
        for cover in self.covers:
            if cover.name == name:
                return cover
        raise KeyError(name)
