"""Which part of the garden moves next: parts small enough to solve in a second or two, of several kinds."""

from __future__ import annotations

import random
from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from rotasolve.relations.household.wanted import counted_kg, wish_by_crop

if TYPE_CHECKING:
    from rotasolve.relations.ground.garden import Choice, Garden

Picks = Callable[["Choice"], bool]


class Neighbourhoods:
    """Draws parts, favouring the kinds that have helped lately. The same seed and plans draw the same parts.

    With ``short_first`` crops that are short of their target in a year are drawn more often: there are points to be won
    in a plan that is laid out. Plans of counts came out worse with it (family garden). With ``years`` only crops of
    these years move.
    """

    def __init__(
        self, garden: Garden, seed: int, most: int, short_first: bool = False, years: tuple[int, ...] = ()
    ) -> None:
        self._garden = garden
        self._only, self._years = frozenset(years), years or garden.scenario.planned_years
        self._random = random.Random(seed)
        self._kinds: dict[str, Callable[[], Picks]] = {
            "one or two beds": self._one_bed,
            "some beds in a year": self._some_beds,
            "some crops in a year": self._crops_in_year,
            "some crops": self._some_crops,
            "some crops in some beds": self._crops_in_beds,
        }
        if short_first:
            self._kinds["short crops in a year"] = self._short_in_year
        self._short: dict[tuple[str, int], float] = {}
        green = {name for name, crop in garden.crops.items() if crop.green_manure}
        self._covers = [n for n, choice in enumerate(garden.choices) if choice.sowing.crop in green]
        self._luck = dict.fromkeys(self._kinds, 1.0)
        self._most = dict.fromkeys(self._kinds, float(most))

    def draw(self, values: Sequence[int]) -> tuple[str, frozenset[int]]:
        """Return a kind and the numbers of the choices that may move, as many as parts of that kind may hold.

        ``values`` are those of the plan that is to become better.
        """
        if "short crops in a year" in self._kinds:
            self._short = shortages(self._garden, values)
        kind = self._random.choices(list(self._luck), list(self._luck.values()))[0]
        picks = self._kinds[kind]()
        numbers = [n for n, choice in enumerate(self._garden.choices) if picks(choice) and self._may_move(choice)]
        most = int(self._most[kind])
        if len(numbers) > most:
            crops = sorted({self._garden.choices[n].sowing.crop for n in numbers})
            kept = set(self._random.sample(crops, max(1, len(crops) * most // len(numbers))))
            numbers = [n for n in numbers if self._garden.choices[n].sowing.crop in kept]
        return kind, frozenset(numbers) | self._covers_beside(values, numbers)

    def _covers_beside(self, values: Sequence[int], numbers: Sequence[int]) -> frozenset[int]:
        """Return the green manures that stand in the beds of a part, and their other ends: they may give way."""
        choices, beds = self._garden.choices, {self._garden.choices[n].bed for n in numbers}
        here = [n for n in self._covers if choices[n].bed in beds and self._may_move(choices[n])]
        standing = {(choices[n].bed, choices[n].sowing.crop, choices[n].sowing.start) for n in here if values[n]}
        return frozenset(
            n for n in here if (choices[n].bed, choices[n].sowing.crop, choices[n].sowing.start) in standing
        )

    def _may_move(self, choice: Choice) -> bool:
        return not self._only or choice.sowing.crop_year in self._only

    def learn(self, kind: str, helped: bool, finished: bool, size: int) -> None:
        """Remember whether a kind has helped (no kind ever dies out) and how large its parts may be.

        A part that was solved to the end leaves room for a larger one; one that was not was too large.
        """
        self._luck[kind] = max(0.15, 0.8 * self._luck[kind] + (0.6 if helped else 0.0))
        if not finished:
            self._most[kind] = max(60.0, 0.8 * self._most[kind])
        elif size > 0.5 * self._most[kind]:
            self._most[kind] = min(20_000.0, 1.15 * self._most[kind])

    def _beds(self, least: int, most: int) -> set[str]:
        beds = list(self._garden.beds)
        return set(self._random.sample(beds, min(len(beds), self._random.randint(least, most))))

    def _crops(self, least: int, most: int) -> set[str]:
        crops = sorted(self._garden.wanted)
        return set(self._random.sample(crops, min(len(crops), self._random.randint(least, most))))

    def _year(self) -> int:
        return self._random.choice(self._years)

    def _one_bed(self) -> Picks:
        beds = self._beds(1, 2)
        return lambda choice: choice.bed in beds

    def _some_beds(self) -> Picks:
        beds, year = self._beds(2, 5), self._year()
        return lambda choice: choice.bed in beds and choice.sowing.crop_year == year

    def _crops_in_year(self) -> Picks:
        crops, year = self._crops(6, 14), self._year()
        return lambda choice: choice.sowing.crop in crops and choice.sowing.crop_year == year

    def _short_in_year(self) -> Picks:
        short = [place for place, points in self._short.items() if points]
        if not short:
            return self._crops_in_year()
        crop, year = self._random.choices(short, [self._short[place] for place in short])[0]
        crops = self._garden.meeting(crop) | self._crops(5, 11)
        return lambda choice: choice.sowing.crop in crops and choice.sowing.crop_year == year

    def _some_crops(self) -> Picks:
        crops = self._crops(3, 7)
        return lambda choice: choice.sowing.crop in crops

    def _crops_in_beds(self) -> Picks:
        crops, beds = self._crops(5, 10), self._beds(3, 6)
        return lambda choice: choice.sowing.crop in crops and choice.bed in beds


def worth_of(garden: Garden, choice: Choice) -> int:
    """Return roughly what a planting is worth beside others of its bed: its share of a wish, in per cent."""
    household = garden.scenario.household
    wishes = [target for target in household.targets if choice.sowing.crop in garden.meeting(target.crop)]
    kg = counted_kg(garden.harvest_of(choice), household)
    return 5 + sum(round(100 * target.weight * min(1.0, kg / target.kg)) for target in wishes)


def shortages(garden: Garden, values: Sequence[int]) -> dict[tuple[str, int], float]:
    """Return how far each target is missed in each garden year, as a share of 1 times its weight."""
    household = garden.scenario.household
    got: dict[tuple[str, int], float] = {}
    wish_of = wish_by_crop(garden)
    for choice, taken in zip(garden.choices, values, strict=False):
        if taken:
            place = (wish_of.get(choice.sowing.crop, choice.sowing.crop), choice.sowing.crop_year)
            got[place] = got.get(place, 0.0) + counted_kg(garden.harvest_of(choice), household)
    return {
        (target.crop, year): max(0.0, 1 - got.get((target.crop, year), 0.0) / target.kg) * target.weight
        for target in household.targets
        for year in garden.scenario.planned_years
    }
