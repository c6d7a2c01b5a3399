"""The months in which a crop is wished fresh, as growers write them: ``May-October``, ``from June to Sept``."""

from __future__ import annotations

import re
from typing import NamedTuple

from rotasolve.domain.seasons import MONTHS, parse_month

_NAME = (
    r"(?:"
    + "|".join(f"{month[:3]}(?:{month[3:]})?" for month in MONTHS if month != "September")
    + r"|Sept?(?:ember)?)\.?"
)
SPAN = re.compile(
    rf"\b(?:fresh\s+)?(?:from\s+)?({_NAME})\s*(?:-|\u2013|to|until|till)\s*({_NAME})(?!\w)", re.IGNORECASE
)
_ONE = re.compile(rf"\b(?:fresh\s+)?(?:in\s+)({_NAME})(?!\w)", re.IGNORECASE)


class Months(NamedTuple):
    """The first and the last month, by their names."""

    first: str
    last: str


def take_months(text: str) -> tuple[str, Months | None]:
    """Return the text without the months it names, and those; None if it names none."""
    match = SPAN.search(text) or _ONE.search(text)
    if match is None:
        return text, None
    names = [MONTHS[parse_month(name.rstrip(".")[:3]) - 1] for name in match.groups()]
    return f"{text[: match.start()]} {text[match.end() :]}".strip(), Months(names[0], names[-1])
