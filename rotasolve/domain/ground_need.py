"""How much ground the wishes need through a year, and how much there is: an estimate made before any plan."""

from __future__ import annotations

from rotasolve.domain.record import Record


class CropGround(Record):
    """A wish that would fit in part: the most ground it takes at a time, and the kilograms a year that would fit."""

    crop: str
    m2: float
    wanted_kg: float
    fits_kg: float


class WishGround(Record):
    """A wish: the kilograms asked for in a year, and the most ground it takes at a time if all of it is grown."""

    crop: str
    kg: float
    m2: float


class GroundUnder(Record):
    """The ground under one cover: what there is, and what the wishes need of it in each half month of a year.

    ``needed_m2`` begins with the first half of January; ``crops`` are those of the half month that needs most, with
    their m2, the largest first.
    """

    cover: str
    there_m2: float
    needed_m2: tuple[float, ...]
    crops: tuple[tuple[str, float], ...]

    @property
    def fullest_m2(self) -> float:
        """The ground needed in the half month that needs most."""
        return max(self.needed_m2)

    @property
    def fullest_month(self) -> int:
        """The month, 1 to 12, that needs most."""
        return self.needed_m2.index(self.fullest_m2) // 2 + 1


class FamilyGround(Record):
    """The ground that a family's wishes need at a time, and what its rest leaves it on average of the planned years.

    ``rest_years`` are the complete years without the family that the rule asks for.
    """

    family: str
    cover: str
    rest_years: int
    there_m2: float
    needed_m2: float
    crops: tuple[str, ...]


class GroundNeed(Record):
    """What all wishes of a year need of the ground.

    ``wishes`` are all that any bed can bear. If they do not fit, ``less`` are the wishes that would fit in part, those
    that ask most of the ground first.
    """

    grounds: tuple[GroundUnder, ...]
    families: tuple[FamilyGround, ...]
    less: tuple[CropGround, ...] = ()
    wishes: tuple[WishGround, ...] = ()

    @property
    def crowded(self) -> tuple[GroundUnder, ...]:
        """The ground of which more is needed than there is."""
        return tuple(ground for ground in self.grounds if ground.fullest_m2 > ground.there_m2)

    @property
    def tired(self) -> tuple[FamilyGround, ...]:
        """The families that need more than their rest leaves them."""
        return tuple(family for family in self.families if family.needed_m2 > family.there_m2)

    @property
    def fits(self) -> bool:
        """Whether there is ground for all wishes, as far as can be told before a plan is made."""
        return not self.crowded and not self.tired
