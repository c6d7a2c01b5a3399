"""A target out of reach: how far, and what holds it back most."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from rotasolve.domain.crop import Name
from rotasolve.domain.record import Record

GainKind = Literal[
    "more in the same beds", "no order of heights", "one year less rest", "a cover", "one more metre", "one more bed"
]
"""The changes that are tried, the smallest first."""


class Spacing(Record):
    """What a crop needs in the row and between rows in cm, and the rows it wants side by side."""

    in_row_cm: float
    between_rows_cm: float
    least_rows: int


class Hopeless(Record):
    """A wished crop that fits into no bed, for it ``needs`` more; None: that is never in season in a bed it fits."""

    crop: Name
    needs: Spacing | None = None


class Gain(Record):
    """What one change of the garden or of its rules would add to a crop's harvest in a garden year, in kg.

    All else of the plan stays where it is. Only what belongs to the change is given: the complete years of rest left,
    the cover and the bed under it, or the length and width in cm of the bed added.
    """

    kind: GainKind
    kg: Annotated[float, Field(ge=0)]
    rest_years: int | None = None
    cover: str | None = None
    bed: str | None = None
    length_cm: float | None = None
    width_cm: float | None = None


class Shortfall(Record):
    """A yearly target that a plan does not reach, in kg of a typical year, or of a poor one if targets count that.

    ``gains`` are sorted, the largest first, of equal ones the smallest change first; each is capped at what is
    missing. ``met_at`` says which year's yield counts. ``standing`` are the crops, and ``green_manures`` apart
    from them, that hold the ground which more of it would need, those that hold most first. ``hopeless`` is given if no
    bed can hold the crop or it is never in season.
    """

    crop: Name
    year: int
    wanted_kg: float
    got_kg: float
    gains: tuple[Gain, ...]
    met_at: Literal["typical yield", "low yield"] = "typical yield"
    standing: tuple[Name, ...] = ()
    green_manures: tuple[Name, ...] = ()
    hopeless: Hopeless | None = None

    @property
    def missing_kg(self) -> float:
        """What is missing in kg."""
        return round(self.wanted_kg - self.got_kg, 3)
