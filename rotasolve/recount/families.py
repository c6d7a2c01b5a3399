"""Which crops must rest together, when they were hosts, and which help each other: read without the graph."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from datetime import date, timedelta
from functools import lru_cache
from typing import TYPE_CHECKING

from rotasolve.domain.seasons import GROWING_MONTHS_NORTH, HOST_DAYS, garden_year

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from rotasolve.domain.bed import Bed
    from rotasolve.domain.catalogue import Catalogue
    from rotasolve.domain.plan import Planting
    from rotasolve.domain.scenario import PastPlanting, Scenario


@dataclass(frozen=True)
class Resting:
    """Crops that stay off the same ground for ``gap`` complete years, or for good; better ``gap_wished``.

    ``seen`` is the day on which a disease was seen that was not known before.
    """

    name: str
    crops: frozenset[str]
    gap: int
    gap_wished: int
    closes: bool = False
    disease: bool = False
    seen: date | None = None

    def stood_then(self, planting: Planting) -> bool:
        """Return whether a planting stood when the disease was seen, and is kept: it is not asked to rest."""
        return self.seen is not None and planting.kept and planting.start <= self.seen


@dataclass(frozen=True)
class Stay:
    """A crop, and the first and last garden year in which it is a host.

    ``crop`` None: a year not on record, or in which the disease was ``seen``.
    """

    first: int
    last: int
    crop: str | None
    planting: Planting | None = None
    seen: bool = False

    def later(self, years: int) -> Stay:
        """Return the same stay so many years later."""
        return Stay(self.first + years, self.last + years, self.crop, self.planting)

    def rest_to(self, other: Stay) -> int | None:
        """Return the complete years between two stays; None if all host years of one are the other's too."""
        mine, theirs = set(range(self.first, self.last + 1)), set(range(other.first, other.last + 1))
        if mine <= theirs or theirs <= mine:
            return None
        return len(range(min(self.last, other.last) + 1, max(self.first, other.first)))


def stay_of(planting: Planting, south: bool) -> Stay:
    """Return the stay of a planting."""
    picked = garden_year(planting.first_harvest or planting.start, south)
    return Stay(*_host_years(planting.start, planting.clear, picked, south), planting.crop, planting)


def stay_before(past: PastPlanting, south: bool) -> Stay:
    """Return the stay of a planting of the history: in its year, and in those that it grew on into."""
    last = past.year
    if past.until is not None:
        last = max(last, _host_years(date(past.year, 7, 1), past.until, past.year, south)[1])
    return Stay(past.year, last, past.crop)


def stays_before(scenario: Scenario, group: Resting, bed: str, strip: int) -> list[Stay]:
    """Return the stays of a group in a bed (``strip`` 0) or strip before the plan, in order.

    Where a disease is known, the last year of which nothing is on record is one, and the year in which it was seen.
    """
    here = list(_past_in(scenario, bed, strip))
    found = {stay_before(past, scenario.site.south) for past in here if past.crop in group.crops}
    unknown = years_not_on_record(scenario, bed, strip, group.gap) if group.disease else []
    found |= {Stay(year, year, None) for year in unknown[-1:]}
    if group.seen is not None:
        year = garden_year(group.seen, scenario.site.south)
        found.add(Stay(year, year, None, seen=True))
    return sorted(found, key=lambda stay: (stay.first, stay.last, stay.crop or ""))


def years_not_on_record(scenario: Scenario, bed: str, strip: int, gap: int) -> list[int]:
    """Return those of the ``gap`` garden years before the plan of which a bed or strip has no record, in order."""
    record = set[int]()
    for past in _past_in(scenario, bed, strip):
        until = past.year if past.until is None else garden_year(past.until, scenario.site.south)
        record |= {past.year, *range(past.year, until + 1)}
    since = next(each.history_since for each in scenario.beds if each.name == bed)
    return [
        scenario.first_year - back
        for back in range(gap, 0, -1)
        if scenario.first_year - back not in record and (since is None or scenario.first_year - back < since)
    ]


def _past_in(scenario: Scenario, bed: str, strip: int) -> Iterator[PastPlanting]:
    for past in scenario.history:
        if past.bed == bed and (not strip or not past.strips or strip in past.strips):
            yield past


