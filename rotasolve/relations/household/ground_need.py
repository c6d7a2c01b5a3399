"""The ground that the wishes of a year need, half month by half month, beside the ground there is: before any plan.

Each wish is laid on the calendar of one year that goes round, a tenth after the other, by the sowing that crowds
the ground least. Beds under one cover count as one ground, filled with whole rows: so what a crop cannot use of a bed
is counted, but neither neighbours nor the order of heights. What is said to fit may hence still not be had to the last
kilogram; what is said not to fit cannot be had.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from rotasolve.domain.ground_need import CropGround, FamilyGround, GroundNeed, GroundUnder, WishGround
from rotasolve.domain.seasons import PERIODS_PER_YEAR
from rotasolve.domain.strips import strips_in_bed
from rotasolve.relations.household.wanted import counted_kg, kg_per_unit
from rotasolve.relations.season.yields import expected_harvest

if TYPE_CHECKING:
    from rotasolve.domain.bed import Bed
    from rotasolve.domain.catalogue import CoverName
    from rotasolve.relations.ground.families import RestGroup
    from rotasolve.relations.ground.garden import Cell, Garden

    _Ways = Mapping[str, list["_Way"]]
    _Wishes = Mapping[str, tuple[float, int]]

PORTIONS = 10
_TIMES_OVER = 3
_CROWDING = 8
"""The power of the share taken, by which ground counts as crowded: high, so that the fullest half month tells."""
_LEAST_M2 = 0.01
NEARLY_ALL = 0.9
"""What fits to this share is not named: common practice, no source."""
ROOM_TO_SPARE = 0.9
"""Of the ground, so much is filled by the amounts that are proposed: plans never fit to the last strip. Common
practice, no source."""


@dataclass(frozen=True)
class _Way:
    """One way to grow a crop: under which cover, in which half months of a year, and how much on a square metre."""

    cover: str
    half_months: tuple[int, ...]
    kg_per_m2: float


@dataclass
class _Filling:
    """Ground being filled, in m2, by cover and crop or family (the name "" is all of them) and half month."""

    there: Mapping[tuple[str, str], float]
    families: Mapping[str, str]
    taken: dict[tuple[str, str], list[float]] = field(
        default_factory=lambda: defaultdict(lambda: [0.0] * PERIODS_PER_YEAR)
    )

    def lay(self, crop: str, way: _Way, kg: float) -> None:
        """Lay so many kg of a crop on the ground, or with fewer than none take them off."""
        for name in ("", crop, *self._family(crop)):
            here = self.taken[way.cover, name]
            for half_month in way.half_months:
                here[half_month] += kg / way.kg_per_m2

    def best(self, crop: str, ways: Iterable[_Way], kg: float) -> _Way:
        """Return the way that crowds the ground least: crowded ground counts far more than ground half empty."""

        def crowding(way: _Way) -> float:
            m2 = kg / way.kg_per_m2
            return sum(
                most * ((1 + m2 / most / (before := 1 + taken[half_month] / most)) ** _CROWDING - 1) * before**_CROWDING
                for taken, most in self._limits(crop, way)
                for half_month in way.half_months
            )

        return min(ways, key=crowding)

    def holds(self, crop: str, way: _Way, kg: float) -> bool:
        """Return whether there is room for so many kg more, and a little to spare."""
        m2 = kg / way.kg_per_m2
        return all(
            taken[half_month] + m2 <= ROOM_TO_SPARE * most
            for taken, most in self._limits(crop, way)
            for half_month in way.half_months
        )

    def _family(self, crop: str) -> tuple[str, ...]:
        return (self.families[crop],) if crop in self.families else ()

    def _limits(self, crop: str, way: _Way) -> list[tuple[list[float], float]]:
        """Return what is taken in each half month, and what there is, of the ground and of the family's share of it."""
        keys = [(way.cover, name) for name in ("", *self._family(crop))]
        return [(self.taken[key], max(_LEAST_M2, self.there[key])) for key in keys]


