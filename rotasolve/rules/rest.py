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
from typing import TYPE_CHECKING

from rotasolve.domain.claim import Breach, Claim
from rotasolve.domain.hindrance import Hindrance
from rotasolve.domain.seasons import garden_year, say_year, year_end

if TYPE_CHECKING:
    from rotasolve.board import Board
    from rotasolve.domain.plan import Plan, Planting
    from rotasolve.relations.ground.families import RestGroup
    from rotasolve.relations.ground.garden import Garden


def rest_claim(group: RestGroup, zone: str) -> Claim:
    """Return the claim that a group rests long enough in a bed or strip."""
    kind = "closed" if group.closes else "disease" if group.disease else "family"
    return Claim(rule="rest", about=(group.name, zone, str(group.gap), kind))


_Visit = tuple[int, int, int, str, "Planting | None"]
"""The garden years of a first harvest, of the start and of the clearing, the crop, and its planting if planned."""


class Rest:
    """Families and hosts rest."""

    key = "rest"

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
    def _post_gaps(garden: Garden, board: Board, zone: str, group: RestGroup) -> None:
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
        visits: dict[tuple[str, str], list[_Visit]] = {}
        groups: dict[tuple[str, str], RestGroup] = {}
        for bed in garden.beds:
            for group in garden.rest_groups(bed):
                for planting in plan.plantings:
                    if planting.bed != bed or planting.crop not in group.crops:
                        continue
                    year = garden_year(planting.first_harvest or planting.start, south)
                    span = (garden_year(planting.start, south), garden_year(planting.clear, south))
                    for zone in {f"{bed}, strip {n}" for n in planting.strips} if garden.by_strip else {bed}:
                        visits.setdefault((group.name, zone), []).append((year, *span, planting.crop, planting))
                        groups[group.name, zone] = group
        for (name, zone), found in sorted(visits.items()):
            group = groups[name, zone]
            if group.closes:
                yield Breach(
                    claim=rest_claim(group, zone),
                    found=f"{found[0][3]} in {say_year(found[0][0], south)}",
                    plantings=tuple(visit[4] for visit in found if visit[4] is not None),
                )
                continue
            old: list[_Visit] = [(year, year, last, crop, None) for year, last, crop in _history(garden, zone, group)]
            yield from _too_soon(group, zone, old, found, south)

    def hinders(self, garden: Garden, plan: Plan, planting: Planting) -> Iterator[Hindrance]:
        """Bar the ground on which the crop's family, or a host of its diseases, stands too near in time."""
        for group in garden.rest_groups(planting.bed):
            if planting.crop not in group.crops:
                continue
            if not garden.by_strip:
                yield from _too_near(garden, plan, planting, group, planting.bed, planting.strips)
                continue
            for strip in planting.strips:
                yield from _too_near(garden, plan, planting, group, f"{planting.bed}, strip {strip}", (strip,))

    def say(self, claim: Claim) -> str:
        """Say the claim in plain words."""
        name, zone, gap, kind = claim.about
        if kind == "closed":
            return f"{zone} is closed to hosts of {name}, which lasts in the soil without end"
        years = count_years(int(gap))
        if kind == "disease":
            return f"hosts of {name} stay out of {zone} for {years}, because the disease is known there"
        return f"{name} rest for {years} between plantings in {zone}"


def count_years(years: int) -> str:
    """Say a number of complete years."""
    return "1 complete year" if years == 1 else f"{years} complete years"


def _history(garden: Garden, zone: str, group: RestGroup) -> Iterator[tuple[int, int, str]]:
    south = garden.scenario.site.south
    for past in garden.scenario.history:
        strips = [f"{past.bed}, strip {n}" for n in past.strips]
        here = past.bed == zone or (
            garden.by_strip and (zone in strips or (not strips and zone.startswith(past.bed + ", ")))
        )
        if here and past.crop in group.crops:
            last = past.year if past.until is None else max(past.year, garden_year(past.until, south))
            yield past.year, last, past.crop


def _by_year(visit: _Visit) -> tuple[int, int, int, str]:
    return visit[:4]


def _too_soon(
    group: RestGroup,
    zone: str,
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
            yield Breach(
                claim=rest_claim(group, zone),
                found=f"{crop} in {say_year(year, south)}, {next_crop} in {say_year(next_year, south)}: "
                f"{count_years(max(rest, 0))} between, {group.gap} needed",
                plantings=tuple(visit for visit in (one, other) if visit is not None),
            )


def _visit(garden: Garden, planting: Planting) -> tuple[int, int, int]:
    """Return the garden years of a planting's first harvest, its start and its clearing."""
    south = garden.scenario.site.south
    days = (planting.first_harvest or planting.start, planting.start, planting.clear)
    year, began, ended = (garden_year(day, south) for day in days)
    return year, began, ended


def _too_near(
    garden: Garden, plan: Plan, planting: Planting, group: RestGroup, zone: str, strips: tuple[int, ...]
) -> Iterator[Hindrance]:
    """Yield what stands too near a planting on one zone, the history first."""
    south, claim = garden.scenario.site.south, rest_claim(group, zone)
    here = "here" if zone == planting.bed else f"in {zone.removeprefix(planting.bed + ', ')}"
    if group.closes:
        sentence = f"{group.name} is known {here} and lasts in the soil without end, hosts stay out for good"
        yield Hindrance(claim=claim, sentence=sentence, strips=strips)
        return
    year, began, ended = _visit(garden, planting)
    others: list[tuple[int, int, int, str, Planting | None]] = [
        (past, past, last, crop, None) for past, last, crop in sorted(_history(garden, zone, group))
    ]
    for other in plan.plantings:
        shares = other.bed == planting.bed and (not garden.by_strip or bool(set(other.strips) & set(strips)))
        if shares and other.crop in group.crops:
            others.append((*_visit(garden, other), other.crop, other))
    who = f"hosts of {group.name}" if group.disease else group.name
    told = set()
    for other_year, other_began, other_ended, crop, standing in others:
        rest = began - other_ended - 1 if other_year < year else other_began - ended - 1
        if other_year == year or rest >= group.gap or (crop, other_year, standing is None) in told:
            continue
        told.add((crop, other_year, standing is None))
        again = other_ended + group.gap + 1
        when = say_year(other_year, south)
        stood = f"{crop} stood {here} in {when}" if standing is None else f"{crop} is planned {here} in {when}"
        if other_year < year:
            sentence = f"{stood}; {who} may return in {say_year(again, south)}"
        else:
            between = count_years(group.gap)
            sentence = f"{stood}; {who} need {between} between and may come in {say_year(again, south)} again"
        yield Hindrance(claim=claim, sentence=sentence, strips=strips, until=year_end(again - 1, south), other=standing)
