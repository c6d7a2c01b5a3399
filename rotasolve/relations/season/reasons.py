"""Why a window opens or closes, as facts; ``views/words/windows`` says them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from rotasolve.domain.claim import Facts

if TYPE_CHECKING:
    from datetime import date

    from rotasolve.domain.figure import Figure
    from rotasolve.relations.season.frosts import Turns

Kind = Literal[
    "weeks from frost",
    "longest day",
    "cover",
    "ripe before frost",
    "light and warmth",
    "soil",
    "nights",
    "chill",
    "heat",
    "bulletins' latest opening",
    "frost",
]
"""What a reason is about."""
Side = Literal["before", "after"]


@dataclass(frozen=True, kw_only=True)
class WindowReason(Facts):
    """One reason: what it is about, the day it names, the temperature in degrees C, and its sources."""

    kind: Kind
    day: date | None = None
    degrees_c: float | None = None
    sources: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True)
class WeeksFrom(WindowReason):
    """An end lies so many ``weeks`` on one ``side`` of a frost that 1 - ``chance`` of all years have behind them."""

    kind: Kind = "weeks from frost"
    weeks: float
    side: Side
    frost: Literal["last", "first"]
    frost_day: date
    chance: float


@dataclass(frozen=True, kw_only=True)
class WeeksFromLongestDay(WindowReason):
    """An end lies so many ``weeks`` on one ``side`` of the longest day."""

    kind: Kind = "longest day"
    weeks: float
    side: Side
    longest_day: date


@dataclass(frozen=True, kw_only=True)
class CoverMoves(WindowReason):
    """A cover moves an end by so many ``days``."""

    kind: Kind = "cover"
    cover: str
    days: int
    later: bool


@dataclass(frozen=True, kw_only=True)
class NotRipe(WindowReason):
    """A start after ``day`` is not ripe before the middle of winter, ``darkest_day``."""

    kind: Kind = "ripe before frost"
    darkest_day: date


@dataclass(frozen=True, kw_only=True)
class LittlePicking(WindowReason):
    """A start on ``day`` ripens in so many days, which leaves ``least_days`` of picking before frost or dark."""

    kind: Kind = "ripe before frost"
    ripens_days: int
    least_days: int
    end: date


@dataclass(frozen=True, kw_only=True)
class GivesLittle(WindowReason):
    """A start on ``day`` gives so much of a full crop, a later one still less."""

    kind: Kind = "light and warmth"
    share_percent: int


@dataclass(frozen=True, kw_only=True)
class PoorBeyond(WindowReason):
    """Starts on one ``side`` of ``day`` give less than ``least_percent`` of the best one."""

    kind: Kind = "light and warmth"
    side: Side
    least_percent: int


@dataclass(frozen=True, kw_only=True)
class SeasonTooShort(WindowReason):
    """What is started on the earliest day is not ripe before frost on ``day``, or before its latest day or winter."""

    kind: Kind = "ripe before frost"


@dataclass(frozen=True, kw_only=True)
class WarmFrom(WindowReason):
    """``degrees_c`` are reached on ``day``."""

    cover: str


@dataclass(frozen=True, kw_only=True)
class LatestOpening(WindowReason):
    """``day`` is the latest opening that any bulletin gives, moved by a cover."""

    kind: Kind = "bulletins' latest opening"
    cover: str
    days_earlier: int


@dataclass(frozen=True, kw_only=True)
class ShutBeyond(WindowReason):
    """The days on one ``side`` of ``day`` are shut: it is colder than ``degrees_c`` then, or hotter (``heat``)."""

    side: Side
    cover: str


@dataclass(frozen=True, kw_only=True)
class ShutThroughout(WindowReason):
    """All days from ``first`` to ``last`` are colder than ``degrees_c``."""

    first: date
    last: date
    cover: str


@dataclass(frozen=True, kw_only=True)
class WarmTooLate(WindowReason):
    """``degrees_c`` are reached only after ``last``, the last day that still pays."""

    last: date
    cover: str


@dataclass(frozen=True, kw_only=True)
class NeverRight(WindowReason):
    """In its season the soil is always too cold or too hot to germinate."""

    kind: Kind = "soil"


@dataclass(frozen=True, kw_only=True)
class OpensCold(WindowReason):
    """A window opens before it has ``degrees_c``, which come on ``day``, or not at all in it."""

    cover: str


@dataclass(frozen=True, kw_only=True)
class HotDays(WindowReason):
    """From ``day`` to ``last`` it is hotter than ``degrees_c``, in which the crop grows well."""

    kind: Kind = "heat"
    last: date


@dataclass(frozen=True, kw_only=True)
class BeforeLastFrost(WindowReason):
    """A crop that frost kills is started so many days before the last frost of 1 year in 2, ``day``.

    ``frost_percent`` of years still have frost to come; ``night_gain_c`` is what the cover gives, and with it
    ``frosty_nights_percent`` of nights about that date still freeze (None: not known).
    """

    kind: Kind = "frost"
    crop: str
    start: date
    days_early: int
    frost_percent: int
    cover: str
    night_gain_c: float | None = None
    frosty_nights_percent: int | None = None


def weeks_from(figure: Figure, weeks: float, turns: Turns) -> WeeksFrom | WeeksFromLongestDay:
    """Return that a window's end lies so many weeks, a value of ``figure``, from the day it is counted from."""
    origin, day = turns.origin(figure), turns.day(figure, weeks)
    side: Side = "before" if day < origin else "after"
    if figure.unit == "weeks after longest day":
        return WeeksFromLongestDay(weeks=abs(weeks), side=side, longest_day=origin, day=day, sources=figure.source)
    return WeeksFrom(
        weeks=abs(weeks),
        side=side,
        frost="last" if figure.unit == "weeks after last frost" else "first",
        frost_day=origin,
        chance=turns.share,
        day=day,
        sources=figure.source,
    )
