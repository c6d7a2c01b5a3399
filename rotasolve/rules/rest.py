"""Rest: a family, or the hosts of a disease known in the soil, stay away from the same ground long enough.

What it asks
    Between two plantings of one family in the same bed (or strip, with ``rotation: strip``) lie at least ``gap``
    complete garden years without it, earlier years included. Plantings with their first harvest in the same garden
    year count as one visit. A planting that passes New Year takes both years. In a bed with a known disease, its
    hosts keep the published gap; a disease that lasts indefinitely closes the bed to them.
Why
    Soil-borne troubles fade without a host. The preventive gap of 2 complete years (a "three-year rotation") is the
    published allotment practice (RHS-3, MAFF-1945); known diseases ask for more (UCONN, CORNELL-ROT). Clover and
    vetch covers do not count as legumes (PGRO); mustard and radish covers count as brassicas.
Breaks it
    Tomatoes in the north bed in 2026 and potatoes there in 2028: one complete year, two are asked.
Loosen it
    ``rules: {family_gap: 1}``, remember by strip (``rotation: strip``), or take a disease off the bed.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from rotasolve.domain.claim import Claim, Facts
from rotasolve.domain.hindrance import Hindrance
from rotasolve.domain.plan import Breach
from rotasolve.domain.seasons import garden_year, year_end
from rotasolve.recount.families import Resting, restings
from rotasolve.relations.ground.garden import Cell

if TYPE_CHECKING:
    from rotasolve.board import Board
    from rotasolve.domain.plan import Plan, Planting
    from rotasolve.relations.ground.families import RestGroup
    from rotasolve.relations.ground.garden import Garden


@dataclass(frozen=True)
class RestClaim(Claim):
    """A family, or the hosts of a disease, stay off a bed (``strip`` 0) or a strip for so many complete years.

    The ground may be closed to them for good.
    """

    rule = "rest"
    group: str
    bed: str
    strip: int
    gap_years: int
    kind: Literal["family", "disease", "closed"]

    @property
    def about(self) -> tuple[str, ...]:
        """Group, ground, years and kind."""
        return self.group, str(Cell(self.bed, self.strip)), str(self.gap_years), self.kind


@dataclass(frozen=True)
class Host(Facts):
    """A crop in a garden year."""

    crop: str
    year: int
    south: bool


@dataclass(frozen=True)
class TooSoonAgain(Facts):
    """Two crops with too few complete years between them."""

    first: Host
    second: Host
    between_years: int
    asked_years: int


@dataclass(frozen=True)
class KnownForGood(Facts):
    """A disease without end is known in a planting's bed (``strip`` 0), or in one of its strips."""

    disease: str
    strip: int


@dataclass(frozen=True)
class HostTooNear(Facts):
    """A host stands too near in time in the same bed (``strip`` 0) or strip: ``planned``, or from before the plan.

    ``again`` is the first garden year from which the group may stand there again, after ``gap_years``; ``later``: the
    host comes after the planting.
    """

    host: Host
    planned: bool
    later: bool
    strip: int
    group: str
    disease: bool
    gap_years: int
    again: int


def rest_claim(group: RestGroup | Resting, zone: Cell) -> RestClaim:
    """Return the claim that a group rests long enough in a bed or strip."""
    kind: Literal["family", "disease", "closed"] = (
        "closed" if group.closes else "disease" if group.disease else "family"
    )
    return RestClaim(group.name, zone.bed, zone.strip, group.gap, kind)


_Visit = tuple[int, int, int, str, "Planting | None"]
"""The garden years of a first harvest, of the start and of the clearing, the crop, and its planting if planned."""


