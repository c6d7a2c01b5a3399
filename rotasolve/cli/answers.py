"""How answers to plain questions are read: titles, latitudes, days of the year, whole numbers."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from rotasolve.domain.catalogue import Catalogue

_PROPOSED_KG_PER_PERSON = {"potato": 10.0, "carrot": 3.0, "onion": 3.0, "leaf lettuce": 1.5, "pea": 1.5, "kale": 1.5}
"""A modest start for people who have never counted; common practice, and the file invites to change it."""


def read_title(text: str) -> str:
    """Return a title of 1 to 120 letters."""
    if not 1 <= len(text.strip()) <= 120:
        raise ValueError("a title has 1 to 120 letters")
    return text.strip()


def read_latitude(text: str) -> float:
    """Return degrees, south negative; ``52.5``, ``41 S`` and ``52,5 N`` are read."""
    match = re.match(r"^\s*([-+]?\d+(?:[.,]\d+)?)\s*°?\s*(?:degrees)?\s*([NSns]?)\w*\s*$", text)
    if match is None:
        raise ValueError(f"'{text}' is not a latitude; write degrees such as 52.5, or -41 south of the equator")
    value = float(match[1].replace(",", "."))
    value = -abs(value) if match[2].lower() == "s" else value
    if not -66 <= value <= 66:
        raise ValueError(f"the latitude must lie between -66 and 66 degrees, not {value:g}")
    return value


def read_day_of_year(text: str) -> str:
    """Return a day of the year as it was written, after a check."""
    from rotasolve.domain.said_days import FIGURES, parse_said_day
    from rotasolve.domain.seasons import MONTHS, parse_day_of_year

    if FIGURES.fullmatch(text.strip()):
        said = parse_said_day(text, date.today())
        return f"{said.day} {MONTHS[said.month - 1]}"
    month, day = parse_day_of_year(text)
    return f"{day} {MONTHS[month - 1]}"


def read_whole(low: int, high: int, what: str) -> Callable[[str], int]:
    """Return a reader of whole numbers from ``low`` to ``high``."""

    def read(text: str) -> int:
        if not re.fullmatch(r"\s*\d{1,6}\s*", text) or not low <= int(text) <= high:
            raise ValueError(f"{what} must be a whole number from {low} to {high}, not '{text}'")
        return int(text)

    return read


def proposed_crops(people: int | None, catalogue: Catalogue) -> str:
    """Return a short list of crops with kilograms for so many people, as it could be typed."""
    known = {crop.name for crop in catalogue.crops}
    heads = people or 2
    return ", ".join(f"{name} {kg * heads:g}" for name, kg in _PROPOSED_KG_PER_PERSON.items() if name in known)


def proposed_year(today: date, latitude: float) -> int:
    """Return the garden year that a grower most likely plans: this one in its first months, else the next."""
    # A southern garden year begins in July and carries that July's year.
    last_month = 9 if latitude < 0 else 3
    return today.year if today.month <= last_month else today.year + 1
