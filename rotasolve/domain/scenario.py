"""A scenario: everything a grower writes down, in one file."""

from __future__ import annotations

from datetime import date
from typing import Annotated, ClassVar, Literal, Self

from pydantic import ConfigDict, Field, PrivateAttr, model_validator

from rotasolve.domain.bed import Bed
from rotasolve.domain.crop import Name, Way
from rotasolve.domain.family import HostYears, Years
from rotasolve.domain.household import Household
from rotasolve.domain.obstacle import Obstacle
from rotasolve.domain.record import Record
from rotasolve.domain.seasons import Day, YearNumber, garden_year, year_start
from rotasolve.domain.site import Site

MANURE_DAYS_TOUCHING = 120
"""Days from working in raw manure to the harvest of what touches soil: 7 CFR 205.203(c)(1)(ii)."""
MANURE_DAYS_CLEAR = 90
"""Days from working in raw manure to the harvest of what does not touch soil: 7 CFR 205.203(c)(1)(iii)."""


FileName = Annotated[str, Field(min_length=1, max_length=500, pattern=r"^[^\n\r\t]+$")]

EARLIEST_FIRST_YEAR, LATEST_FIRST_YEAR = 1960, 2180
"""A plan's days, from sowing indoors for its first year to clearing after its last, lie within what dates can hold."""


class PastPlanting(Record):
    """What stood in a bed in an earlier garden year; ``strips`` 1 = pole side, all strips if left out.

    ``until`` gives the day the ground is free again, for a crop still standing when the plan begins.
    """

    bed: Name
    crop: Name
    year: YearNumber
    strips: tuple[Annotated[int, Field(ge=1, le=400)], ...] = ()
    until: Day | None = None

    def takes(self, strip: int) -> bool:
        """Return whether it stood on a strip of its bed: on all of them if none is named."""
        return not self.strips or strip in self.strips

    def last_year(self, south: bool) -> int:
        """Return the last garden year in which it is in the ground."""
        return self.year if self.until is None else max(self.year, garden_year(self.until, south))


class PinnedPlanting(Record):
    """A planting that must be in the plan: crop, bed and the day it is started; ``strips`` if those matter too.

    ``way`` says how it is started where the crop knows several ways, ``until`` the last day its ground is taken. It may
    have been started before the first planned year, if it still stands then.
    """

    later: ClassVar = frozenset({"way", "until"})

    bed: Name
    crop: Name
    start: Day
    way: Way | None = None
    until: Day | None = None
    strips: tuple[Annotated[int, Field(ge=1, le=400)], ...] = ()
    plants: Annotated[int, Field(ge=1, le=100_000)] | None = None


class Standing(Record):
    """A crop that stays for years: where it stands, and the garden year in which it was or will be ``planted``.

    Its ground is taken from the beginning of that year, until a day if one is given, else to the end of the plan.
    """

    bed: Name
    crop: Name
    planted: YearNumber
    strips: Annotated[tuple[Annotated[int, Field(ge=1, le=400)], ...], Field(min_length=1)]
    plants: Annotated[int, Field(ge=1, le=100_000)]
    until: Day | None = None


class RawManure(Record):
    """Raw animal manure spread on a bed, and the day it was worked in; compost made hot does not count."""

    bed: Name
    spread: Day


class DiseaseSeen(Record):
    """A disease seen in a bed on a day, and known there ``since`` then.

    Hosts that stood there on that day, and are kept, stand on; for all others the years of rest run from that year.
    """

    bed: Name
    disease: Name
    since: Day


class ClosedBed(Record):
    """A bed in which nothing may stand from a day on, ``until`` the last day of it if that is known."""

    bed: Name
    since: Day
    until: Day | None = None


class Weighed(Record):
    """What was weighed of a crop in one garden year, and what the published yields gave for the same plants, in kg.

    Each such year shifts the yields that are counted for the crop (``relations.season.own_yields``).
    """

    crop: Name
    year: YearNumber
    kg: Annotated[float, Field(ge=0, le=100_000)]
    published_kg: Annotated[float, Field(gt=0, le=100_000)]


