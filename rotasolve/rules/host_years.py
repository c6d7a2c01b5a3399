"""Host years: a crop or a family is grown on the same ground in so many of so many years at most.

What it asks
    In any ``of_years`` garden years in a row, the hosts named are hosts on the same ground (bed, or strip with
    ``rotation: strip``) in ``most`` of them at most, earlier years included; of which years a crop is a host, ``rest``
    says; a plan breaks it only with a year that it adds. Off unless the grower sets ``host_years``: to figures of his
    own, or to ``as published`` for those of the crop files (legumes one year in five, potatoes one in three, brassicas
    one in two).
Why
    How often a crop was grown over many years told more of root rot of peas and of black dot of potatoes than the last
    interval did (OYARZUN-1993, JOHNSON-2015). The published figures speak of fields and of infested ground (PGRO,
    NDSU-OAKES, UCIPM-BR), and a rest of two years keeps two of them: so they are not asked of every garden.
Breaks it
    Peas in one bed in 2024, 2027 and 2031 with two years in nine allowed.
Loosen it
    Raise ``most``, lower ``of_years``, or take the line out of ``rules: {host_years: ...}``.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from rotasolve.domain.claim import Claim, Facts
from rotasolve.domain.hindrance import Hindrance
from rotasolve.domain.plan import Breach
from rotasolve.domain.seasons import year_end
from rotasolve.recount.families import named_by, stay_before, stay_of
from rotasolve.relations.ground.garden import Cell
from rotasolve.relations.ground.hosts import past_host_years

if TYPE_CHECKING:
    from rotasolve.board import Board
    from rotasolve.domain.family import HostYears
    from rotasolve.domain.plan import Plan, Planting
    from rotasolve.relations.ground.garden import Garden


@dataclass(frozen=True)
class HostYearsClaim(Claim):
    """Hosts stand on a bed (``strip`` 0) or strip in so many years at most of any so many."""

    rule = "host-years"
    hosts: str
    bed: str
    strip: int
    most: int
    of_years: int

    @property
    def about(self) -> tuple[str, ...]:
        """Hosts, ground, and both numbers of years."""
        return self.hosts, str(Cell(self.bed, self.strip)), str(self.most), str(self.of_years)


@dataclass(frozen=True)
class TooOften(Facts):
    """The garden years of one window in which the hosts stand there."""

    years: tuple[int, ...]
    south: bool


class SoManyHostYears:
    """So many host years in so many."""

    key = HostYearsClaim.rule
    holds_inside_a_bed = False

    def post(self, garden: Garden, board: Board) -> None:
        """In each window that ends with a planned year, allow as many host years as the history leaves."""
        exempt = {crop.name for crop in garden.catalogue.crops if not crop.counts_for_rest}
        for zone, cells in garden.zones.items():
            for asked in _asked(garden):
                crops = frozenset(garden.graph.crops_meant(asked.hosts)) - exempt
                by_year: dict[int, set[int]] = {}
                for number in board.members(cells, crops):
                    first, last = garden.choices[number].sowing.hosts
                    for year in range(first, last + 1):
                        by_year.setdefault(year, set()).add(number)
                if not by_year:
                    continue
                past = set[int]()
                for old in garden.scenario.past_in(zone.bed):
                    if old.crop in crops and (not garden.by_strip or old.takes(zone.strip)):
                        first, last = past_host_years(old, garden.scenario.site.south)
                        past |= set(range(first, last + 1))
                with board.because(_claim(asked, zone)):
                    marks = {
                        year: board.any_host(zone, asked.hosts, year, frozenset(among))
                        for year, among in sorted(by_year.items())
                        if year not in past
                    }
                    for end in sorted({*marks, *past}):
                        years = range(end - asked.of_years + 1, end + 1)
                        window = [(mark, 1) for year, mark in marks.items() if year in years]
                        left = max(0, asked.most - sum(year in years for year in past))
                        if len(window) > left:
                            board.at_most(window, left)

    def breaches(self, garden: Garden, plan: Plan) -> Iterator[Breach]:
        """Count the host years of each bed or strip anew, window by window."""
        for bed in garden.scenario.beds:
            here = [planting for planting in plan.plantings if planting.bed == bed.name]
            for asked in _asked(garden):
                for strip in _strips(garden, here):
                    found = _too_often(garden, asked, bed.name, strip, here)
                    if found is not None:
                        facts, guilty = found
                        yield Breach(_claim(asked, Cell(bed.name, strip)), facts, guilty)

    def hinders(self, garden: Garden, plan: Plan, planting: Planting) -> Iterator[Hindrance]:
        """Bar ground on which the planting would make one host year too many."""
        south = garden.scenario.site.south
        here = [other for other in plan.plantings if other.bed == planting.bed]
        for asked in _asked(garden):
            for strip in _strips(garden, [planting]):
                found = _too_often(garden, asked, planting.bed, strip, [*here, planting], planting)
                if found is None:
                    continue
                facts, guilty = found
                claim, until = _claim(asked, Cell(planting.bed, strip)), facts.years[0] + asked.of_years - 1
                others: list[Planting | None] = [other for other in guilty if other is not planting]
                for other in others or [None]:
                    strips = (strip,) if strip else planting.strips
                    yield Hindrance(claim, facts, strips, year_end(until, south), other)


def _asked(garden: Garden) -> tuple[HostYears, ...]:
    asked = garden.scenario.rules.host_years
    if asked == "as published":
        return tuple(one for family in garden.catalogue.families for one in family.host_years)
    return tuple(dict.fromkeys(asked))


def _claim(asked: HostYears, zone: Cell) -> HostYearsClaim:
    return HostYearsClaim(asked.hosts.removeprefix("family:"), zone.bed, zone.strip, asked.most, asked.of_years)


def _strips(garden: Garden, plantings: list[Planting]) -> list[int]:
    """Return the strips that remember for themselves, or 0 for the whole bed."""
    if garden.scenario.rules.rotation != "strip":
        return [0]
    return sorted({strip for planting in plantings for strip in planting.strips})


def _too_often(
    garden: Garden, asked: HostYears, bed: str, strip: int, here: list[Planting], one: Planting | None = None
) -> tuple[TooOften, tuple[Planting, ...]] | None:
    """Return the first window with too many host years and the plantings in it; with ``one``, of those it adds to."""
    catalogue, south = garden.catalogue, garden.scenario.site.south
    crops = {name for name in named_by(catalogue, [asked.hosts]) if catalogue.crop(name).counts_for_rest}
    past = set[int]()
    for old in garden.scenario.history:
        if old.bed == bed and old.crop in crops and (not strip or not old.strips or strip in old.strips):
            stay = stay_before(old, south)
            past |= set(range(stay.first, stay.last + 1))
    planned: dict[int, list[Planting]] = {}
    for planting in here:
        if planting.crop in crops and (not strip or strip in planting.strips):
            stay = stay_of(planting, south)
            for year in range(stay.first, stay.last + 1):
                planned.setdefault(year, []).append(planting)
    for end in sorted({*planned, *past}):
        window = range(end - asked.of_years + 1, end + 1)
        new = [year for year in window if year in planned and year not in past]
        adds = new if one is None else [year for year in new if one in planned[year]]
        years = sorted({*new, *(year for year in window if year in past)})
        if adds and len(years) > asked.most:
            guilty = dict.fromkeys(id(planting) for year in new for planting in planned[year])
            by_id = {id(planting): planting for planting in here}
            return TooOften(tuple(years), south), tuple(by_id[number] for number in guilty)
    return None
