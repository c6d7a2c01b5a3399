"""Plans side by side: what each yields, takes and asks for, and where they differ."""

from __future__ import annotations

from rotasolve.domain.crop import Name
from rotasolve.domain.household import CountedIn
from rotasolve.domain.moves import Changes, CropKg
from rotasolve.domain.plan import Harvest, Plan
from rotasolve.domain.record import Record


class CropFigures(Record):
    """One crop over all years of a plan: kg wished and got, kg short, fresh half months hit and wished.

    ``short_kg`` is the sum over the years, so that a good year does not make up for a bad one. ``counted_in`` is what
    the grower counts in, ``kg_per_unit`` the kilograms of one such plant, meal or litre.
    """

    crop: Name
    wanted_kg: float = 0.0
    got: Harvest
    short_kg: float = 0.0
    fresh_half_months: int = 0
    fresh_half_months_wanted: int = 0
    counted_in: CountedIn = "kg"
    kg_per_unit: float = 1.0


class WorkLoad(Record):
    """The plantings to be sown (in place or indoors) and to be set out in one half month."""

    period: int
    sowings: int = 0
    settings_out: int = 0


class PlanFigures(Record):
    """A plan in figures.

    ``ground_m2`` is the area of all strips that ever carry a crop; ``bed_months`` sums the months a crop takes ground,
    each counted as its strips' share of the bed; ``work`` holds the half months in which something is begun.
    """

    crops: tuple[CropFigures, ...]
    ground_m2: float
    bed_months: float
    work: tuple[WorkLoad, ...]


class Side(Record):
    """One side of a comparison: a plan, refereed anew for its own scenario, and its figures."""

    name: str
    title: str
    plan: Plan
    figures: PlanFigures
    planned_here: bool = False


class Difference(Record):
    """One crop in one bed and garden year: its plants on each side, not all the same."""

    year: int
    bed: Name
    crop: Name
    plants: tuple[int, ...]


class GoalPoints(Record):
    """The points that one goal loses more with one plan than with another, or fewer (below 0)."""

    goal: str
    more: int


class Change(Record):
    """What another side changes against the first one, where both plan the same years of the same beds.

    ``side`` is its number. ``points`` are those of the goals that differ, None where the wishes are not the same.
    """

    side: int
    changes: Changes
    harvest: tuple[CropKg, ...]
    points: tuple[GoalPoints, ...] | None


class Comparison(Record):
    """Two or more sides, every crop, bed and year in which they differ, and what each changes against the first.

    ``same_wishes`` says whether all have the same wishes, rules and years: only then are points like for like.
    """

    sides: tuple[Side, ...]
    differences: tuple[Difference, ...]
    changes: tuple[Change, ...] = ()
    same_wishes: bool = True
