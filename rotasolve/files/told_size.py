"""The size of a bed as growers write it: ``6x1.2``, ``20 by 4 ft``, ``6 m x 1.2 m``, ``4 ft 6 in by 12 ft``."""

from __future__ import annotations

import re
from typing import NamedTuple

from rotasolve.domain.measures import parse_length
from rotasolve.errors import Unusable
from rotasolve.files.document import quoted

_UNIT = r"(?:metres?|meters?|inches|inch|feet|foot|cm|mm|ft|in|m|\"|'|\u2032|\u2033)(?![a-z])"
_NUMBER = r"\d+(?:[.,]\d+)?"
_LENGTH = rf"{_NUMBER}\s*(?:{_UNIT})?(?:\s*\d+(?:\.\d+)?\s*(?:inches|inch|in|\"|\u2033)(?![a-z]))?"
_BETWEEN = r"\s*(?:x|\u00d7|\*|by|and)\s*"
SIZE = re.compile(rf"(?<![\w.])({_LENGTH}){_BETWEEN}({_LENGTH})", re.IGNORECASE)
_LAST_UNIT = re.compile(rf"({_UNIT})\s*$", re.IGNORECASE)
_OTHER_WORDS = {"metre": "m", "metres": "m", "meter": "m", "meters": "m", "\u2032": "'", "\u2033": '"'}
WIDEST_IN_METRES = 3.0
"""A bed is seldom wider than this, so that a larger number without a unit may be feet: common practice, no source."""
HINT = "write length x width, such as 6 x 1.2 m or 20 x 4 ft"


class Size(NamedTuple):
    """Two lengths with their units, as a scenario file writes them, the longer one first."""

    length: str
    width: str

    @property
    def m2(self) -> float:
        """The area in m2."""
        return parse_length(self.length) * parse_length(self.width) / 10_000


def read_size(first: str, second: str) -> Size:
    """Return the size that two lengths make; one without a unit has that of the other, or is in metres.

    Raises
    ------
    Unusable
        If it is not clear what is meant.
    """
    one, other = _tidy(first), _tidy(second)
    units = [match[1] for match in map(_LAST_UNIT.search, (one, other)) if match]
    if not units:
        if min(float(one), float(other)) > WIDEST_IN_METRES:
            raise Unusable(f"{quoted(f'{one} x {other}')} has no unit", f"write {one} x {other} ft, or m, or cm")
        units = ["m"]
    lengths = [length if _LAST_UNIT.search(length) else f"{length} {units[0]}" for length in (one, other)]
    for length in lengths:
        parse_length(length)
    lengths.sort(key=parse_length, reverse=True)
    return Size(*lengths)


def _tidy(text: str) -> str:
    """Return a length with points for commas, and units as the scenario knows them."""
    text = re.sub(r"(?<=\d),(?=\d)", ".", text.strip().lower())
    text = re.sub(_UNIT, lambda match: _OTHER_WORDS.get(match[0], match[0]), text)
    return re.sub(r"(?<=\d)(?=[a-z])", " ", text)
