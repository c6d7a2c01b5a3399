"""A line that tells of a change, with what it may speak of: the beds, the wishes and the days of a scenario's file."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any, NamedTuple

from rotasolve.domain.said_days import SAID, parse_said_day
from rotasolve.domain.seasons import year_start
from rotasolve.files.crop_names import fold
from rotasolve.files.document import quoted
from rotasolve.files.wording import did_you_mean

if TYPE_CHECKING:
    from datetime import date

    from rotasolve.domain.catalogue import Catalogue
    from rotasolve.files.crop_names import CropNames


class Told(NamedTuple):
    """A line's words behind its first one, and what they may speak of."""

    words: str
    data: dict[str, Any]
    catalogue: Catalogue
    names: CropNames
    today: date

    @property
    def beds(self) -> list[str]:
        """The names of the beds."""
        return [str(bed.get("name")) for bed in self.data.get("beds") or () if isinstance(bed, dict)]

    @property
    def first_year(self) -> int:
        """The first planned garden year."""
        return int(self.data["first_year"])

    @property
    def south(self) -> bool:
        """Whether the garden lies south of the equator."""
        return float(self.data["site"]["latitude"]) < 0

    def household(self, field: str) -> list[Any]:
        """Return a list of the household."""
        return (self.data.get("household") or {}).get(field) or []


def bed_and_rest(told: Told) -> tuple[int, str]:
    """Return the number of the bed that is named, from 0, and what is told of it.

    Raises
    ------
    ValueError
        If there is no such bed.
    """
    words = fold(told.words)
    for number, name in sorted(enumerate(told.beds), key=lambda one: -len(one[1])):
        if words == fold(name) or re.match(rf"{re.escape(fold(name))}[\s:,]", words):
            return number, told.words[len(name) :].strip(" :,")
    word = told.words.partition(":")[0]
    raise ValueError(
        f"there is no bed {quoted(word)}; {did_you_mean(word, told.beds) or 'the beds are: ' + ', '.join(told.beds)}"
    )


def _day(told: Told, words: str) -> str:
    since = year_start(told.first_year - 1, told.south)
    return parse_said_day(words, told.today, since).isoformat()


def days_in(told: Told, rest: str) -> list[str]:
    """Return the one or two days that some words name, in figures.

    Raises
    ------
    ValueError
        If they name none, or more.
    """
    days = [_day(told, match[0]) for match in SAID.finditer(rest)]
    if not 1 <= len(days) <= 2:
        raise ValueError(f"{quoted(rest)} names no day, or too many; write one as 12 May 2027")
    return days
