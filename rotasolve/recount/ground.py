"""How a bed is cut and what it holds, counted anew: strips, rows and plants are laid down one after the other."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from rotasolve.domain.seasons import period_of

if TYPE_CHECKING:
    from collections.abc import Container

    from rotasolve.domain.bed import Bed
    from rotasolve.domain.crop import Crop
    from rotasolve.domain.plan import Plan
    from rotasolve.domain.scenario import Scenario

SHORT_OF_ROOM = 0.02
"""The part of its distance that a row, or a plant, may be short of room: common practice, no source."""
_SLACK_CM = 1e-4
"""Lengths in feet and inches are not whole millimetres: so much is nothing."""
_NOTHING = 1e-9
_LONG_BEFORE = 24 * 10
"""Half months: nothing from before a plan has stood for longer than ten years."""


@dataclass(frozen=True)
class Cut:
    """A bed's parts from west to east, the strips in each, and the size of one strip in cm."""

    parts: int
    strips_in_part: int
    depth_cm: float
    breadth_cm: float

    @property
    def strips(self) -> int:
        """Return all strips of the bed."""
        return self.parts * self.strips_in_part

    def place(self, strip: int) -> tuple[int, int]:
        """Return the part of a strip (1 is the western one) and its place in it (1 is on the pole side)."""
        part, deep = 1, max(1, self.strips_in_part)
        while strip > part * deep:
            part += 1
        return part, strip - (part - 1) * deep

    def block(self, strips: tuple[int, ...]) -> tuple[int, int] | None:
        """Return how many strips deep and how many parts broad strips lie; None if they leave a gap, or overlap."""
        columns: dict[int, set[int]] = {}
        for strip in strips:
            part, row = self.place(strip)
            columns.setdefault(part, set()).add(row)
        like = [sorted(rows) for rows in columns.values()]
        if not like or any(rows != like[0] for rows in like) or len(strips) != len(like) * len(like[0]):
            return None
        rows, parts = like[0], sorted(columns)
        whole = rows[-1] - rows[0] == len(rows) - 1 and parts[-1] - parts[0] == len(parts) - 1
        return (len(rows), len(parts)) if whole else None


def cut_of(bed: Bed) -> Cut:
    """Return how a bed is cut: strips as deep as asked, else about 60 cm (frame: 30 cm); a part for each 3 m begun."""
    deep, broad = (bed.length, bed.width) if bed.runs == "north-south" else (bed.width, bed.length)
    if bed.strip is None:
        strips = max(1, round(deep / (30 if bed.cover == "cold frame" else 60)))
        depth = deep / strips
    else:
        strips, depth = _how_many(bed.strip, deep + _SLACK_CM), bed.strip
    parts = bed.parts or _how_many(300.0, broad - _SLACK_CM) + 1
    return Cut(parts, strips, depth, broad / parts)


def _how_many(piece_cm: float, room_cm: float) -> int:
    laid = 0
    while (laid + 1) * piece_cm <= room_cm:
        laid += 1
    return laid


def _rows(distance_cm: float, room_cm: float) -> int:
    """Return how many rows fit, the last of them perhaps a little short of room."""
    return _how_many(distance_cm, room_cm + (SHORT_OF_ROOM + _NOTHING) * distance_cm)


def plants_in_a_row(crop: Crop, cut: Cut, parts: int = 1) -> int:
    """Return how many plants a row across so many parts of the bed holds."""
    return _rows(crop.spacing_in_row.usual, parts * cut.breadth_cm)


def rows_that_fit(crop: Crop, cut: Cut, strips: int) -> int:
    """Return how many whole rows a block of so many neighbouring strips holds."""
    return _rows(crop.spacing_between_rows.usual, strips * cut.depth_cm)


def least_rows(crop: Crop) -> int:
    """Return the fewest rows in which a crop is planted."""
    return 1 if crop.least_rows is None else round(crop.least_rows.usual)


def gap_to_pole_side_cm(caster: Bed, receiver: Bed, south: bool) -> float | None:
    """Return the clear cm from a bed to one on its pole side; None if that one is not there, or a place is unknown."""
    if caster.east is None or caster.north is None or receiver.east is None or receiver.north is None:
        return None
    one, other = ((b.length, b.width) if b.runs == "north-south" else (b.width, b.length) for b in (caster, receiver))
    if caster.east + one[1] <= receiver.east or receiver.east + other[1] <= caster.east:
        return None
    gap = caster.north - receiver.north - other[0] if south else receiver.north - caster.north - one[0]
    return gap if gap >= 0 else None


def covered(scenario: Scenario, plan: Plan, periods: Container[int]) -> set[tuple[str, int, int]]:
    """Return the (bed, strip, half month) in which something stands, of a plan or from before it.

    A set, because a plan that breaks rules may put two crops on one strip.
    """
    strips = {bed.name: range(1, cut_of(bed).strips + 1) for bed in scenario.beds}
    taken = [(one.bed, one.strips, period_of(one.start), period_of(one.clear)) for one in plan.plantings]
    for old in scenario.history:
        if old.until is not None and old.bed in strips:
            last = period_of(old.until)
            taken.append((old.bed, old.strips or tuple(strips[old.bed]), last - _LONG_BEFORE, last))
    return {
        (bed, strip, period)
        for bed, wanted, first, last in taken
        for period in range(first, last + 1)
        if period in periods
        for strip in wanted
        if strip in strips.get(bed, ())
    }
