"""Rest: a family, or the hosts of a disease known in the soil, stay away from the same ground long enough.

What it asks
    Between two plantings of one family in the same bed (or strip, with ``rotation: strip``) lie at least ``gap``
    complete garden years without a host, earlier years included. A crop is a host of every garden year of whose
    growing season, April to September (south: October to March), it takes more than 30 days; one that takes no season
    so long is a host of the year of its first harvest, a green manure of that of its start. So standing over New Year
    alone does not make a host: leeks cleared in March are hosts of the year in which they grew, garlic from October on
    of the year in which it is lifted. Plantings whose host years are all among those of another are one visit with it.
    In a bed with a known disease its hosts keep the published gap, and a year before the plan of which nothing is on
    record counts as one with hosts; a disease that lasts indefinitely closes the bed to them. Where a disease is seen
    while a plan is under way (``seen``), its year counts as one with hosts; hosts that stood there on that day and are
    kept stand on, and no others are planted until the gap has passed.
Why
    Soil-borne troubles fade without a host. The preventive gap of 2 complete years (a "three-year rotation") is the
    published allotment practice (RHS-3, MAFF-1945), and both give leeks, RHS-3 garlic too, one year of the three; known
    diseases ask for more (UCONN, CORNELL-ROT). Clover and vetch covers do not count as legumes (PGRO); mustard and
    radish covers count as brassicas. The 30 days are a judgement, no source counts them.
Breaks it
    Tomatoes in the north bed in 2026 and potatoes there in 2028: one complete year, two are asked.
Loosen it
    ``rules: {family_gap: 1}``, remember by strip (``rotation: strip``), write down what grew in a bed before
    (``history``, and ``history_since`` of the bed), or take a disease off the bed.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations
from typing import TYPE_CHECKING, Literal

from rotasolve.domain.claim import Claim, Facts
from rotasolve.domain.hindrance import Hindrance
from rotasolve.domain.plan import Breach
from rotasolve.domain.seasons import year_end
from rotasolve.recount.families import Resting, Stay, restings, stay_of, stays_before
from rotasolve.relations.ground.garden import Cell
from rotasolve.relations.ground.hosts import HostYears, rest_too_short

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
    """A crop in the garden years, first to last, in which it is a host.

    ``crop`` None: whatever grew there then, or in a year in which the disease was ``seen``.
    """

    crop: str | None
    year: int
    last: int
    south: bool
    seen: bool = False


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


class Rest:
    """Families and hosts rest."""

    key = RestClaim.rule
    holds_inside_a_bed = False

    def post(self, garden: Garden, board: Board) -> None:
        """Allow at most one visit in any window of gap + 1 years, history being fixed."""
        for zone, cells in garden.zones.items():
            for group in garden.rest_groups(cells[0].bed):
                numbers = board.members(cells, group.crops)
                if not numbers:
                    continue
                with board.because(rest_claim(group, zone)):
                    if group.closes:
                        board.never(sorted(numbers - _stood_then(garden, group, numbers)))
                    elif group.gap:
                        self._post_gaps(garden, board, zone, group)

    @staticmethod
    def _post_gaps(garden: Garden, board: Board, zone: Cell, group: RestGroup) -> None:
        visits, past = board.visits(zone, group), garden.past_visits(zone, group)
        numbers = board.members(garden.zones[zone], group.crops)
        stood = _stood_then(garden, group, numbers)
        then = {garden.choices[number].sowing.hosts for number in stood}
        for years, mark in visits.items():
            if any(rest_too_short(years, before, group.gap) for before in past):
                others = [number for number in sorted(numbers - stood) if garden.choices[number].sowing.hosts == years]
                board.never(others if years in then else [mark])
        for crowd in _too_near_together(list(visits), group.gap):
            # Hosts that stood when the disease was seen stand in any case: beside them no others do.
            board.at_most([(visits[years], 1) for years in crowd], max(1, len(then.intersection(crowd))))

    def breaches(self, garden: Garden, plan: Plan) -> Iterator[Breach]:
        """Compare every two plantings of a group on the same ground, and each with the history."""
        scenario, south = garden.scenario, garden.scenario.site.south
        by_strip = scenario.rules.rotation == "strip"
        for bed in scenario.beds:
            here = [planting for planting in plan.plantings if planting.bed == bed.name]
            strips = sorted({strip for planting in here for strip in planting.strips}) if by_strip else [0]
            for group in sorted(restings(garden.catalogue, scenario, bed), key=lambda group: group.name):
                hosts = [planting for planting in here if planting.crop in group.crops]
                hosts = [one for one in hosts if not (group.closes and group.stood_then(one))]
                for strip in strips:
                    there = [planting for planting in hosts if not strip or strip in planting.strips]
                    stays = [stay_of(planting, south) for planting in there]
                    if group.closes and stays:
                        found = _host(stays[0], south)
                        yield Breach(rest_claim(group, Cell(bed.name, strip)), found, tuple(there))
                    elif stays:
                        before = stays_before(scenario, group, bed.name, strip)
                        yield from _too_soon(group, Cell(bed.name, strip), before, stays, south)

    def hinders(self, garden: Garden, plan: Plan, planting: Planting) -> Iterator[Hindrance]:
        """Bar the ground on which the crop's family, or a host of its diseases, stands too near in time."""
        for group in restings(garden.catalogue, garden.scenario, garden.beds[planting.bed]):
            if planting.crop not in group.crops or group.stood_then(planting):
                continue
            if not garden.by_strip:
                yield from _too_near(garden, plan, planting, group, Cell(planting.bed, 0), planting.strips)
                continue
            for strip in planting.strips:
                yield from _too_near(garden, plan, planting, group, Cell(planting.bed, strip), (strip,))


