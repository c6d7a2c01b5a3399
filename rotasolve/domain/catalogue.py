"""The catalogue: all crops with what is known between them, and where each figure comes from."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from rotasolve.domain.crop import Crop, Name
from rotasolve.domain.family import Family, Neighbours, Pathogen, Succession
from rotasolve.domain.figure import Sources
from rotasolve.domain.record import Record

CoverName = Literal["open ground", "cold frame", "fleece", "low tunnel", "tunnel"]
"""What lies over a bed."""


class Source(Record):
    """Where a figure was read: title, publisher, year and table."""

    title: str
    publisher: str = ""
    year: str = ""
    section: str = ""
    address: str = ""
    how_read: str = ""


class Cover(Record):
    """A cover with the days it lengthens the season: earlier in spring, later in autumn."""

    name: CoverName
    days_earlier: Annotated[int, Field(ge=0, le=90)]
    days_later: Annotated[int, Field(ge=0, le=90)]
    source: Sources
    note: str = ""
    caution: str = ""


class Catalogue(Record):
    """Everything read from crops/ and the grower's own crop files."""

    crops: tuple[Crop, ...]
    families: tuple[Family, ...]
    pathogens: tuple[Pathogen, ...] = ()
    successions: tuple[Succession, ...] = ()
    neighbours: tuple[Neighbours, ...] = ()
    covers: tuple[Cover, ...]
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
