"""What changes from one plan to another: each planting with the one it became."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from rotasolve.domain.edits import digest_of
from rotasolve.domain.moves import Changes, CropKg, Move

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from rotasolve.domain.plan import Planting

_OTHER_BED = 1_000
_PER_STRIP = 10
_LEAST_KG = 0.01


def changes_between(before: Sequence[Planting], after: Sequence[Planting], south: bool) -> Changes:
    """Return which plantings of the one plan became which of the other.

    Equal plantings are matched first. Of the others, those of the same crop started in the same garden year belong
    together, the nearest first: in the same bed before in another, by few strips and days before by many. What was
    started on the same day in the same strips is one planting, whenever it is cleared.
    """
    alike = Counter(digest_of(p) for p in before) & Counter(digest_of(p) for p in after)
    old, new = _less(before, alike), _less(after, alike)
    pairs = sorted(
        (_distance(one, other), number, place)
        for number, one in enumerate(old)
        for place, other in enumerate(new)
        if one.crop == other.crop and one.begins_in(south) == other.begins_in(south)
    )
    became: dict[int, int] = {}
    for _, number, place in pairs:
        if number not in became and place not in became.values():
            became[number] = place
    moves = [
        Move(before=one, after=new[became[number]] if number in became else None) for number, one in enumerate(old)
    ]
    fresh = [other for place, other in enumerate(new) if place not in became.values()]
    return Changes(moves=tuple(moves), new=tuple(fresh), unchanged=alike.total())


def harvest_between(before: Iterable[Planting], after: Iterable[Planting]) -> tuple[CropKg, ...]:
    """Return the kilograms that a usual year brings more or less of each crop, from 10 g on; most first."""
    kg: dict[str, float] = {}
    for sign, plantings in ((-1, before), (1, after)):
        for planting in plantings:
            kg[planting.crop] = kg.get(planting.crop, 0.0) + sign * planting.harvest.typical_kg
    found = [CropKg(crop=crop, kg=round(more, 3)) for crop, more in kg.items() if abs(more) >= _LEAST_KG]
    return tuple(sorted(found, key=lambda each: (-each.kg, each.crop)))


def _less(plantings: Sequence[Planting], alike: Counter[str]) -> list[Planting]:
    left, found = Counter(alike), []
    for planting in plantings:
        digest = digest_of(planting)
        if left[digest]:
            left[digest] -= 1
        else:
            found.append(planting)
    return found


def _distance(one: Planting, other: Planting) -> int:
    if (one.bed, one.strips, one.start) == (other.bed, other.strips, other.start):
        # A crop that failed is cleared long before its time, and may be started anew where it stood.
        return 0
    days = abs((one.start - other.start).days) + abs((one.clear - other.clear).days)
    strips = len(set(one.strips) ^ set(other.strips)) if one.bed == other.bed else 0
    return days + _PER_STRIP * strips + _OTHER_BED * (one.bed != other.bed)