class Rest:
    """Families and hosts rest."""

    key = RestClaim.rule
    holds_inside_a_bed = False

    def post(self, garden: Garden, board: Board) -> None:
        """Allow at most one host year in any window of gap + 1 years, history being fixed."""
        for zone, cells in garden.zones.items():
            for group in garden.rest_groups(cells[0].bed):
                numbers = board.members(cells, group.crops)
                if not numbers:
                    continue
                with board.because(rest_claim(group, zone)):
                    if group.closes:
                        board.never(sorted(numbers))
                    else:
                        self._post_gaps(garden, board, zone, group)

    @staticmethod
    def _post_gaps(garden: Garden, board: Board, zone: Cell, group: RestGroup) -> None:
        years = garden.crop_years
        past = garden.past_years(zone, group)
        first, gap = years[0], group.gap
        for crop_year, last_year in past:
            blocked = [year for year in years if year != crop_year and year - last_year - 1 < gap]
            board.never(m for year in blocked if (m := board.host_year(zone, group, year)) is not None)
            for year in years:
                if year != crop_year and year - 1 - last_year - 1 < gap:
                    early = board.host_year(zone, group, year, "begins early")
                    board.never([] if early is None else [early])
        for end in years:
            window = [
                m for y in range(max(first, end - gap), end + 1) if (m := board.host_year(zone, group, y)) is not None
            ]
            if len(window) > 1:
                board.at_most([(mark, 1) for mark in window], 1)
        for year in years:
            later, latest = year + gap + 1, year + gap + 2
            ends_late = board.host_year(zone, group, year, "ends late")
            if later in years:
                board.not_both(board.host_year(zone, group, year), board.host_year(zone, group, later, "begins early"))
                board.not_both(ends_late, board.host_year(zone, group, later))
            if latest in years:
                board.not_both(ends_late, board.host_year(zone, group, latest, "begins early"))

    def breaches(self, garden: Garden, plan: Plan) -> Iterator[Breach]:
        """Compare every two plantings of a group on the same ground, and each with the history."""
        south = garden.scenario.site.south
        visits: dict[tuple[str, Cell], list[_Visit]] = {}
        groups: dict[tuple[str, Cell], Resting] = {}
        by_strip = garden.scenario.rules.rotation == "strip"
        for bed in garden.scenario.beds:
            for group in restings(garden.catalogue, garden.scenario.rules, bed):
                for planting in plan.plantings:
                    if planting.bed != bed.name or planting.crop not in group.crops:
                        continue
                    year = garden_year(planting.first_harvest or planting.start, south)
                    span = (garden_year(planting.start, south), garden_year(planting.clear, south))
                    for zone in {Cell(bed.name, n) for n in planting.strips} if by_strip else {Cell(bed.name, 0)}:
                        visits.setdefault((group.name, zone), []).append((year, *span, planting.crop, planting))
                        groups[group.name, zone] = group
        for (name, zone), found in sorted(visits.items()):
            group = groups[name, zone]
            if group.closes:
                hosts = tuple(visit[4] for visit in found if visit[4] is not None)
                yield Breach(rest_claim(group, zone), Host(found[0][3], found[0][0], south), hosts)
                continue
            old: list[_Visit] = [(year, year, last, crop, None) for year, last, crop in _history(garden, zone, group)]
            yield from _too_soon(group, zone, old, found, south)

    def hinders(self, garden: Garden, plan: Plan, planting: Planting) -> Iterator[Hindrance]:
        """Bar the ground on which the crop's family, or a host of its diseases, stands too near in time."""
        for group in garden.rest_groups(planting.bed):
            if planting.crop not in group.crops:
                continue
            if not garden.by_strip:
                yield from _too_near(garden, plan, planting, group, Cell(planting.bed, 0), planting.strips)
                continue
            for strip in planting.strips:
                yield from _too_near(garden, plan, planting, group, Cell(planting.bed, strip), (strip,))


def _history(garden: Garden, zone: Cell, group: RestGroup | Resting) -> Iterator[tuple[int, int, str]]:
    south, by_strip = garden.scenario.site.south, garden.scenario.rules.rotation == "strip"
    for past in garden.scenario.history:
        here = past.bed == zone.bed and (not by_strip or not past.strips or zone.strip in past.strips)
        if here and past.crop in group.crops:
            last = past.year if past.until is None else max(past.year, garden_year(past.until, south))
            yield past.year, last, past.crop


def _by_year(visit: _Visit) -> tuple[int, int, int, str]:
    return visit[:4]


def _too_soon(
    group: Resting,
    zone: Cell,
    old: list[_Visit],
    new: list[_Visit],
    south: bool,
) -> Iterator[Breach]:
    told = set()
    visits = sorted(old, key=_by_year) + sorted(new, key=_by_year)
    for place, later in enumerate(visits):
        for earlier in visits[:place] if place >= len(old) else ():
            (year, _, ended, crop, one), (next_year, began, _, next_crop, other) = sorted(
                (earlier, later), key=_by_year
            )
            rest = began - ended - 1
            if year == next_year or rest >= group.gap or (crop, year, next_crop, next_year) in told:
                continue
            told.add((crop, year, next_crop, next_year))
            first, second = Host(crop, year, south), Host(next_crop, next_year, south)
            both = tuple(visit for visit in (one, other) if visit is not None)
            yield Breach(rest_claim(group, zone), TooSoonAgain(first, second, max(rest, 0), group.gap), both)


def _visit(garden: Garden, planting: Planting) -> tuple[int, int, int]:
    """Return the garden years of a planting's first harvest, its start and its clearing."""
    south = garden.scenario.site.south
    days = (planting.first_harvest or planting.start, planting.start, planting.clear)
    year, began, ended = (garden_year(day, south) for day in days)
    return year, began, ended


def _too_near(
    garden: Garden, plan: Plan, planting: Planting, group: RestGroup, zone: Cell, strips: tuple[int, ...]
) -> Iterator[Hindrance]:
    """Yield what stands too near a planting on one zone, the history first."""
    south, claim = garden.scenario.site.south, rest_claim(group, zone)
    if group.closes:
        yield Hindrance(claim, KnownForGood(group.name, zone.strip), strips)
        return
    year, began, ended = _visit(garden, planting)
    others: list[tuple[int, int, int, str, Planting | None]] = [
        (past, past, last, crop, None) for past, last, crop in sorted(_history(garden, zone, group))
    ]
    for other in plan.plantings:
        shares = other.bed == planting.bed and (not garden.by_strip or bool(set(other.strips) & set(strips)))
        if shares and other.crop in group.crops:
            others.append((*_visit(garden, other), other.crop, other))
    told = set()
    for other_year, other_began, other_ended, crop, standing in others:
        rest = began - other_ended - 1 if other_year < year else other_began - ended - 1
        if other_year == year or rest >= group.gap or (crop, other_year, standing is None) in told:
            continue
        told.add((crop, other_year, standing is None))
        again = other_ended + group.gap + 1
        host, known = Host(crop, other_year, south), bool(group.disease)
        planned, later = standing is not None, other_year > year
        why = HostTooNear(host, planned, later, zone.strip, group.name, known, group.gap, again)
        yield Hindrance(claim, why, strips, year_end(again - 1, south), standing)
