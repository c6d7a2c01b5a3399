"""Two diaries to one, by day: no line is lost, and none that stands in both is doubled."""

from __future__ import annotations

from collections import Counter
from collections.abc import Hashable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from rotasolve.errors import FileTrouble
from rotasolve.files.diary import CUT_OFF, NO_LETTER

if TYPE_CHECKING:
    from rotasolve.domain.diary import Happening
    from rotasolve.files.diary import DiaryFile, Line


@dataclass(frozen=True)
class Merged:
    """The text of a merged diary, how many lines only one of the two had, and what stands in both."""

    text: str
    only_first: int
    only_second: int
    in_both: tuple[Happening, ...]


def merged(first: DiaryFile, second: DiaryFile) -> Merged:
    """Return one diary of two, sorted by day.

    What both tell in the same words, or in other words for the same, stands there once; as often as the one that tells
    it more often, if somebody told it several times. On one day the first diary's lines come first. Comments and lines
    that cannot be read stay behind the line they followed.

    Raises
    ------
    FileTrouble
        If one of them has letters that are not written in UTF-8, which would be lost.
    """
    for file in (first, second):
        if any(NO_LETTER in line.text for line in file.lines):
            raise FileTrouble(f"{file.name}: not all letters are written in UTF-8; save it as UTF-8, then merge")
    mine, others = _dated(first.lines), _dated(second.lines)
    had = Counter(key for _, key, _ in mine)
    left = had.copy()
    news, both = [], []
    for day, key, line in others:
        if left[key] > 0:
            left[key] -= 1
            both += [line.told] if line.told is not None else []
        else:
            news.append((day, key, line))
    # Sorting keeps the order of lines with the same day.
    lines = sorted([*mine, *news], key=lambda one: one[0])
    text = "".join(f"{line.text}\n" for _, _, line in lines)
    told_mine = sum(line.told is not None for _, _, line in mine)
    told_news = sum(line.told is not None for _, _, line in news)
    return Merged(text, told_mine - len(both), told_news, tuple(both))


def _dated(lines: tuple[Line, ...]) -> list[tuple[str, Hashable, Line]]:
    """Return each line with the day it is sorted by and what it is compared by; empty lines are left out."""
    found: list[tuple[str, Hashable, Line]] = []
    day = ""
    for line in lines:
        words = " ".join(line.text.removesuffix(CUT_OFF).split())
        if not words:
            continue
        if line.told is not None:
            day = line.told.day.isoformat()
        found.append((day, line.told or words, line))
    return found