def _stood_then(garden: Garden, group: RestGroup, numbers: frozenset[int]) -> frozenset[int]:
    """Return the kept ones of some choices that were started by the day on which the group's disease was seen."""
    sowings = {number: garden.choices[number].sowing for number in numbers} if group.seen is not None else {}
    return frozenset(n for n, one in sowings.items() if one.kept is not None and group.seen and one.start <= group.seen)


def _too_near_together(visits: list[HostYears], gap: int) -> list[list[HostYears]]:
    """Return sets of visits of which no two may stand in one plan, such that each two too near are in one of them.

    Visits of one year go by windows of gap + 1 years; a longer one is put beside those that it is too near to.
    """
    short = [years for years in visits if years[0] == years[1]]
    crowds = [[years for years in short if first[0] <= years[0] <= first[0] + gap] for first in short]
    for number, years in enumerate(visits):
        if years[0] < years[1]:
            near = [other for other in short if rest_too_short(years, other, gap)]
            crowds += [[years, *(o for o in near if o > years)], [years, *(o for o in near if o < years)]]
            longer = [other for other in visits[number + 1 :] if other[0] < other[1]]
            crowds += [[years, other] for other in longer if rest_too_short(years, other, gap)]
    return [crowd for crowd in crowds if len(crowd) > 1 and not any(set(crowd) < set(other) for other in crowds)]


def _host(stay: Stay, south: bool) -> Host:
    return Host(stay.crop, stay.first, stay.last, south, stay.seen)


def _too_soon(group: Resting, zone: Cell, old: list[Stay], new: list[Stay], south: bool) -> Iterator[Breach]:
    """Yield each two crops too near in time once, with all plantings of the plan that are them."""
    told: dict[tuple[Host, Host, int], list[Planting]] = {}
    stays = [*old, *sorted(new, key=lambda stay: (stay.first, stay.last, stay.crop or ""))]
    for one, other in combinations(stays, 2):
        rest = one.rest_to(other)
        if rest is None or rest >= group.gap or other.planting is None:
            continue
        if group.stood_then(other.planting) and (one.planting is None or group.stood_then(one.planting)):
            continue
        first, second = sorted((one, other), key=lambda stay: stay.first)
        both = told.setdefault((_host(first, south), _host(second, south), rest), [])
        for planting in (first.planting, second.planting):
            if planting is not None and planting not in both:
                both.append(planting)
    for (first_host, second_host, rest), plantings in told.items():
        found = TooSoonAgain(first_host, second_host, rest, group.gap)
        yield Breach(rest_claim(group, zone), found, tuple(plantings))


def _too_near(
    garden: Garden, plan: Plan, planting: Planting, group: Resting, zone: Cell, strips: tuple[int, ...]
) -> Iterator[Hindrance]:
    """Yield what stands too near a planting on one zone, the history first."""
    south, claim = garden.scenario.site.south, rest_claim(group, zone)
    if group.closes:
        yield Hindrance(claim, KnownForGood(group.name, zone.strip), strips)
        return
    mine, others = stay_of(planting, south), stays_before(garden.scenario, group, zone.bed, zone.strip)
    for standing in plan.plantings:
        shares = standing.bed == planting.bed and (not zone.strip or bool(set(standing.strips) & set(strips)))
        if shares and standing.crop in group.crops:
            others.append(stay_of(standing, south))
    told = set()
    for other in others:
        rest, host, planned = mine.rest_to(other), _host(other, south), other.planting is not None
        if rest is None or rest >= group.gap or (host, planned) in told:
            continue
        told.add((host, planned))
        again, later = other.last + group.gap + 1, other.first > mine.first
        why = HostTooNear(host, planned, later, zone.strip, group.name, group.disease, group.gap, again)
        yield Hindrance(claim, why, strips, year_end(again - 1, south), other.planting)