@lru_cache(maxsize=20_000)
def _host_years(start: date, clear: date, picked: int, south: bool) -> tuple[int, int]:
    """Return the first and last garden year of whose season a crop takes more than 30 days, counted day by day."""
    days = Counter[int]()
    for number in range((clear - start).days + 1):
        day = start + timedelta(days=number)
        if (day.month in GROWING_MONTHS_NORTH) != south:
            days[garden_year(day, south)] += 1
    years = [year for year, count in days.items() if count > HOST_DAYS] or [picked]
    return min(years), max(years)


def restings(catalogue: Catalogue, scenario: Scenario, bed: Bed) -> Iterator[Resting]:
    """Yield the families that rest everywhere, and the hosts of each disease known or seen in the bed."""
    rules = scenario.rules
    for family in sorted(catalogue.families, key=lambda family: family.name):
        if family.rest:
            members = {crop.name for crop in catalogue.crops if crop.family == family.name and crop.counts_for_rest}
            gap = family.gap_hard if rules.family_gap is None else rules.family_gap
            wished = family.gap_wished if rules.family_gap_wished is None else rules.family_gap_wished
            yield Resting(family.name, frozenset(members), gap, max(gap, wished))
    days: dict[str, date | None] = {}
    for one in scenario.seen:
        if one.bed == bed.name:
            days[one.disease] = min(one.since, days.get(one.disease) or one.since)
    for name in dict.fromkeys((*bed.diseases, *days)):
        seen = None if name in bed.diseases else days[name]
        records = [pathogen for pathogen in catalogue.pathogens if pathogen.name == name]
        hosts = named_by(catalogue, (host for record in records for host in record.hosts))
        lows = [record.gap_low for record in records if record.gap_low is not None]
        gap = _middle_upwards(lows or [record.gap_high for record in records if record.gap_high is not None])
        yield Resting(name, hosts, gap, gap, any(record.closes for record in records), True, seen)


def named_by(catalogue: Catalogue, names: Iterable[str]) -> frozenset[str]:
    """Return the crops that names stand for, and their kinds; ``family:NAME`` stands for all of a family."""
    wanted = set(names)
    return frozenset(c.name for c in catalogue.crops if {c.name, c.kind_of, f"family:{c.family}"} & wanted)


def pairs_with_evidence(catalogue: Catalogue, effect: str, crops: frozenset[str]) -> dict[tuple[str, str], str]:
    """Return the pairs of crops that help or harm each other (``good``, ``bad``) with some or strong evidence."""
    found: dict[tuple[str, str], str] = {}
    for evidence in ("some", "strong"):
        for remark in catalogue.neighbours:
            if (remark.effect, remark.evidence) == (effect, evidence):
                for one in named_by(catalogue, [remark.one]) & crops:
                    for other in named_by(catalogue, [remark.other]) & crops - {one}:
                        found[min(one, other), max(one, other)] = evidence
    return {pair: found[pair] for pair in sorted(found)}


def known_orders(catalogue: Catalogue) -> dict[tuple[str, str], tuple[str, str]]:
    """Return (evidence, note) of each two crops of which the second does badly after the first, anywhere.

    Of several remarks on one order the best shown counts, the first of these; crops of one family are left out, and
    green manures whose ground waits.
    """
    family = {crop.name: crop.family for crop in catalogue.crops}
    waits = {crop.name for crop in catalogue.crops if crop.wait_after is not None}
    found: dict[tuple[str, str], tuple[str, str]] = {}
    for evidence in ("strong", "some"):
        for remark in catalogue.successions:
            if remark.strength != evidence or remark.effect not in ("bad", "avoid") or remark.only_where:
                continue
            for before in named_by(catalogue, [remark.before]) - waits:
                for after in named_by(catalogue, [remark.after]):
                    if family[before] != family[after]:
                        found.setdefault((before, after), (evidence, remark.note))
    return found


def _middle_upwards(years: list[int]) -> int:
    """Return the middle figure; of two in the middle what lies half-way, rounded up."""
    if not years:
        return 0
    low, high = sorted(years)[(len(years) - 1) // 2], sorted(years)[len(years) // 2]
    return (low + high + 1) // 2
