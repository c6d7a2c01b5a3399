"""Crop names as growers write them: other names, plurals and spellings lead to the catalogue's name."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.domain.spelling import spelling_key
from rotasolve.files.document import quoted
from rotasolve.files.wording import did_you_mean

if TYPE_CHECKING:
    from collections.abc import Iterable

    from rotasolve.domain.crop import Crop

FAMILY_MARK = "family:"
"""What a host, or a side of a remark, begins with if it names a family instead of a crop."""
_MOST_HINTS = 100
"""Names for which the nearest known one is looked for: that takes a thousand times as long as to find a name."""


class CropNames:
    """The names and other names of some crops.

    A crop's own name goes before another crop's second name. A second name that several crops bear leads nowhere:
    ``trouble`` asks which of them is meant.
    """

    def __init__(self, crops: Iterable[Crop]) -> None:
        listed = list(crops)
        self._exact: dict[str, str] = {crop.name: crop.name for crop in listed}
        self._meant: dict[str, dict[str, None]] = {}
        for crop in listed:
            for other in crop.also:
                self._meant.setdefault(spelling_key(other), {})[crop.name] = None
        for crop in listed:
            self._meant[spelling_key(crop.name)] = {crop.name: None}
        self._spellings = [name for crop in listed for name in (crop.name, *crop.also)]
        self._hints: dict[str, str] = {}
        self.most_words = max((len(name.replace("-", " ").split()) for name in self._spellings), default=0)

    def find(self, word: str) -> str | None:
        """Return the catalogue's name for a crop, or None if it is not known or may be one of several."""
        exact, meant = self._exact.get(word), self.meant(word)
        return exact or (meant[0] if len(meant) == 1 else None)

    def meant(self, word: str) -> tuple[str, ...]:
        """Return the catalogue's names of all crops that a word may mean."""
        return tuple(self._meant.get(spelling_key(word), ()))

    def hint(self, word: str) -> str:
        """Return ``did you mean 'x'?``, which crops the word may mean, or an empty text."""
        meant = self.meant(word)
        if len(meant) > 1:
            return f"write {' or '.join(quoted(name) for name in meant)}"
        if word not in self._hints and len(self._hints) < _MOST_HINTS:
            self._hints[word] = did_you_mean(word, self._spellings)
        return self._hints.get(word, "")

    def trouble(self, word: str, otherwise: str = "'rotasolve crops' lists all") -> tuple[str, str]:
        """Return (what is wrong, how to mend it) of a word that ``find`` does not lead to a crop."""
        what = "may mean several crops" if len(self.meant(word)) > 1 else "is not known"
        return f"the crop {quoted(word)} {what}", self.hint(word) or otherwise


def fold(word: str) -> str:
    """Return a name as it is compared: without regard to case and to the number of spaces."""
    return " ".join(word.casefold().split())
