"""What ``begin`` asks: each question with the option that answers it, its proposal and its check."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from rotasolve.domain.catalogue import Catalogue
    from rotasolve.files.first_scenario import BedAnswer, CropAnswer

_KG = re.compile(r"^(?P<name>.*?)[,\s]\s*(?P<kg>\d+(?:\.\d+)?)\s*(?:kg)?$")
_SIZE = re.compile(r"\s*(?:,|\bx\b|×)\s*")  # noqa: RUF001 - a grower may type the multiplication sign
_PROPOSED_KG_PER_PERSON = {"potato": 10.0, "carrot": 3.0, "onion": 3.0, "leaf lettuce": 1.5, "pea": 1.5, "kale": 1.5}
"""A modest start for people who have never counted; common practice, and the file invites to change it."""


@dataclass(frozen=True)
class Prompt:
    """A question: its option, its words, and how an answer is read (ValueError says what is wrong)."""

    option: str
    words: str
    read: Callable[[str], Any]


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
    from rotasolve.domain.seasons import MONTHS, parse_day_of_year

    month, day = parse_day_of_year(text)
    return f"{day} {MONTHS[month - 1]}"


def read_whole(low: int, high: int, what: str) -> Callable[[str], int]:
    """Return a reader of whole numbers from ``low`` to ``high``."""

    def read(text: str) -> int:
        if not re.fullmatch(r"\s*\d{1,6}\s*", text) or not low <= int(text) <= high:
            raise ValueError(f"{what} must be a whole number from {low} to {high}, not '{text}'")
        return int(text)

    return read


def read_bed(text: str) -> BedAnswer:
    """Return a bed from ``name,length,width[,runs[,cover]]``."""
    from rotasolve.domain.bed import Bed
    from rotasolve.files.first_scenario import BedAnswer

    parts = [part.strip() for part in text.split(",")]
    if not 3 <= len(parts) <= 5 or not all(parts):
        raise ValueError(f"'{text}' is not a bed; write name,length,width such as \"bed 1,4 m,1.2 m\"")
    bed = BedAnswer(*parts)
    _check_bed(bed, Bed)
    return bed


def _check_bed(bed: BedAnswer, record: type) -> None:
    from pydantic import ValidationError

    from rotasolve.files.wording import say_error

    try:
        record(**bed._asdict())
    except ValidationError as refusal:
        told = ["; ".join(part for part in say_error(error, tuple(error["loc"])) if part) for error in refusal.errors()]
        raise ValueError(f"bed '{bed.name}': {'; '.join(told)}") from None


def read_size(text: str) -> tuple[str, str]:
    """Return length and width from ``4 m x 1.2 m``."""
    parts = _SIZE.split(text.strip())
    if len(parts) != 2:
        raise ValueError(f"'{text}' is not a size; write length x width, such as 4 m x 1.2 m or 12 ft x 4 ft")
    read_bed(f"bed,{parts[0]},{parts[1]}")
    return parts[0], parts[1]


def crop_reader(catalogue: Catalogue) -> Callable[[str], CropAnswer]:
    """Return a reader of ``name,kg`` that knows the crops of a catalogue."""
    from rotasolve.files.crop_names import CropNames
    from rotasolve.files.first_scenario import CropAnswer

    names = CropNames(catalogue.crops)

    def read(text: str) -> CropAnswer:
        match = _KG.match(text.strip())
        if match is None:
            raise ValueError(f"'{text}' is not a crop with kilograms; write name,kg such as \"carrot,5\"")
        found = names.find(match["name"])
        if found is None:
            raise ValueError("; ".join(names.trouble(match["name"])))
        if not 0 < float(match["kg"]) <= 10_000:
            raise ValueError(f"{found}: the harvest wished must be more than 0 and at most 10,000 kg")
        return CropAnswer(found, float(match["kg"]))

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
