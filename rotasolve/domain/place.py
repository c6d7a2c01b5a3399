"""Where a crop can go: the question, the places that will do, and what stands against the others."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from rotasolve.domain.crop import Name, Way
from rotasolve.domain.crop_share import CropShare
from rotasolve.domain.family import Evidence
from rotasolve.domain.hindrance import Hindrance
from rotasolve.domain.plan import Planting
from rotasolve.domain.record import Record
from rotasolve.domain.scenario import PinnedPlanting
from rotasolve.domain.seasons import Day
from rotasolve.domain.sun import PlaceSun


class Question(Record):
    """Where can ``crop`` go? So many ``plants``, or as many as there is room for.

    ``on`` asks for one day of sowing in place or setting out, ``year`` for all of a garden year; neither asks for
    every year of the plan. ``way`` leaves out the other way of starting the crop.
    """

    crop: Name
    plants: Annotated[int, Field(ge=1, le=100_000)] | None = None
    on: Day | None = None
    year: int | None = None
    way: Way | None = None


class NoonShade(Record):
    """The longest noon shadow that falls on a place while it is planted, by the simple rule of noon reach.

    ``depth_cm`` is how deep it falls into the place from its equator side; ``month`` is when it does so.
    """

    depth_cm: Annotated[float, Field(gt=0)]
    crop: Name
    bed: Name
    month: Annotated[int, Field(ge=1, le=12)]


class Remark(Record):
    """What a source says of a crop after the one that stood in its strips last."""

    crop: Name
    after: Name
    effect: Literal["good", "bad", "avoid"]
    evidence: Evidence


class Place(Record):
    """A place that breaks no rule, with all that the planting there would be.

    ``free_strips`` are the bed's other strips that nothing takes while it stands. ``free_until`` is the day on which
    something else is started in its own strips after it; None if nothing is. ``rest_years`` are the complete years
    without the crop's family between it and the nearest other visit; None if there is none. ``remarks`` say what
    sources say of the crop that stood there last. ``sun`` is the least sun it gets in the months of high sun, where
    the beds' places or their hours are known. ``crop_share`` is given where it is not a full crop.
    """

    planting: Planting
    shade: NoonShade | None = None
    sun: PlaceSun | None = None
    free_strips: tuple[int, ...] = ()
    free_until: Day | None = None
    rest_years: int | None = None
    crop_share: CropShare | None = None
    remarks: tuple[Remark, ...] = ()


class Refusal(Record):
    """A bed that will not do in a garden year, and all that stands against the start that comes nearest to it."""

    bed: Name
    year: int
    planting: Planting
    hindrances: Annotated[tuple[Hindrance, ...], Field(min_length=1)]


class Places(Record):
    """The answer, best place first.

    ``loose_pins`` name no strips and were not counted; ``quick_days`` are the days from start to picking of the quick
    kinds that were counted, if they were.
    """

    question: Question
    places: tuple[Place, ...]
    refusals: tuple[Refusal, ...]
    loose_pins: tuple[PinnedPlanting, ...] = ()
    quick_days: int | None = None