def ground_need(garden: Garden) -> GroundNeed:
    """Return what the wishes need of the ground, and what of them would fit; wishes that no bed can meet are left out.

    Ground in m2 by cover, in each half month of a year that goes round; amounts in kg as the household counts them.
    """
    ways, wishes = _ways(garden), _wishes(garden)
    wishes = {crop: wish for crop, wish in wishes.items() if crop in ways}
    rules = garden.scenario.rules
    groups = garden.graph.family_groups(rules.family_gap, rules.family_gap_wished)
    there = _there(garden, groups)
    families = {crop: group.name for group in groups for crop in group.crops}
    whole = _all_laid(_Filling(there, families), ways, wishes)
    need = GroundNeed(
        grounds=tuple(_under(cover, whole, wishes) for cover, name in there if not name),
        families=tuple(
            FamilyGround(
                family=group.name,
                cover=cover,
                rest_years=group.gap,
                there_m2=round(there[cover, group.name], 2),
                needed_m2=round(max(whole.taken[cover, group.name]), 2),
                crops=tuple(crop for crop in wishes if crop in group.crops and any(whole.taken[cover, crop])),
            )
            for group in groups
            for cover in sorted({bed.cover for bed in garden.scenario.beds})
            if (cover, group.name) in whole.taken
        ),
        wishes=tuple(
            WishGround(crop=crop, kg=round(kg, 2), m2=round(_most_m2(whole, crop), 2))
            for crop, (kg, _) in wishes.items()
        ),
    )
    if need.fits:
        return need
    fits = _fitting(_Filling(there, families), ways, wishes)
    less = [
        CropGround(crop=crop, m2=round(_most_m2(whole, crop), 2), wanted_kg=kg, fits_kg=round(fits[crop], 2))
        for crop, (kg, _) in wishes.items()
        if fits[crop] < NEARLY_ALL * kg
    ]
    return need.model_copy(update={"less": tuple(sorted(less, key=lambda one: -one.m2))})


def _all_laid(filling: _Filling, ways: _Ways, wishes: _Wishes) -> _Filling:
    """Lay all wishes on the ground, then each portion again where it crowds least now, a few times over."""
    laid: dict[tuple[str, int], _Way] = {}
    for _ in range(_TIMES_OVER):
        for portion in range(PORTIONS):
            for crop, (kg, _weight) in wishes.items():
                before = laid.get((crop, portion))
                if before is not None:
                    filling.lay(crop, before, -kg / PORTIONS)
                way = filling.best(crop, ways[crop], kg / PORTIONS)
                filling.lay(crop, way, kg / PORTIONS)
                laid[crop, portion] = way
    return filling


def _fitting(filling: _Filling, ways: _Ways, wishes: _Wishes) -> dict[str, float]:
    """Return the kg of each wish that would fit: half of each if that fits, then more of those that take least ground.

    So the wishes that ask most of the ground are cut, and a weighty wish is cut less.
    """
    given = dict.fromkeys(wishes, 0)
    m2 = dict.fromkeys(wishes, 0.0)
    growing = set(wishes)

    def turn(crop: str) -> tuple[bool, float, str]:
        return (
            2 * given[crop] >= PORTIONS,
            (given[crop] if 2 * given[crop] < PORTIONS else m2[crop] / wishes[crop][1]),
            crop,
        )

    while growing:
        crop = min(growing, key=turn)
        kg = wishes[crop][0] / PORTIONS
        roomy = [way for way in ways[crop] if filling.holds(crop, way, kg)]
        if not roomy or given[crop] == PORTIONS:
            growing.remove(crop)
            continue
        way = filling.best(crop, roomy, kg)
        filling.lay(crop, way, kg)
        given[crop], m2[crop] = given[crop] + 1, m2[crop] + kg / way.kg_per_m2
    return {crop: wishes[crop][0] * portions / PORTIONS for crop, portions in given.items()}


def _under(cover: str, whole: _Filling, wishes: _Wishes) -> GroundUnder:
    needed = whole.taken[cover, ""]
    most = needed.index(max(needed))
    crops = [(crop, round(whole.taken[cover, crop][most], 2)) for crop in wishes]
    return GroundUnder(
        cover=cover,
        there_m2=round(whole.there[cover, ""], 2),
        needed_m2=tuple(round(half, 2) for half in needed),
        crops=tuple(sorted((one for one in crops if one[1] > 0), key=lambda one: -one[1])),
    )


