"""A line that tells what grew in a bed: ``2026 potatoes, kale; 2025 onions``, or ``beans`` for the last year."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, NamedTuple

from rotasolve.files.document import quoted
from rotasolve.files.told_wishes import find_crop_told

if TYPE_CHECKING:
    from rotasolve.files.crop_names import CropNames

_YEAR = re.compile(r"(?<!\d)((?:19|20|21)\d{2})(?:/\d{2})?(?!\d)\s*:?")
_BETWEEN = re.compile(r"\s*(?:[,;]|\band\b|\bthen\b)\s*", re.IGNORECASE)
_NOTHING = frozenset(
    {"nothing", "fallow", "none", "empty", "grass", "lawn", "bare", "unknown", "don't know", "not known"}
)


class PastFaults(ValueError):
    """What of a line cannot be read: every fault, and the right and the wrong part of it as it may be typed again."""

    def __init__(self, faults: list[str], kept: list[str], wrong: list[str]) -> None:
        self.faults, self.kept, self.wrong = tuple(faults), "; ".join(kept), "; ".join(wrong)
        super().__init__("\n".join(faults))


class Grew(NamedTuple):
    """A crop that grew in a garden year."""

    crop: str
    year: int


def read_past_line(text: str, names: CropNames, last_year: int) -> tuple[Grew, ...]:
    """Return what grew, latest year first as it was told.

    Parameters
    ----------
    text
        Years with crops behind each; crops without a year grew in the last one.
    names
        How crops may be called.
    last_year
        The garden year before the first planned one: later years are no past.

    Raises
    ------
    PastFaults
        With all faults.
    """
    found: list[Grew] = []
    faults: list[str] = []
    wrong: list[str] = []
    marks = [*_YEAR.finditer(text)]
    pieces = [(last_year, text[: marks[0].start()] if marks else text)]
    for mark, after in zip(marks, [*marks[1:], None], strict=False):
        pieces.append((int(mark[1]), text[mark.end() : after.start() if after else len(text)]))
    for year, crops in pieces:
        words = [word.strip(" .:") for word in _BETWEEN.split(crops) if word.strip(" .:")]
        if words and not last_year - 20 <= year <= last_year:
            faults.append(f"{year} is no year from {last_year - 20} to {last_year}, the last one before the plan")
            wrong.append(f"{year} {', '.join(words)}")
            continue
        for word in words:
            if word.casefold() in _NOTHING:
                continue
            try:
                found.append(Grew(find_crop_told(word, names), year))
            except ValueError as refusal:
                faults.append(str(refusal))
                wrong.append(f"{year} {word}")
    if faults:
        raise PastFaults(faults, [f"{one.year} {one.crop}" for one in found], wrong)
    if text.strip() and not found and not any(word in text.casefold() for word in _NOTHING):
        raise PastFaults([f"{quoted(text)} names no crop; write it as 2026 potatoes, kale; 2025 onions"], [], [text])
    return tuple(dict.fromkeys(found))
