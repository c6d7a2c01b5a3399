"""Family once: within a growing season the same ground bears the same family once.

What it asks
    On each strip, whatever ``rotation`` says, stands one planting of a family at most that is a host in one and the
    same garden year (``rest`` says of which years a crop is a host), earlier years included; in a bed with a known
    disease the same holds for its hosts. Side by side, on strips of their own, a family's crops are welcome. With
    ``family_once: except quick crops``, crops whose successive sowings are usual (``again_in_season`` in the crop
    files: salads, radishes, spinach) may follow one another, but no other of their family.
Why
    What lives on a family goes on from one planting to the next, so published rotations give each piece of ground one
    group a year (RHS-3, MAFF-1945); that salads may go anywhere, "not too often in one place", is RHS-3 too. Green
    manures that do not count for rest are no hosts (PGRO).
Breaks it
    Cabbages cleared from strip 2 in July and kale set out there in the same month.
Loosen it
    ``rules: {family_once: except quick crops}``, or ``false`` to switch it off but for hosts of known diseases.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations
from typing import TYPE_CHECKING

from rotasolve.domain.claim import Claim, Facts
from rotasolve.domain.hindrance import Hindrance
from rotasolve.domain.plan import Breach
from rotasolve.domain.seasons import year_end
from rotasolve.domain.strips import strips_in_bed
from rotasolve.recount.families import Resting, Stay, restings, stay_before, stay_of
from rotasolve.relations.ground.hosts import HostYears, past_host_years

if TYPE_CHECKING:
    from rotasolve.board import Board
    from rotasolve.domain.plan import Plan, Planting
    from rotasolve.domain.scenario import PastPlanting
    from rotasolve.relations.ground.garden import Cell, Garden


@dataclass(frozen=True)
class OnceClaim(Claim):
    """Each strip of a bed bears a family, or the hosts of a known disease, once in a growing season."""

    rule = "family-once"
    group: str
    bed: str
    disease: bool

    @property
    def about(self) -> tuple[str, ...]:
        """Group, bed and kind."""
        return self.group, self.bed, "disease" if self.disease else "family"


@dataclass(frozen=True)
class TwiceInSeason(Facts):
    """Two crops of a group on the same strips in the season of one garden year; ``before``: the first is history."""

    strips: tuple[int, ...]
    first: str
    second: str
    before: bool
    year: int
    south: bool


@dataclass(frozen=True)
class KinInSeason(Facts):
    """A crop of the same group takes strips in the same season; ``planned``, or from before the plan."""

    strips: tuple[int, ...]
    crop: str
    planned: bool
    year: int
    south: bool


class FamilyOnce:
    """A family once in a season on the same ground."""

    key = OnceClaim.rule
    holds_inside_a_bed = True

    def post(self, garden: Garden, board: Board) -> None:
        """Post that a group's plantings of a season take no more strips together than there are."""
        asked = garden.scenario.rules.family_once
        for bed in garden.beds:
            grown = {cell: _by_crop(board, cell) for cell in garden.cells if cell.bed == bed}
            crops = frozenset(crop for here in grown.values() for crop in here)
            for group in garden.rest_groups(bed):
                if group.closes or (not asked and not group.disease) or not group.crops & crops:
                    continue
                free = asked == "except quick crops" and not group.disease
                quick = {crop for crop in group.crops if free and garden.crops[crop].again_in_season is not None}
                past = [(old, past_host_years(old, garden.scenario.site.south)) for old in garden.scenario.past_in(bed)]
                past = [(old, years) for old, years in past if old.crop in group.crops]
                with board.because(OnceClaim(group.name, bed, group.disease)):
                    for cell, here in grown.items():
                        hosts = [number for crop in sorted(group.crops & here.keys()) for number in here[crop]]
                        _post_cell(garden, board, cell, hosts, frozenset(quick), past)

    def breaches(self, garden: Garden, plan: Plan) -> Iterator[Breach]:
        """Compare every two plantings that share a strip, and each with the history of its strips."""
        south = garden.scenario.site.south
        for bed in garden.scenario.beds:
            here = [planting for planting in plan.plantings if planting.bed == bed.name]
            for group in _asked(garden, bed.name):
                claim = OnceClaim(group.name, bed.name, group.disease)
                hosts = [planting for planting in here if planting.crop in group.crops]
                for planting in hosts:
                    for stay, strips in _before(garden, planting, group):
                        year = _shared_season(garden, group, stay, stay_of(planting, south))
                        if year is not None and strips:
                            found = TwiceInSeason(strips, stay.crop or "", planting.crop, True, year, south)
                            yield Breach(claim, found, (planting,))
                for pair in combinations(hosts, 2):
                    one, other = sorted(pair, key=lambda planting: planting.start)
                    shared = tuple(sorted(set(one.strips) & set(other.strips)))
                    year = _shared_season(garden, group, stay_of(one, south), stay_of(other, south))
                    if shared and year is not None:
                        found = TwiceInSeason(shared, one.crop, other.crop, False, year, south)
                        yield Breach(claim, found, (one, other))

    def hinders(self, garden: Garden, plan: Plan, planting: Planting) -> Iterator[Hindrance]:
        """Bar the strips that bear a crop of the group in the same season."""
        south = garden.scenario.site.south
        mine = stay_of(planting, south)
        for group in _asked(garden, planting.bed):
            if planting.crop not in group.crops:
                continue
            there = list(_before(garden, planting, group))
            for other in plan.plantings:
                if other.bed == planting.bed and other.crop in group.crops:
                    strips = tuple(strip for strip in planting.strips if strip in other.strips)
                    there.append((stay_of(other, south), strips))
            for stay, strips in there:
                year = _shared_season(garden, group, stay, mine)
                if year is not None and strips:
                    why = KinInSeason(strips, stay.crop or "", stay.planting is not None, year, south)
                    claim, until = OnceClaim(group.name, planting.bed, group.disease), year_end(stay.last, south)
                    yield Hindrance(claim, why, strips, until, stay.planting)


