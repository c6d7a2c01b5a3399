"""The catalogue: all crops with what is known between them, and where each figure comes from."""

from __future__ import annotations

from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from rotasolve.domain.crop import Crop, Name
from rotasolve.domain.family import Family, Neighbours, Pathogen, Succession
from rotasolve.domain.figure import Figure, Sources
from rotasolve.domain.record import Record
from rotasolve.domain.reference import ReferenceClimate

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
    """A cover with the days it lengthens the season, and by how much it warms nights and days.

    ``days_earlier`` in spring, ``days_later`` in autumn; ``night_gain`` is added to mean minima and ``day_gain`` to
    mean maxima in degrees C. What is not known counts as no gain.
    """

    name: CoverName
    days_earlier: Annotated[int, Field(ge=0, le=90)]
    days_later: Annotated[int, Field(ge=0, le=90)]
    night_gain: Figure | None = None
    day_gain: Figure | None = None
    source: Sources
    note: str = ""
    caution: str = ""

    @model_validator(mode="after")
    def _gains(self) -> Self:
        for gain in (self.night_gain, self.day_gain):
            if gain is not None and gain.unit != "degC":
                raise ValueError(f"a cover's gain is counted in degC, not in {gain.unit}")
            if gain is not None and gain.usual < 0:
                raise ValueError("a cover's usual gain cannot be negative; leave it out if there is none")
        return self

    @property
    def night_gain_c(self) -> float:
        """Degrees C by which the usual night is warmer under the cover."""
        return 0.0 if self.night_gain is None else self.night_gain.usual

    @property
    def mean_gain_c(self) -> float:
        """Degrees C by which the mean of the day is warmer under the cover."""
        return (self.night_gain_c + self.day_gain_c) / 2

    @property
    def day_gain_c(self) -> float:
        """Degrees C by which the usual day's highest temperature is warmer under the cover."""
        return 0.0 if self.day_gain is None else self.day_gain.usual


class Catalogue(Record):
    """Everything read from crops/ and the grower's own crop files."""

    crops: tuple[Crop, ...]
    families: tuple[Family, ...]
    pathogens: tuple[Pathogen, ...] = ()
    successions: tuple[Succession, ...] = ()
    neighbours: tuple[Neighbours, ...] = ()
    covers: tuple[Cover, ...]
    reference_climates: tuple[ReferenceClimate, ...] = ()
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
