"""Crop names as growers write them: other names and upper or lower case lead to the catalogue's name."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.files.wording import did_you_mean

if TYPE_CHECKING:
    from collections.abc import Iterable

    from rotasolve.domain.crop import Crop

FAMILY_MARK = "family:"
"""What a host, or a side of a remark, begins with if it names a family instead of a crop."""


class CropNames:
    """The names and other names of some crops."""

    def __init__(self, crops: Iterable[Crop]) -> None:
        self._canonical: dict[str, str] = {}
        listed = list(crops)
        # A crop's own name goes before another crop's second name.
        for crop in listed:
            for other in crop.also:
                self._canonical.setdefault(fold(other), crop.name)
        for crop in listed:
            self._canonical[fold(crop.name)] = crop.name
        self._spellings = [name for crop in listed for name in (crop.name, *crop.also)]

    def find(self, word: str) -> str | None:
        """Return the catalogue's name for a crop, or None if it is not known."""
        return self._canonical.get(fold(word))

    def hint(self, word: str) -> str:
        """Return ``did you mean 'x'?``, or an empty text."""
        return did_you_mean(word, self._spellings)


def fold(word: str) -> str:
    """Return a name as it is compared: without regard to case and to the number of spaces."""
    return " ".join(word.casefold().split())