def _most_m2(filling: _Filling, crop: str) -> float:
    return sum(max(taken) for (_, name), taken in filling.taken.items() if name == crop)


def _wishes(garden: Garden) -> dict[str, tuple[float, int]]:
    """Return (kg a year, weight) of each crop wished; what must be had counts as the weightiest."""
    household = garden.scenario.household
    found = {target.crop: (target.kg, target.weight) for target in household.targets}
    for must in household.must_have:
        each = kg_per_unit(garden.crops[must.crop], "plants") or 0.0
        kg = must.kg or must.plants * each
        if kg > 0:
            found[must.crop] = (max(kg, found.get(must.crop, (0.0, 0))[0]), 6)
    return found


def _m2(bed: Bed) -> float:
    return bed.length * bed.width / 10_000


def _there(garden: Garden, groups: Iterable[RestGroup]) -> dict[tuple[str, str], float]:
    """Return the m2 under each cover (named ""), and what the rest of each family leaves it of them."""
    there: dict[tuple[str, str], float] = defaultdict(float)
    for bed in garden.scenario.beds:
        there[bed.cover, ""] += _m2(bed)
    for group in groups:
        for zone, cells in garden.zones.items():
            bed = garden.beds[zone.bed]
            share = sum(garden.cells[cell] for cell in cells) / strips_in_bed(bed)
            there[bed.cover, group.name] += _m2(bed) * share * _rested_share(garden, zone, group)
    return there


def _ways(garden: Garden) -> dict[str, list[_Way]]:
    """Return the ways to grow each crop that any bed can hold, each half-month pattern once, at its best.

    They are those of the last planned year, before which there was an autumn to sow in if there are several.
    """
    household, years = garden.scenario.household, garden.scenario.planned_years
    found: dict[str, list[_Way]] = defaultdict(list)
    for cover, held in _full_beds(garden).items():
        kg_per_m2: dict[tuple[str, tuple[int, ...]], float] = defaultdict(float)
        for sowing in garden.offered_under(cover, years[-1:]):
            if sowing.crop not in held or sowing.course.first_harvest is None:
                continue
            plants, m2 = held[sowing.crop]
            harvest = expected_harvest(garden.crops[sowing.crop], plants, sowing.course.share_percent)
            key = (sowing.crop, tuple(period % PERIODS_PER_YEAR for period in sowing.periods))
            kg_per_m2[key] = max(kg_per_m2[key], counted_kg(harvest, household) / m2)
        best: dict[str, list[tuple[frozenset[int], float]]] = defaultdict(list)
        for (crop, pattern), kg in sorted(kg_per_m2.items(), key=lambda item: (len(item[0][1]), -item[1], item[0])):
            # A way that takes more of the year and brings no more crowds the ground for nothing.
            if kg > 0 and not any(less <= {*pattern} and more >= kg for less, more in best[crop]):
                best[crop].append((frozenset(pattern), kg))
                found[crop].append(_Way(cover, pattern, kg))
    return found


def _full_beds(garden: Garden) -> dict[CoverName, dict[str, tuple[int, float]]]:
    """Return by cover and crop how many plants the beds hold that can hold any, and their m2."""
    held: dict[CoverName, dict[str, tuple[int, float]]] = defaultdict(dict)
    for bed in garden.scenario.beds:
        for crop in garden.wanted:
            here = garden.room_for(crop, bed.name, range(1, strips_in_bed(bed) + 1))
            if here:
                plants, m2 = held[bed.cover].get(crop, (0, 0.0))
                held[bed.cover][crop] = (plants + here, m2 + _m2(bed))
    return held


def _rested_share(garden: Garden, zone: Cell, group: RestGroup) -> float:
    """Return the share of the planned years in which a family may stand on some ground at most, after what stood there.

    It stands again as soon as its rest allows, which is as often as can be.
    """
    hosts = [last for _, last in garden.past_visits(zone, group)]
    for year in garden.scenario.planned_years:
        if all(abs(year - host) > group.gap for host in hosts):
            hosts.append(year)
    return len({*hosts} & {*garden.scenario.planned_years}) / garden.scenario.years