class Rules(Record):
    """How strict the rules are.

    ``rotation`` says whether the memory of what grew where is kept per bed or per strip. ``family_gap`` and
    ``family_gap_wished`` replace the catalogue's gaps (complete years without the family). ``height_steps_cm``
    are the bounds between low, middle and tall. ``green_manure_wait`` replaces the weeks that ground waits after any
    green manure. ``manure_days_touching`` and ``manure_days_clear`` are the days from spreading raw manure to a
    harvest that touches the soil and to one that does not.
    ``height_order`` keeps tall crops on the pole side of lower ones: ``strict`` (or true) always, ``by shadow`` only
    where the noon shadow reaches the middle of the lower crop's strip, false never. ``least_sun`` keeps crops off
    ground with less direct sun than they can do with; ``with neighbours`` also counts what the crops of other beds
    could take from it at the most. ``few_plantings`` says how much each planting is charged, so that a bed carries few,
    and how small it may be; ``whole beds`` offers nothing smaller than the bed.
    ``winter_cover`` says how much it counts that ground is not left bare in winter. ``family_once`` lets the same
    ground bear a family once in a growing season; ``except quick crops`` lets salads and radishes follow one another,
    false any crop but the hosts of known diseases. ``host_years`` lets crops or families return only in so many of so
    many years, ``as published`` as the crop files say. ``order_of_demand`` says how much it counts that heavy feeders
    follow legumes, roots keep off fed ground and light feeders come last. ``few_changes`` says how much it counts that
    a plan made from an earlier one changes little. ``repeatable`` asks that the plan's end may be followed by its
    start.
    """

    later: ClassVar = frozenset(
        {
            "green_manure_wait",
            "manure_days_touching",
            "manure_days_clear",
            "least_sun",
            "few_plantings",
            "winter_cover",
            "family_once",
            "host_years",
            "order_of_demand",
            "few_changes",
            "repeatable",
        }
    )

    rotation: Literal["bed", "strip"] = "bed"
    family_gap: Years | None = None
    family_gap_wished: Years | None = None
    height_steps_cm: tuple[Annotated[float, Field(gt=0, le=1000)], Annotated[float, Field(gt=0, le=1000)]] = (45, 100)
    height_order: Literal[True, False, "strict", "by shadow"] = True
    green_manure_wait: Annotated[float, Field(ge=0, le=26)] | None = None
    manure_days_touching: Annotated[int, Field(ge=0, le=730)] = MANURE_DAYS_TOUCHING
    manure_days_clear: Annotated[int, Field(ge=0, le=730)] = MANURE_DAYS_CLEAR
    least_sun: Literal[True, False, "with neighbours"] = True
    few_plantings: Literal["not at all", "little", "usual", "much", "whole beds"] = "usual"
    family_once: Literal[True, False, "except quick crops"] = True
    host_years: Literal["as published"] | Annotated[tuple[HostYears, ...], Field(max_length=100)] = ()
    winter_cover: Literal["not at all", "usual", "much"] = "usual"
    order_of_demand: Literal["not at all", "usual", "much"] = "usual"
    few_changes: Literal["not at all", "little", "usual", "much"] = "usual"
    repeatable: bool = False

    @model_validator(mode="after")
    def _in_order(self) -> Self:
        if self.height_steps_cm[0] >= self.height_steps_cm[1]:
            raise ValueError("height_steps_cm needs the lower step first, such as [45, 100]")
        return self


class OwnCrop(Record):
    """A crop of the grower's own: the fields of a crop file in which it differs from the crop that it is ``like``.

    Without ``like`` it changes figures of the known crop of its name, or is a whole new crop. A figure may be written
    as a number, a distance as a length such as 12 cm; ``days_to_harvest`` is of the start whose published days are
    nearest, of the ``way`` if that is told.
    """

    model_config = ConfigDict(extra="allow")

    name: Name
    like: Name | None = None


class Words(dict[str, str]):
    """The catalogue's names of crops with the grower's own words for them: spelling, in which no two gardens differ."""

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Words)

    __hash__ = None


class Scenario(Record):
    """A garden, its household, its memory and the years to plan.

    ``units`` says how its distances are measured out: ``metric`` rounds published spacings as growers say them (60 cm
    for 24 inches), ``inches`` takes them as published. ``crop_files`` names crop files of the grower's own, beside the
    scenario; ``crops`` has own crops, and own figures of known ones. ``standing`` tells of what stays for years.
    """

    later: ClassVar = frozenset(
        {"manure", "obstacles", "units", "weighed", "closed", "seen", "crop_files", "crops", "standing"}
    )

    format: Literal[1] = 1
    title: Annotated[str, Field(min_length=1, max_length=120)]
    site: Site
    first_year: Annotated[int, Field(ge=EARLIEST_FIRST_YEAR, le=LATEST_FIRST_YEAR)]
    years: Annotated[int, Field(ge=1, le=10)] = 3
    units: Literal["metric", "inches"] = "metric"
    beds: Annotated[tuple[Bed, ...], Field(min_length=1, max_length=100)]
    obstacles: Annotated[tuple[Obstacle, ...], Field(max_length=100)] = ()
    household: Household = Household()
    crop_files: Annotated[tuple[FileName, ...], Field(max_length=20)] = ()
    crops: Annotated[tuple[OwnCrop, ...], Field(max_length=200)] = ()
    also_allowed: tuple[Name, ...] = ()
    history: Annotated[tuple[PastPlanting, ...], Field(max_length=2000)] = ()
    pinned: Annotated[tuple[PinnedPlanting, ...], Field(max_length=500)] = ()
    standing: Annotated[tuple[Standing, ...], Field(max_length=200)] = ()
    manure: Annotated[tuple[RawManure, ...], Field(max_length=500)] = ()
    seen: Annotated[tuple[DiseaseSeen, ...], Field(max_length=500)] = ()
    closed: Annotated[tuple[ClosedBed, ...], Field(max_length=500)] = ()
    weighed: Annotated[tuple[Weighed, ...], Field(max_length=2000)] = ()
    rules: Rules = Rules()
    _words: Words = PrivateAttr(default_factory=lambda: Words())

    @property
    def words(self) -> Words:
        """The grower's own words for crops, where they differ from the catalogue's names."""
        return self._words

    @property
    def planned_years(self) -> tuple[int, ...]:
        """The garden years of the plan, in order."""
        return tuple(range(self.first_year, self.first_year + self.years))

    @property
    def begins(self) -> date:
        """The first day of the plan; a pinned planting started before it stands there already."""
        return year_start(self.first_year, self.site.south)

    @property
    def pinned_by_strip(self) -> frozenset[str]:
        """The beds in which a pin asks for strips: not those of what stands there already, with so many plants."""
        pins = (pin for pin in self.pinned if pin.strips and not (pin.plants and pin.start < self.begins))
        return frozenset(pin.bed for pin in pins)

    def past_in(self, bed: str) -> tuple[PastPlanting, ...]:
        """Return what grew in a bed before, in the order of the file."""
        return tuple(past for past in self.history if past.bed == bed)
