"""Supply over the year: what is harvested, eaten, kept and left over, half month by half month, in whole grams."""

from __future__ import annotations

from typing import Literal

from rotasolve.domain.crop import Name
from rotasolve.domain.household import CountedIn
from rotasolve.domain.record import Record

YieldLevel = Literal["low", "typical", "high"]
"""A poor, a usual and a good year's yield."""


class HalfMonthSupply(Record):
    """One crop in one half month, in grams.

    ``harvested_g`` = ``eaten_fresh_g`` + ``kept_g`` + ``surplus_g``; what is kept is eaten later (``eaten_kept_g`` of a
    later half month), spoils (``spoilt_g``) or is still in store (``in_store_g``, at the end of the half month).
    ``short_g`` = ``wanted_g`` - ``eaten_fresh_g`` - ``eaten_kept_g``.
    """

    period: int
    wanted_g: int = 0
    harvested_g: int = 0
    eaten_fresh_g: int = 0
    kept_g: int = 0
    surplus_g: int = 0
    eaten_kept_g: int = 0
    spoilt_g: int = 0
    in_store_g: int = 0

    @property
    def short_g(self) -> int:
        """The grams wished that nothing is there for."""
        return self.wanted_g - self.eaten_fresh_g - self.eaten_kept_g


class Spell(Record):
    """A run of half months that a grower should know of.

    ``gap``: less than half of what is wished is there. ``glut``: more is left over than is wished in that time.
    ``in store``: from the first half month in which something is kept to the one in which it runs out.
    ``grams`` are those short, those left over, or the most in store at once.
    """

    kind: Literal["gap", "glut", "in store"]
    first_period: int
    last_period: int
    grams: int
    runs_out: bool = True


class CropSupply(Record):
    """The supply of one crop from the plan's first half month to its last, or to its last harvest if that is later.

    ``keeps`` says how it is kept: cool as it is, in jars, or not at all; ``keeps_weeks`` for how long. ``counted_in``
    is what the grower counts in, ``kg_per_unit`` the kilograms of one such plant, meal or litre.
    """

    crop: Name
    keeps: Literal["cool", "in jars", "not"]
    keeps_weeks: float
    half_months: tuple[HalfMonthSupply, ...]
    spells: tuple[Spell, ...]
    counted_in: CountedIn = "kg"
    kg_per_unit: float = 1.0

    def total(self, what: str) -> int:
        """Return the sum of one field of the half months, in grams."""
        return sum(getattr(half, what) for half in self.half_months)

    @property
    def left_g(self) -> int:
        """The grams still in store at the end."""
        return self.half_months[-1].in_store_g if self.half_months else 0


class SpringSupply(Record):
    """What is to be eaten in the hungry gap of one spring, or in its three months where there is no gap.

    ``year`` is the garden year. The half months from ``first_period`` to ``last_period`` are the gap if ``hungry``;
    ``picked_g`` and ``stored_g`` are the grams of each crop picked and eaten from the store then, most first.
    ``little_g`` is what each half month of a gap falls short of. In the plan's first spring (``begins_plan``) nothing
    of it can stand from the year before.
    """

    year: int
    hungry: bool
    first_period: int
    last_period: int
    picked_g: tuple[tuple[Name, int], ...]
    stored_g: tuple[tuple[Name, int], ...]
    little_g: int
    begins_plan: bool
