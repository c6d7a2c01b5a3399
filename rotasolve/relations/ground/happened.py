"""Which planting of a plan each line of a diary speaks of."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from rotasolve.domain.diary import STARTS

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence
    from datetime import date

    from rotasolve.domain.diary import Diary, Happening, Kind
    from rotasolve.domain.plan import Planting

FAR_DAYS = 60
"""A line told of a crop in a bed so many days before or after a planting stands there speaks of another one: a
judgement, for no source counts days."""
_INDOORS: tuple[Kind, ...] = ("sown indoors", "potted on", "hardened off")
_WAY: dict[Kind, str] = {"sown": "sown in place", "set out": "set out"}


@dataclass(frozen=True)
class Happened:
    """What a diary tells of one planting, by day."""

    planting: Planting
    told: tuple[Happening, ...] = ()

    def of(self, *kinds: Kind) -> tuple[Happening, ...]:
        """Return what is told of some kinds, by day."""
        return tuple(one for one in self.told if one.kind in kinds)

    @property
    def started(self) -> date | None:
        """The day on which it was sown in place, planted or set out; None if that is not told."""
        return next((one.day for one in self.of(*STARTS)), None)

    @property
    def ended(self) -> date | None:
        """The day on which its ground was given back: cleared, dug in or failed altogether; None if not told."""
        return next((one.day for one in self.told if _ends(one, self.planting)), None)

    @property
    def lost_plants(self) -> int:
        """How many of its plants are told to have failed; all if a line of failure counts none."""
        plants = self.planting.plants
        lost = sum(plants if one.plants is None else one.plants for one in self.of("failed"))
        return min(plants, lost)


def happened_to(plantings: Sequence[Planting], diary: Diary) -> tuple[tuple[Happened, ...], tuple[Happening, ...]]:
    """Return what the diary tells of each planting, in their order, and what speaks of a crop but of none of them.

    A line speaks of the plantings of its crop, its bed and its strips, as far as these are told, that are nearest to
    its day: of several if they stand there alike. Lines without a crop speak of no planting.
    """
    told: dict[int, list[Happening]] = {number: [] for number in range(len(plantings))}
    of_crop: dict[str, list[int]] = {}
    for number, planting in enumerate(plantings):
        of_crop.setdefault(planting.crop, []).append(number)
    left = []
    for one in diary.happenings:
        if one.crop is None or one.trouble is not None:
            continue
        far = {number: _days_off(one, plantings[number]) for number in of_crop.get(one.crop, ())}
        nearest = min((days for days in far.values() if days is not None), default=None)
        if nearest is None or nearest > FAR_DAYS:
            left.append(one)
            continue
        spoken_of = [number for number, days in far.items() if days == nearest]
        for number, part in zip(spoken_of, _shared(one, [plantings[number] for number in spoken_of]), strict=True):
            told[number].append(part)
    return tuple(Happened(planting, tuple(told[number])) for number, planting in enumerate(plantings)), tuple(left)


def _shared(told: Happening, plantings: list[Planting]) -> list[Happening]:
    """Return a line for each planting it speaks of; plants that failed are shared out by how many each has."""
    if told.kind != "failed" or told.plants is None or len(plantings) == 1:
        return [told] * len(plantings)
    parts, left, whole = [], told.plants, sum(planting.plants for planting in plantings)
    for planting in plantings:
        part = round(left * planting.plants / whole) if whole else 0
        left, whole = left - part, whole - planting.plants
        parts.append(replace(told, plants=part))
    return parts


def _days_off(told: Happening, planting: Planting) -> int | None:
    """Return how many days lie between what is told and when a planting could have it; None if it is not its own."""
    if told.bed not in (None, planting.bed) or (told.strips and not set(told.strips) & set(planting.strips)):
        return None
    if told.kind in _INDOORS:
        if planting.raise_from is None:
            return None
        first, last = planting.raise_from, planting.start
    elif told.kind in STARTS:
        if planting.way != _WAY.get(told.kind, planting.way):
            return None
        first = last = planting.start
    elif told.kind == "picked":
        first, last = planting.first_harvest or planting.start, planting.clear
    else:
        first, last = planting.start, planting.clear
    return max(0, (first - told.day).days, (told.day - last).days)


def _ends(told: Happening, planting: Planting) -> bool:
    whole = told.plants is None or told.plants >= planting.plants
    on_all = not told.strips or set(planting.strips) <= set(told.strips)
    return told.kind in ("cleared", "dug in", "failed") and whole and on_all


def first_day(happenings: Iterable[Happening]) -> date | None:
    """Return the first day of which anything is told; None if nothing is."""
    return min((one.day for one in happenings), default=None)
