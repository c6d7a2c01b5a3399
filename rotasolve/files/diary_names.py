"""The names that a diary may use: the crops, beds and diseases of a garden, as growers write them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.domain.strips import strips_in_bed
from rotasolve.files.crop_names import CropNames, fold
from rotasolve.files.wording import did_you_mean

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from rotasolve.domain.catalogue import Catalogue
    from rotasolve.domain.scenario import Scenario

_MOST_HINTS = 100
"""Names for which the nearest known one is looked for: that takes a thousand times as long as to find a name."""


class Known:
    """Names of beds or diseases, found whatever their case and spaces."""

    def __init__(self, names: Iterable[str]) -> None:
        self._found: dict[str, str] = {}
        self._spelled: dict[str, str] = {}
        for name in names:
            self._found.setdefault(fold(name), name)
            self._spelled.setdefault(name, name)
        self.most_words = max((len(name.split()) for name in self._found), default=0)
        self._hints: dict[str, str] = {}

    def find(self, words: str) -> str | None:
        """Return the name that some words mean, or None."""
        return self._spelled.get(words) or self._found.get(fold(words))

    def hint(self, words: str) -> str:
        """Return ``did you mean 'x'?``, or an empty text."""
        if words not in self._hints and len(self._hints) < _MOST_HINTS:
            self._hints[words] = did_you_mean(words, self._spelled)
        return self._hints.get(words, "")


class DiaryNames:
    """The crops, beds and diseases of a garden; ``only_bed`` is its bed if it has no second one."""

    def __init__(self, scenario: Scenario, catalogue: Catalogue) -> None:
        crops, beds = catalogue.crops, scenario.beds
        self.crops = CropNames(crops)
        self.beds = Known(bed.name for bed in beds)
        self.diseases = Known(pathogen.name for pathogen in catalogue.pathogens)
        self.strips = {bed.name: strips_in_bed(bed) for bed in beds}
        self.only_bed = beds[0].name if len(beds) == 1 else None
        self.south = scenario.site.south

    def known_beds(self, most: int = 12) -> str:
        """Return the beds as a hint: ``the beds are: left, right``."""
        names: Sequence[str] = list(self.strips)
        return f"the beds are: {', '.join(names[:most])}{', ...' if len(names) > most else ''}"
