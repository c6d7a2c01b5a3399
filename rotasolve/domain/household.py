"""What the household wants: what it eats, targets, things it must have, and how it meets them."""

from __future__ import annotations

from calendar import monthrange
from typing import Annotated, ClassVar, Literal, Self

from pydantic import BeforeValidator, Field, model_validator

from rotasolve.domain.crop import Name
from rotasolve.domain.record import Record
from rotasolve.domain.seasons import Month
from rotasolve.errors import Unusable

CountedIn = Literal["kg", "plants", "meals", "litres of jars"]
"""What a grower counts a harvest in."""
Liking = Literal["little", "usual", "much"]
"""How much of a crop a household eats, beside the published amount of one person."""
Share = Annotated[float, Field(ge=0, le=1)]

LIKING_FACTOR: dict[Liking, float] = {"little": 0.5, "usual": 1.0, "much": 1.5}
"""Shares of the published amount of one person: common practice, no source."""


def _is_number(value: object, most: float) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool) and 0 <= value <= most


def parse_liking(value: object) -> object:
    """Return how much of a crop is eaten: a word, or a factor above 0 up to 20.

    Raises
    ------
    ValueError
        If it is neither.
    """
    if (isinstance(value, str) and value in LIKING_FACTOR) or (value and _is_number(value, 20)):
        return value
    words = ", ".join(LIKING_FACTOR)
    raise Unusable(f"{value!r} does not say how much", f"write {words}, or a factor above 0 up to 20 such as 1.2")


def parse_keep(value: object) -> object:
    """Return the share to be kept: ``published``, or a number from 0 to 1.

    Raises
    ------
    ValueError
        If it is neither.
    """
    if value is None or value == "published" or _is_number(value, 1):
        return value
    raise Unusable(f"{value!r} is not a share to keep", "write published, or a share from 0 to 1 such as 0.4")


class FreshMonths(Record):
    """The months in which a crop is wished fresh from the bed: both ends included, possibly over New Year."""

    fresh_from: Month | None = None
    fresh_to: Month | None = None

    @model_validator(mode="after")
    def _both_months(self) -> Self:
        if (self.fresh_from is None) != (self.fresh_to is None):
            raise ValueError("give both fresh_from and fresh_to, or neither")
        return self

    @property
    def fresh_months(self) -> tuple[int, ...]:
        """The months in which a fresh harvest is wished, in order, possibly over New Year."""
        if self.fresh_from is None or self.fresh_to is None:
            return ()
        count = (self.fresh_to - self.fresh_from) % 12 + 1
        return tuple((self.fresh_from - 1 + step) % 12 + 1 for step in range(count))

    @property
    def fresh_days(self) -> int:
        """The days of the fresh months in a year that is no leap year."""
        return sum(monthrange(2027, month)[1] for month in self.fresh_months)


class Target(FreshMonths):
    """A wished harvest of one crop each year.

    ``kg`` is the harvest wished per year in kilograms; instead of it ``plants``, ``meals`` or ``litres_of_jars`` may be
    given, which the crop's own figures turn into kilograms (``relations.wanted``). ``keep`` is the share of the harvest
    that is to be kept rather than eaten fresh, 0 to 1; what is wished in jars is kept unless told otherwise.
    ``fresh_from`` and ``fresh_to`` name the months in which it should come fresh from the bed (both ends included; may
    pass New Year). ``kg_a_week`` is a harvest wished in each of the half months of these, and the year's with it.
    ``weight`` says how much it matters beside other targets, 1 (nice) to 5 (first of all). ``kinds`` names the kinds
    of the crop that may be grown for it (early and maincrop carrots, say) instead of the crop as it is described.
    """

    later: ClassVar = frozenset({"kinds", "kg", "plants", "meals", "litres_of_jars", "keep", "kg_a_week"})

    crop: Name
    kinds: Annotated[tuple[Name, ...], Field(max_length=20)] = ()
    kg: Annotated[float, Field(gt=0, le=10_000)] = 0.0
    plants: Annotated[int, Field(ge=1, le=100_000)] | None = None
    meals: Annotated[float, Field(gt=0, le=100_000)] | None = None
    litres_of_jars: Annotated[float, Field(gt=0, le=10_000)] | None = None
    kg_a_week: Annotated[float, Field(gt=0, le=200)] | None = None
    keep: Share | None = None
    weight: Annotated[int, Field(ge=1, le=5)] = 2

    @model_validator(mode="after")
    def _one_amount(self) -> Self:
        given = [name for name in ("kg", "plants", "meals", "litres_of_jars", "kg_a_week") if getattr(self, name)]
        if not given:
            raise Unusable("says no amount", "give kg, plants, meals, litres_of_jars or kg_a_week")
        if len(given) > 1:
            raise Unusable(f"says its amount twice, as {' and '.join(given)}", "keep one of them")
        if self.kg_a_week is not None and (not self.fresh_months or self.keep):
            raise Unusable("kg_a_week is eaten fresh", "give fresh_from and fresh_to, and no keep")
        return self

    @property
    def counted_in(self) -> CountedIn:
        """What the grower counts this target in."""
        if self.plants is not None:
            return "plants"
        if self.meals is not None:
            return "meals"
        return "kg" if self.litres_of_jars is None else "litres of jars"

    @property
    def amount(self) -> float:
        """The amount wished, in ``counted_in``."""
        if self.kg_a_week is not None:
            return self.kg_a_week * self.fresh_days / 7
        return float(self.plants or self.meals or self.litres_of_jars or self.kg)

    @property
    def kept_share(self) -> float:
        """The share of the harvest that is to be kept, 0 to 1."""
        if self.keep is not None:
            return self.keep
        return 0.0 if self.litres_of_jars is None else 1.0


