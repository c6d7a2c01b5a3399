"""Why a window opens or closes: reasons as data, each with its sentence."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from rotasolve.domain.seasons import MONTHS

if TYPE_CHECKING:
    from datetime import date

    from rotasolve.domain.figure import Figure

Kind = Literal[
    "weeks from frost",
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


@dataclass(frozen=True)
class WindowReason:
    """One reason: what it is about, the day it names, the temperature in degrees C, its sources, and its sentence."""

    kind: Kind
    sentence: str
    day: date | None = None
    degrees_c: float | None = None
    sources: tuple[str, ...] = ()


def say_short(day: date) -> str:
    """Say a day without its year: ``12 May``."""
    return f"{day.day} {MONTHS[day.month - 1]}"


def say_degrees(degrees: float) -> str:
    """Say a temperature: ``12.8 degC``."""
    return f"{round(degrees, 1):g} degC"


def weeks_from_frost(figure: Figure, frost: date, share: float, day: date) -> WindowReason:
    """Return that a window's end is counted in weeks from a frost date."""
    weeks, which = figure.usual, "last" if figure.unit == "weeks after last frost" else "first"
    before = (figure.unit == "weeks before first frost") == (weeks > 0)
    count = f"{abs(round(weeks, 1)):g} {'week' if abs(round(weeks, 1)) == 1 else 'weeks'}"
    when = f"{count} {'before' if before else 'after'}" if weeks else "on"
    years = {0.1: "1 year in 10 has", 0.5: "1 year in 2 has", 0.9: "9 years in 10 have"}[share]
    worse = "after" if which == "last" else "before"
    sentence = f"{when} the {which} frost, {say_short(frost)} ({years} one {worse} it)"
    return WindowReason("weeks from frost", sentence, day, sources=figure.source)
