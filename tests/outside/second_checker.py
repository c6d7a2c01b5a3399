"""A second checker of plans, written from README, crops/README and the rules' own pages alone.

It takes nothing from rotasolve but the records of ``domain`` (what a file says); no rule, relation, goal or solver. It
names the rules that a plan breaks. Left to the referee, because it would have to be copied instead of read: windows
that depend on climate, noon shadows (``bed-shadows``, ``height_order: by shadow``), rays of the sun, and rest in beds
with a known disease.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cached_property
from itertools import combinations, pairwise
from math import floor

from rotasolve.domain.bed import Bed
from rotasolve.domain.catalogue import Catalogue
from rotasolve.domain.crop import Crop
from rotasolve.domain.plan import Planting
from rotasolve.domain.scenario import PastPlanting, Scenario
from rotasolve.domain.strips import part_breadth_cm, parts_of, strip_depth_cm, strips_in_bed, strips_per_part

JUDGED = (
    "spacing-capacity",
    "free-ground",
    "rest",
    "family-once",
    "host-years",
    "green-manure-wait",
    "manure-interval",
    "pole-side",
    "must-have",
    "as-pinned",
)
"""The rules that are judged here."""
TROPIC_DEGREES = 23.44
SHORT_OF_ROOM = 0.02
"""Of a spacing; common practice, as ``tests/data/golden_facts/rows_and_plants.yaml`` says."""
METRIC_CM = {60.96: 60.0, 45.72: 45.0, 30.48: 30.0}
"""What README says of metric gardens: planted at 60, 45 and 30 cm."""


@dataclass(frozen=True)
class Stay:
    """A crop on strips of a bed, planned or from before, and the garden years of which it is a host."""

    bed: str
    strips: frozenset[int]
    crop: Crop
    hosts: frozenset[int]
    planned: bool


@dataclass(frozen=True)
class SecondChecker:
    """One plan of one scenario."""

    scenario: Scenario
    catalogue: Catalogue
    plantings: Sequence[Planting]

    def broken(self) -> set[str]:
        """Return the keys of the rules that the plan breaks, of those judged here."""
        judges = {
            "spacing-capacity": self._crowded,
            "free-ground": self._two_at_a_time,
            "rest": self._back_too_soon,
            "family-once": self._twice_in_a_season,
            "host-years": self._too_often,
            "green-manure-wait": self._not_waited,
            "manure-interval": self._manured,
            "pole-side": self._shaded,
            "must-have": self._missing,
            "as-pinned": self._not_as_pinned,
        }
        return {key for key, found in judges.items() if any(found())}

    @cached_property
    def _beds(self) -> dict[str, Bed]:
        return {bed.name: bed for bed in self.scenario.beds}

    @cached_property
    def _crops(self) -> dict[str, Crop]:
        return {crop.name: crop for crop in self.catalogue.crops}

    def _garden_year(self, day: date) -> int:
        return day.year - 1 if self.scenario.site.south and day.month < 7 else day.year

    def _season(self, year: int) -> tuple[date, date]:
        """Return the first and last day of the growing season of a garden year."""
        if self.scenario.site.south:
            return date(year, 10, 1), date(year + 1, 3, 31)
        return date(year, 4, 1), date(year, 9, 30)

    def _hosts(self, begin: date, end: date, otherwise: int) -> frozenset[int]:
        found = set()
        for year in range(begin.year - 1, end.year + 1):
            first, last = self._season(year)
            if (min(end, last) - max(begin, first)).days + 1 > 30:
                found.add(year)
        return frozenset(found or {otherwise})

    @cached_property
    def _stays(self) -> list[Stay]:
        found = []
        for one in self.plantings:
            crop = self._crops[one.crop]
            picked = one.start if crop.green_manure or one.first_harvest is None else one.first_harvest
            hosts = self._hosts(one.start, one.clear, self._garden_year(picked))
            found.append(Stay(one.bed, frozenset(one.strips), crop, hosts, planned=True))
        for past in self.scenario.history:
            strips = frozenset(past.strips or range(1, strips_in_bed(self._beds[past.bed]) + 1))
            found.append(Stay(past.bed, strips, self._crops[past.crop], self._past_hosts(past), planned=False))
        return found

    def _past_hosts(self, past: PastPlanting) -> frozenset[int]:
        hosts = {past.year}
        if past.until is not None:
            # Named for one year and standing into others: of these it is a host if it takes their season too.
            begin = date(past.year + (1 if self.scenario.site.south else 0), 7 if self.scenario.site.south else 12, 31)
            hosts |= {year for year in self._hosts(min(begin, past.until), past.until, past.year) if year > past.year}
        return frozenset(hosts)

    def _counts(self, stay: Stay) -> bool:
        return stay.crop.counts_for_rest and self._rests(stay.crop.family)

    def _rests(self, family: str) -> bool:
        return next(one.rest for one in self.catalogue.families if one.name == family)

    def _same_ground(self, one: Stay, other: Stay, by_strip: bool) -> bool:
        return one.bed == other.bed and (not by_strip or bool(one.strips & other.strips))

    def _crowded(self) -> Iterator[bool]:
        for one in self.plantings:
            bed, crop = self._beds[one.bed], self._crops[one.crop]
            deep, broad = _block(one.strips, strips_per_part(bed), parts_of(bed))
            between, within = (self._distance(f.usual) for f in (crop.spacing_between_rows, crop.spacing_in_row))
            rows = floor(deep * strip_depth_cm(bed) / between + SHORT_OF_ROOM)
            in_a_row = floor(broad * part_breadth_cm(bed) / within + SHORT_OF_ROOM)
            yield not deep or one.rows > rows or one.plants > one.rows * in_a_row
            yield crop.least_rows is not None and one.rows < crop.least_rows.usual

    def _distance(self, cm: float) -> float:
        return METRIC_CM.get(round(cm, 2), cm) if self.scenario.units == "metric" else cm

    def _two_at_a_time(self) -> Iterator[bool]:
        for one in self.plantings:
            yield not set(one.strips) <= set(range(1, strips_in_bed(self._beds[one.bed]) + 1))
            yield len(set(one.strips)) < len(one.strips)
            days = [day for day in (one.start, one.first_harvest, one.last_harvest, one.clear) if day is not None]
            yield days != sorted(days)
        for one, other in combinations(self.plantings, 2):
            shared = one.bed == other.bed and set(one.strips) & set(other.strips)
            yield bool(shared) and one.start <= other.clear and other.start <= one.clear
        for past in self.scenario.history:
            if past.until is None:
                continue
            for one in self.plantings:
                there = one.bed == past.bed and (not past.strips or set(past.strips) & set(one.strips))
                yield bool(there) and one.start <= _half_month_end(past.until)

    def _back_too_soon(self) -> Iterator[bool]:
        by_strip = self.scenario.rules.rotation == "strip"
        gaps = {one.name: one.gap_hard for one in self.catalogue.families}
        for one, other in combinations([stay for stay in self._stays if self._counts(stay)], 2):
            if one.crop.family != other.crop.family or not (one.planned or other.planned):
                continue
            if one.hosts <= other.hosts or other.hosts <= one.hosts or not self._same_ground(one, other, by_strip):
                continue
            given = self.scenario.rules.family_gap
            gap = gaps[one.crop.family] if given is None else given
            first, second = sorted((one, other), key=lambda stay: (min(stay.hosts), max(stay.hosts)))
            yield max(0, min(second.hosts) - max(first.hosts) - 1) < gap

    def _twice_in_a_season(self) -> Iterator[bool]:
        asked = self.scenario.rules.family_once
        for one, other in combinations([stay for stay in self._stays if self._counts(stay)], 2):
            if not asked or not (one.planned or other.planned) or one.crop.family != other.crop.family:
                continue
            quick = one.crop.again_in_season is not None and other.crop.again_in_season is not None
            if asked == "except quick crops" and quick:
                continue
            yield bool(one.hosts & other.hosts) and self._same_ground(one, other, by_strip=True)

    def _too_often(self) -> Iterator[bool]:
        asked = self.scenario.rules.host_years
        if asked == "as published":
            return
        for limit in asked:
            family = limit.hosts.removeprefix("family:") if limit.hosts.startswith("family:") else None
            named = [
                stay
                for stay in self._stays
                if (stay.crop.family == family and stay.crop.counts_for_rest)
                or limit.hosts in (stay.crop.name, stay.crop.kind_of)
            ]
            for ground in self._grounds():
                years = {year for stay in named if self._touches(stay, ground) for year in stay.hosts}
                before = {y for stay in named if not stay.planned and self._touches(stay, ground) for y in stay.hosts}
                ours = {y for stay in named if stay.planned and self._touches(stay, ground) for y in stay.hosts}
                for begin in range(min(years, default=0), max(years, default=-1) + 1):
                    window = set(range(begin, begin + limit.of_years))
                    yield len(years & window) > limit.most and bool((ours - before) & window)

    def _grounds(self) -> Iterator[tuple[str, int]]:
        """Yield each bed, or each strip of each bed, as the memory of the ground is kept; strip 0 is the whole bed."""
        for name, bed in self._beds.items():
            if self.scenario.rules.rotation == "strip":
                yield from ((name, strip) for strip in range(1, strips_in_bed(bed) + 1))
            else:
                yield name, 0

    def _touches(self, stay: Stay, ground: tuple[str, int]) -> bool:
        return stay.bed == ground[0] and (not ground[1] or ground[1] in stay.strips)

    def _not_waited(self) -> Iterator[bool]:
        given = self.scenario.rules.green_manure_wait
        dug = [(one.bed, set(one.strips), self._crops[one.crop], one.clear) for one in self.plantings]
        for past in self.scenario.history:
            strips = set(past.strips or range(1, strips_in_bed(self._beds[past.bed]) + 1))
            if past.until is not None:
                dug.append((past.bed, strips, self._crops[past.crop], past.until))
        for bed, strips, crop, day in dug:
            if not crop.green_manure or (given is None and crop.wait_after is None):
                continue
            weeks = given if given is not None or crop.wait_after is None else crop.wait_after.usual
            for one in self.plantings:
                if one.bed == bed and strips & set(one.strips) and one.start > day:
                    yield (one.start - day).days < 7 * (weeks or 0)

    def _manured(self) -> Iterator[bool]:
        rules = self.scenario.rules
        for spread in self.scenario.manure:
            for one in self.plantings:
                if one.bed != spread.bed or one.last_harvest is None or one.last_harvest < spread.spread:
                    continue
                clear = self._crops[one.crop].clear_of_soil is not None
                days = rules.manure_days_clear if clear else rules.manure_days_touching
                first = max(one.first_harvest or one.last_harvest, spread.spread)
                yield (first - spread.spread).days < days

    def _shaded(self) -> Iterator[bool]:
        asked = self.scenario.rules.height_order
        if asked not in (True, "strict") or abs(self.scenario.site.latitude) < TROPIC_DEGREES:
            return
        for one, other in combinations(self.plantings, 2):
            if one.bed != other.bed or one.start > other.clear or other.start > one.clear:
                continue
            tall, low = sorted((one, other), key=self._height_class, reverse=True)
            if self._height_class(tall) == self._height_class(low):
                continue
            rows = strips_per_part(self._beds[one.bed])
            yield any(
                (high - 1) // rows == (flat - 1) // rows and high > flat for high in tall.strips for flat in low.strips
            )

    def _height_class(self, one: Planting) -> int:
        low, tall = self.scenario.rules.height_steps_cm
        height = self._crops[one.crop].height.usual
        return (height >= low) + (height >= tall)

    def _missing(self) -> Iterator[bool]:
        low = self.scenario.household.meet_targets_at == "low yield"
        for must in self.scenario.household.must_have:
            for year in self.scenario.planned_years if must.year is None else (must.year,):
                found = [
                    one
                    for one in self.plantings
                    if one.crop == must.crop
                    and must.bed in (None, one.bed)
                    and self._garden_year(one.first_harvest or one.start) == year
                ]
                if must.kg is None:
                    yield sum(one.plants for one in found) < must.plants
                else:
                    kg = sum(one.harvest.low_kg if low else one.harvest.typical_kg for one in found)
                    yield kg < must.kg - 0.005

    def _not_as_pinned(self) -> Iterator[bool]:
        for pin in self.scenario.pinned:
            found = [
                one
                for one in self.plantings
                if (one.bed, one.crop, one.start) == (pin.bed, pin.crop, pin.start)
                and pin.way in (None, one.way)
                and pin.until in (None, one.clear)
            ]
            strips = {strip for one in found for strip in one.strips}
            yield not found or not set(pin.strips) <= strips or sum(one.plants for one in found) < (pin.plants or 0)


def _half_month_end(day: date) -> date:
    if day.day <= 15:
        return day.replace(day=15)
    return (day.replace(day=28) + timedelta(days=4)).replace(day=1) - timedelta(days=1)


def _block(strips: Iterable[int], rows: int, parts: int) -> tuple[int, int]:
    """Return how many strips deep and parts broad a block is, (0, 0) if the strips are no block."""
    by_part: dict[int, list[int]] = {}
    for strip in sorted(strips):
        by_part.setdefault((strip - 1) // rows, []).append((strip - 1) % rows)
    first, *others = by_part.values()
    side_by_side = all(after == before + 1 for before, after in pairwise(first))
    neighbours = all(after == before + 1 for before, after in pairwise(by_part))
    if not side_by_side or not neighbours or max(by_part) >= parts or any(other != first for other in others):
        return 0, 0
    return len(first), len(by_part)