class Eats(FreshMonths):
    """How a household of so many people eats a crop; the published amounts of one person turn it into a target.

    ``how_much`` is ``little``, ``usual`` or ``much``, or a factor on the published amount; ``kg_per_person`` replaces
    that amount, fresh and kept together. ``keep`` is the share of the whole that is to be kept, 0 to 1, or
    ``published`` for the published amounts, fresh and kept side by side. Without it all is eaten fresh, except of a
    crop of which only an amount for keeping is published.
    """

    crop: Name
    how_much: Annotated[Liking | float, BeforeValidator(parse_liking)] = "usual"
    keep: Annotated[Literal["published"] | float | None, BeforeValidator(parse_keep)] = None
    kg_per_person: Annotated[float, Field(gt=0, le=1000)] | None = None
    weight: Annotated[int, Field(ge=1, le=5)] = 2

    @property
    def factor(self) -> float:
        """What the published amount is multiplied by."""
        return LIKING_FACTOR[self.how_much] if isinstance(self.how_much, str) else self.how_much


class MustHave(Record):
    """At least ``plants`` plants, or ``kg`` kilograms, of a crop in a year (every year if none is named).

    In one bed if one is named. Kilograms are counted as the household's targets are: typical, or low if it so asks.
    ``plants`` is 0 where kilograms are given.
    """

    later: ClassVar = frozenset({"plants", "kg"})

    crop: Name
    plants: Annotated[int, Field(ge=1, le=100_000)] = 0
    year: Annotated[int, Field(ge=1950, le=2200)] | None = None
    bed: Name | None = None
    kg: Annotated[float, Field(gt=0, le=10_000)] | None = None

    @model_validator(mode="after")
    def _one_amount(self) -> Self:
        if bool(self.plants) == (self.kg is not None):
            raise Unusable("says no amount, or two", "give either plants or kg")
        return self


class Household(Record):
    """The people and their wishes.

    ``eats`` become targets for the crops that ``targets`` does not name. ``count_in`` says in what, beside kilograms,
    harvests are shown. ``meet_targets_at`` says whether targets count a usual or a poor year's yield. ``surplus:
    welcome`` charges nothing for what goes beyond a target.
    """

    later: ClassVar = frozenset({"eats", "count_in", "meet_targets_at", "surplus"})

    people: Annotated[int, Field(ge=1, le=200)] | None = None
    targets: Annotated[tuple[Target, ...], Field(max_length=200)] = ()
    must_have: Annotated[tuple[MustHave, ...], Field(max_length=200)] = ()
    eats: Annotated[tuple[Eats, ...], Field(max_length=200)] = ()
    count_in: CountedIn = "kg"
    meet_targets_at: Literal["typical yield", "low yield"] = "typical yield"
    surplus: Literal["avoid", "welcome"] = "avoid"

    @model_validator(mode="after")
    def _people_known(self) -> Self:
        if self.eats and self.people is None:
            raise Unusable("'eats' counts by the head", "add people: the number of people who eat from the garden")
        return self
