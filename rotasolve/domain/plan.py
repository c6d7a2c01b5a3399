"""A plan: plantings with dates and places, what they should yield, and how good the plan is known to be."""

from __future__ import annotations

from dataclasses import asdict, dataclass
from typing import Annotated, Any, ClassVar, Literal

from pydantic import (
    Field,
    PlainSerializer,
    PlainValidator,
    TypeAdapter,
    ValidationError,
    ValidationInfo,
    WithJsonSchema,
)

from rotasolve.domain.claim import Claim, Facts
from rotasolve.domain.crop import Name, Way
from rotasolve.domain.edits import Written
from rotasolve.domain.household import CountedIn
from rotasolve.domain.record import Record
from rotasolve.domain.seasons import Day, YearNumber, garden_year

PLAN_FORMAT: Literal[1] = 1
Kilograms = Annotated[float, Field(ge=0, le=10_000_000, allow_inf_nan=False)]
"""More than the largest site bears: 100 beds of 100 m x 100 m, 10 kg on each square metre."""
Points = Annotated[int, Field(ge=0, le=10**15)]
"""Whole numbers that are exact as floats too."""
Seconds = Annotated[float, Field(ge=0, allow_inf_nan=False)]
Strip = Annotated[int, Field(ge=1, le=20_000)]
"""The largest bed is cut into 1,000 strips of 10 cm, in 20 parts at the most."""


class Harvest(Record):
    """An expected harvest in kg: a poor, a usual and a good year."""

    low_kg: Kilograms
    typical_kg: Kilograms
    high_kg: Kilograms


class Planting(Record):
    """One crop in one run of strips of one bed.

    ``strips`` count from 1 at the pole side, through part after part from the west (part 1 holds the first strips).
    ``start`` is the day of sowing in place or of setting out; ``raise_from`` the day of sowing indoors; the ground is
    taken from ``start`` to ``clear``, both days included. ``kept`` marks a planting that the grower decided on and
    that the search planned around.
    """

    later: ClassVar = frozenset({"kept"})

    bed: Name
    strips: Annotated[tuple[Strip, ...], Field(min_length=1, max_length=20_000)]
    crop: Name
    way: Way
    raise_from: Day | None = None
    start: Day
    first_harvest: Day | None = None
    last_harvest: Day | None = None
    clear: Day
    rows: Annotated[int, Field(ge=1, le=10_000)]
    plants: Annotated[int, Field(ge=1, le=5_000_000)]
    harvest: Harvest
    kept: bool = False

    def begins_in(self, south: bool) -> int:
        """Return the garden year in which its ground is taken."""
        return garden_year(self.start, south)

    def ends_in(self, south: bool) -> int:
        """Return the garden year in which its ground is cleared."""
        return garden_year(self.clear, south)


class TargetOutcome(Record):
    """What one crop's target gets in one garden year, in kg, and the fresh half months hit and wished.

    ``keep_kg`` is the part of ``wanted_kg`` that is to be kept. ``counted_in`` is what the grower counts in, and
    ``kg_per_unit`` the kilograms of one such plant, meal or litre. ``met_at`` says whether the target counts the
    typical or the low yield.
    """

    later: ClassVar = frozenset({"keep_kg", "counted_in", "kg_per_unit", "met_at"})

    crop: Name
    year: YearNumber
    wanted_kg: Kilograms
    got: Harvest
    fresh_half_months: Annotated[int, Field(ge=0, le=24)] = 0
    fresh_half_months_wanted: Annotated[int, Field(ge=0, le=24)] = 0
    keep_kg: Kilograms = 0.0
    counted_in: CountedIn = "kg"
    kg_per_unit: Annotated[float, Field(gt=0, le=10_000, allow_inf_nan=False)] = 1.0
    met_at: Literal["typical yield", "low yield"] = "typical yield"

    @property
    def counted_kg(self) -> float:
        """The kilograms got that count against the target."""
        return self.got.low_kg if self.met_at == "low yield" else self.got.typical_kg

    @property
    def short_kg(self) -> float:
        """The kilograms short of the target, 0 if it is met."""
        return max(0.0, self.wanted_kg - self.counted_kg)


def _of_its_goal(value: object, info: ValidationInfo) -> Facts | None:
    """Take facts over, and make figures of a file facts again; those of a goal unknown here are left out."""
    if value is None or isinstance(value, Facts):
        return value
    kind = (info.context or {}).get(REACHED, {}).get(info.data.get("goal"))
    try:
        return None if kind is None else TypeAdapter[Facts](kind).validate_python(value)
    except ValidationError:
        raise ValueError("the figures are not those of the goal") from None


