"""What a diary tells, as records of a scenario: what grew where, diseases known in beds, manure, beds closed."""

from __future__ import annotations

from datetime import timedelta
from typing import TYPE_CHECKING

from rotasolve.domain.diary import STARTS
from rotasolve.domain.scenario import ClosedBed, DiseaseSeen, PastPlanting, RawManure
from rotasolve.domain.seasons import garden_year, year_end
from rotasolve.relations.ground.hosts import host_years

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from rotasolve.domain.catalogue import Catalogue
    from rotasolve.domain.diary import Diary, Happening
    from rotasolve.domain.scenario import Scenario

_ENDS = ("cleared", "dug in", "failed")


def with_diary(scenario: Scenario, catalogue: Catalogue, diary: Diary) -> Scenario:
    """Return the scenario with what a diary tells of its ground: diseases seen, manure spread and beds closed.

    What stands there already is not told twice. What grew is not taken over: with a plan, that is the plan's
    plantings as far as the diary tells of them (``relations.ground.happened``); without one see ``history_told``.
    """
    known = {bed.name: bed.diseases for bed in scenario.beds}
    seen = tuple(one for one in sightings(diary, catalogue) if one.disease not in known.get(one.bed, ()))
    seen = tuple(dict.fromkeys((*scenario.seen, *seen)))
    manure = tuple(dict.fromkeys((*scenario.manure, *manure_spread(diary))))
    closed = tuple(dict.fromkeys((*scenario.closed, *beds_closed(diary))))
    return scenario.model_copy(update={"seen": seen, "manure": manure, "closed": closed})


def sightings(diary: Diary, catalogue: Catalogue) -> tuple[DiseaseSeen, ...]:
    """Return each disease seen in a bed for which years of rest are published, on the first day on which it was."""
    found: dict[tuple[str, str], DiseaseSeen] = {}
    for one in diary.of("disease seen"):
        if one.bed is not None and one.trouble is not None and rest_is_published(one.trouble, catalogue):
            sighting = DiseaseSeen(bed=one.bed, disease=one.trouble, since=one.day)
            found.setdefault((one.bed, one.trouble), sighting)
    return tuple(found.values())


def rest_is_published(disease: str, catalogue: Catalogue) -> bool:
    """Return whether a source says for how many years hosts of a disease must stay away."""
    told = (pathogen for pathogen in catalogue.pathogens if pathogen.name == disease)
    return any(one.closes or one.gap_low is not None or one.gap_high is not None for one in told)


def manure_spread(diary: Diary) -> tuple[RawManure, ...]:
    """Return the raw manure of which a diary tells."""
    return tuple(RawManure(bed=one.bed, spread=one.day) for one in diary.of("manured") if one.bed is not None)


def beds_closed(diary: Diary) -> tuple[ClosedBed, ...]:
    """Return when beds are closed by the diary; a later line about a bed ends what an earlier one said of it."""
    found: dict[str, list[ClosedBed]] = {}
    for one in diary.of("bed closed"):
        if one.bed is None:
            continue
        before, day = found.setdefault(one.bed, []), one.day - timedelta(days=1)
        if before and (before[-1].until is None or before[-1].until > day):
            before[-1] = before[-1].model_copy(update={"until": day})
        until = None if one.until is None else max(one.until, one.day)
        before.append(ClosedBed(bed=one.bed, since=one.day, until=until))
    every = (closed for beds in found.values() for closed in beds)
    return tuple(closed for closed in every if closed.until is None or closed.until >= closed.since)


def history_told(happenings: Iterable[Happening], south: bool) -> tuple[PastPlanting, ...]:
    """Return what grew by the diary alone: each crop sown, planted or set out in a bed, with the day it was cleared.

    Its year is the first in which it is a host (``relations.ground.hosts``). A crop whose clearing is not told has no
    ``until``: whether it still stands, the diary does not say.
    """
    told = sorted(happenings, key=lambda one: one.day)
    return tuple(dict.fromkeys(_past(start, told, south) for start in told if start.kind in STARTS and start.bed))


def _past(start: Happening, told: list[Happening], south: bool) -> PastPlanting:
    ended = next((one.day for one in _after(start, told) if one.kind in _ENDS and one.plants is None), None)
    picked = next((one.day for one in _after(start, told) if one.kind == "picked"), ended or start.day)
    until = ended or max(picked, year_end(garden_year(start.day, south), south))
    year = host_years(start.day, until, garden_year(picked, south), south)[0]
    return PastPlanting.model_validate(
        {"bed": start.bed, "crop": start.crop, "year": year, "strips": start.strips, "until": ended}
    )


def _after(start: Happening, told: list[Happening]) -> Iterator[Happening]:
    """Yield what is told of a crop from its start to the next one on the same ground."""
    for one in told:
        same = one.crop == start.crop and one.bed in (None, start.bed)
        if (
            same
            and one.day >= start.day
            and (not one.strips or not start.strips or set(one.strips) & set(start.strips))
        ):
            if one is not start and one.kind in STARTS:
                return
            yield one