def _asked(garden: Garden, bed: str) -> Iterator[Resting]:
    """Yield the groups that a bed may bear once in a season."""
    rules = garden.scenario.rules
    for group in restings(garden.catalogue, garden.scenario, garden.beds[bed]):
        if not group.closes and (group.disease or rules.family_once):
            yield group


def _before(garden: Garden, planting: Planting, group: Resting) -> Iterator[tuple[Stay, tuple[int, ...]]]:
    """Yield the group's stays of the history in a planting's bed, and the planting's strips that they took."""
    for past in garden.scenario.history:
        if past.bed == planting.bed and past.crop in group.crops:
            strips = tuple(strip for strip in planting.strips if not past.strips or strip in past.strips)
            yield stay_before(past, garden.scenario.site.south), strips


def _shared_season(garden: Garden, group: Resting, one: Stay, other: Stay) -> int | None:
    """Return the first garden year in which both are hosts and only one of them may be; None if there is none."""
    first, last = max(one.first, other.first), min(one.last, other.last)
    if garden.scenario.rules.family_once == "except quick crops" and not group.disease:
        quick = {crop.name for crop in garden.catalogue.crops if crop.again_in_season is not None}
        if one.crop in quick and other.crop in quick:
            return None
    return first if first <= last else None


_Past = list[tuple["PastPlanting", HostYears]]
"""Earlier plantings of a group in a bed, with their host years."""


def _by_crop(board: Board, cell: Cell) -> dict[str, list[int]]:
    found: dict[str, list[int]] = {}
    for number in sorted(board.members([cell])):
        found.setdefault(board.crop_of(number), []).append(number)
    return found


def _post_cell(garden: Garden, board: Board, cell: Cell, hosts: list[int], quick: frozenset[str], past: _Past) -> None:
    """Post each season: a strip takes one crop of the group, or quick ones alone, one after the other."""
    room, by_year = garden.cells[cell], dict[int, list[int]]()
    for number in hosts:
        first, last = garden.choices[number].sowing.hosts
        for year in range(first, last + 1):
            by_year.setdefault(year, []).append(number)
    for year, of_year in sorted(by_year.items()):
        again = frozenset(number for number in of_year if board.crop_of(number) in quick)
        once = [(number, board.strips_of(number)) for number in of_year if number not in again]
        before = [old for old, (first, last) in past if first <= year <= last]
        taken = _strips_of(garden, cell, [old for old in before if old.crop not in quick])
        held = _strips_of(garden, cell, before)
        if once and (len(once) > 1 or held):
            board.at_most(once, room - len(held))
        if once or taken:
            for _, terms in board.crowded(cell, again):
                board.beside_each(terms, once, room - len(taken))


def _strips_of(garden: Garden, cell: Cell, past: list[PastPlanting]) -> set[int]:
    """Return the strips of a cell that earlier plantings took."""
    strips = (cell.strip,) if cell.strip else range(1, strips_in_bed(garden.beds[cell.bed]) + 1)
    return {strip for strip in strips if any(old.takes(strip) for old in past)}