REACHED = "what goals reach"
"""The key, in a validation's context, of the kind of facts that each goal hands over."""


CHANGES = "few-changes"
"""The goal whose points say nothing of a plan by itself: they speak of what changed against an earlier one."""


class GoalScore(Record):
    """A soft goal's points lost and what the plan reaches, counted from the plantings, never taken from the solver.

    ``reached`` are facts of the goal's own kind, in a file its figures. Files of earlier versions hold a ``sentence``.
    """

    later: ClassVar = frozenset({"reached", "sentence"})

    goal: str
    lost: Points
    reached: Annotated[
        Facts | None,
        PlainValidator(_of_its_goal),
        PlainSerializer(lambda facts: asdict(facts) if facts is not None else None),
        WithJsonSchema({"type": "object"}),
    ] = None
    sentence: str = ""


class Standing(Record):
    """How good the plan is known to be.

    ``lost`` are the points the plan loses against all wishes; no plan can lose fewer than ``at_least_lost``;
    ``lost_if_empty`` is what an empty garden loses. ``gap`` = (lost - at_least_lost) / (lost_if_empty -
    at_least_lost): the share of the points within reach that the plan might still be missing. All plans it speaks
    of keep the same ``keeps`` plantings and start nothing else by ``nothing_new_by``, as was decided before the search;
    files of earlier versions say that in words, ``around``. With ``every_start`` they start on any half month in which
    a window is open, else on few days of each crop.
    """

    later: ClassVar = frozenset({"around", "every_start", "keeps", "nothing_new_by"})

    outcome: Literal["proven best", "good, not proven"]
    lost: Points
    at_least_lost: Points
    lost_if_empty: Points
    gap: Annotated[float, Field(allow_inf_nan=False)]
    first_plan_seconds: Seconds | None = None
    seconds: Seconds | None = None
    seed: Annotated[int, Field(ge=0, lt=2**31)]
    limit: str
    engine: str
    around: str = ""
    keeps: Annotated[int, Field(ge=0, le=10**9)] = 0
    nothing_new_by: Day | None = None
    every_start: bool = False

    @property
    def speaks_of_all(self) -> bool:
        """Whether it speaks of all plans of the scenario, and not of those only that keep what was decided before."""
        return not self.around and not self.keeps and self.nothing_new_by is None


@dataclass(frozen=True)
class Breach:
    """A claim that a plan breaks, with what was found, most telling first.

    ``plantings`` are those of the plan that break it; none where something is missing.
    """

    claim: Claim
    found: Facts
    plantings: tuple[Planting, ...] = ()


def _judged(value: object) -> tuple[Breach, ...]:
    """Take over only what the referee found itself; what a file says of breaches is never believed."""
    if not isinstance(value, list | tuple):
        raise ValueError("the breaches are no list")
    return tuple(breach for breach in value if isinstance(breach, Breach))


def _named(breaches: tuple[Breach, ...]) -> list[dict[str, Any]]:
    return [{"claim": {"rule": breach.claim.rule, "about": list(breach.claim.about)}} for breach in breaches]


Breaches = Annotated[
    tuple[Breach, ...],
    PlainValidator(_judged),
    PlainSerializer(_named),
    WithJsonSchema({"type": "array", "items": {"type": "object"}}),
]
"""Breaches as the referee found them; a file names only the claims."""


class Verdict(Record):
    """What the referee found: no breach, or each breach as facts. Of a file only the warnings are read."""

    breaches: Breaches = ()
    warnings: tuple[str, ...] = ()


class Plan(Record):
    """A whole plan as it is written to a file. ``scenario_hash`` ties it to the scenario it was made for.

    ``scenario_file`` is the way from the plan's file to the scenario's, or a shipped one's name. ``written`` holds
    digests of the plantings, by which an edit by hand is noticed.
    """

    later: ClassVar = frozenset({"written", "scenario_file"})

    format: Literal[1] = PLAN_FORMAT
    made_by: str
    scenario_title: str
    scenario_hash: str
    scenario_file: Annotated[str, Field(max_length=4000)] = ""
    first_year: YearNumber
    years: Annotated[int, Field(ge=1, le=10)]
    plantings: tuple[Planting, ...]
    targets: tuple[TargetOutcome, ...] = ()
    goals: tuple[GoalScore, ...] = ()
    standing: Standing | None = None
    verdict: Verdict = Verdict()
    written: Written | None = None

    @property
    def points_lost(self) -> int:
        """The points that the plan says it loses, whichever plan it was made from."""
        return sum(goal.lost for goal in self.goals if goal.goal != CHANGES)
