"""From a plan to the solver's numbers: a start for a search in the same garden, or in one much like it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.referee import blank_plan, breaches_of
from rotasolve.relations.ground.lie_of_beds import rectangle_of
from rotasolve.solver.parts import LaidOut

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rotasolve.domain.plan import Planting
    from rotasolve.relations.ground.garden import Garden
    from rotasolve.relations.ground.sowings import Sowing
    from rotasolve.solver.arrange import StripRuns

_ENOUGH = 0.5
"""A start that holds less than this share of a plan is worse than none: counting anew finds more than mending."""
_MOST_ROUNDS = 20


def known_plan(garden: Garden, plantings: Sequence[Planting]) -> LaidOut | None:
    """Return the garden's kept plantings with as many of the others as fit, as the solver holds a plan.

    None if few of them do. Whether every rule holds is for the search to see: this is a start, not a plan.
    """
    taking = _Taking(garden)
    for bed, sowings in garden.sowings_by_bed.items():
        for sowing in sowings:
            if sowing.kept is not None and sowing.kept.held:
                taking.take(bed, sowing, sowing.kept.strips)
    decided = {_place(planting) for planting in garden.kept}
    for planting in _beside_kept(garden, [planting for planting in plantings if _place(planting) not in decided]):
        meant = _sowing_for(garden, planting)
        if meant is not None:
            taking.take(planting.bed, meant, planting.strips)
    return taking.laid_out() if taking.plantings >= _ENOUGH * len(plantings) else None


def _sowing_for(garden: Garden, planting: Planting) -> Sowing | None:
    """Return the sowing as which a planting may stand: as it was, or as any block of its crop may."""
    meant = (planting.crop, planting.way, planting.start, planting.clear)
    found = [sowing for sowing in garden.sowings_by_bed[planting.bed] if _days(sowing) == meant]
    for sowing in found:
        kept = sowing.kept
        if kept is not None and not kept.held and (kept.strips, kept.plants) == (planting.strips, planting.plants):
            return sowing
    whole = garden.room_for(planting.crop, planting.bed, planting.strips) == planting.plants
    return next((sowing for sowing in found if sowing.kept is None), None) if whole else None


class _Taking:
    """The solver's numbers, filled planting by planting."""

    def __init__(self, garden: Garden) -> None:
        self.plantings = 0
        self._values = [0] * len(garden.choices)
        self._places: dict[str, StripRuns] = {bed: {} for bed in garden.beds if bed not in garden.exact_beds}
        self._garden = garden
        self._numbers: dict[tuple[object, ...], int] = {}
        for number, choice in enumerate(garden.choices):
            exact = choice.bed in garden.exact_beds
            where = (tuple(cell.strip for cell in choice.cells),) if exact else (choice.block.deep, choice.block.parts)
            self._numbers[choice.bed, choice.sowing, *where] = number

    def take(self, bed: str, sowing: Sowing, strips: tuple[int, ...]) -> None:
        """Take a planting in; one that has no choice of its own is left out."""
        where = _size_on(self._garden, bed, sowing, strips) if bed in self._places else (strips,)
        number = self._numbers.get((bed, sowing, *where))
        if number is None or self._values[number]:
            return
        self._values[number] = 1
        if bed in self._places:
            self._places[bed].setdefault(sowing, []).append(strips)
        self.plantings += 1

    def laid_out(self) -> LaidOut:
        return LaidOut(tuple(self._values), self._places, 0)


def _size_on(garden: Garden, bed: str, sowing: Sowing, strips: tuple[int, ...]) -> tuple[int, int]:
    """Return how many strips deep and how many parts broad a sowing stands; what is kept counts its strips."""
    size = None if sowing.kept is not None else rectangle_of(garden.beds[bed], strips)
    return size or (len(strips), 1)


def _place(planting: Planting) -> tuple[object, ...]:
    return planting.bed, planting.strips, planting.crop, planting.way, planting.start, planting.clear


def _days(sowing: Sowing) -> tuple[object, ...]:
    return sowing.crop, sowing.way, sowing.start, sowing.course.clear


def _beside_kept(garden: Garden, free: list[Planting]) -> list[Planting]:
    """Return those of the free plantings that break no rule beside the kept ones and one another."""
    for _ in range(_MOST_ROUNDS):
        breaches = breaches_of(garden, blank_plan(garden.scenario, (*garden.kept, *free)))
        guilty: set[int] = set()
        for breach in breaches:
            could_go = [id(planting) for planting in free if any(planting is one for one in breach.plantings)]
            if could_go and not guilty & set(could_go):
                guilty.add(could_go[-1])
        left = [planting for planting in free if id(planting) not in guilty]
        if len(left) == len(free):
            break
        free = left
    return free
