"""What is to be done for a plan and on which day: from sowing indoors to clearing, each job with its planting."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import TYPE_CHECKING, Literal

from rotasolve.relations.ground.waits import days_after_digging_in
from rotasolve.relations.season.frosts import frost_dates
from rotasolve.relations.work.feeding import Feeding, feedings_of
from rotasolve.relations.work.seeds import material_of

if TYPE_CHECKING:
    from rotasolve.domain.figure import Figure
    from rotasolve.domain.plan import Plan, Planting
    from rotasolve.relations.ground.garden import Garden

JobKind = Literal[
    "lime",
    "spread compost",
    "sow indoors",
    "pot on",
    "harden off",
    "sow",
    "plant",
    "set out",
    "sow green manure",
    "cover",
    "open the cover",
    "thin",
    "earth up",
    "uncover",
    "first harvest",
    "last harvest",
    "clear",
    "dig in",
    "ground free",
]
JOB_KINDS: tuple[JobKind, ...] = JobKind.__args__  # type: ignore[attr-defined]
"""Every kind of job, in the order in which the jobs of a planting follow on one day."""

STARTS: tuple[JobKind, ...] = ("sow indoors", "sow", "plant", "set out", "sow green manure")
"""What cannot wait: told before all else that is done in the same days."""
ENDS: tuple[JobKind, ...] = ("last harvest", "clear", "ground free")
"""What hurries nobody: told together at the end."""

_TWO_WEEKS = timedelta(days=14)
_LAID_ON = ("fleece", "low tunnel")
_LIDDED = ("cold frame", "low tunnel", "tunnel")
_CAUTIOUS = 0.10
"""Covers stay until frost comes later in 1 year of 10 only."""


@dataclass(frozen=True)
class Job:
    """One job on one day. ``number`` counts plantings with the same bed, strips, crop, way and year, from 1, by start.

    ``year`` is the garden year in which the planting starts; ``nth`` counts jobs of one kind of one planting, such as
    covering it in every autumn. ``feeding`` says what is spread, of jobs before the start.
    """

    day: date
    kind: JobKind
    planting: Planting
    year: int
    number: int = 1
    nth: int = 1
    feeding: Feeding | None = None


def jobs_of(garden: Garden, plan: Plan) -> tuple[Job, ...]:
    """Return the jobs of every planting of a plan, by day, then by bed as the scenario lists them, strip and kind.

    Of what was started before the plan only those from its first day on.
    """
    order = {name: place for place, name in enumerate(garden.beds)}
    south, told, jobs = garden.scenario.site.south, dict[tuple[object, ...], int](), list[Job]()
    feedings: dict[Planting, list[Feeding]] = {}
    for feeding in feedings_of(garden, plan):
        feedings.setdefault(feeding.planting, []).append(feeding)
    for planting in sorted(plan.plantings, key=lambda p: (p.start, p.clear)):
        year = planting.begins_in(south)
        key = (planting.bed, planting.strips, planting.crop, planting.way, year)
        told[key] = told.get(key, 0) + 1
        kinds: Counter[JobKind] = Counter()
        if planting.start >= garden.scenario.begins:
            fed = feedings.get(planting, ())
            jobs += [Job(one.day, one.kind, planting, year, told[key], feeding=one) for one in fed]
        for kind, day in dict.fromkeys(days_of(garden, planting)):
            kinds[kind] += 1
            if planting.start < garden.scenario.begins and day < garden.scenario.begins:
                continue
            jobs.append(Job(day, kind, planting, year, told[key], kinds[kind]))
    return tuple(
        sorted(
            jobs,
            key=lambda job: (
                job.day,
                order[job.planting.bed],
                job.planting.strips,
                job.planting.crop,
                JOB_KINDS.index(job.kind),
                job.number,
            ),
        )
    )


def next_jobs(jobs: Sequence[Job], today: date) -> tuple[Job, ...]:
    """Return the jobs of the two weeks from a day on; of the first two weeks with any after it, if these have none.

    After the last job of all, those of the first two weeks.
    """
    if not jobs:
        return ()
    first = next((job.day for job in jobs if job.day >= today), jobs[0].day)
    begin = today if timedelta(0) <= first - today < _TWO_WEEKS else first
    return chosen(jobs, begin, begin + _TWO_WEEKS - timedelta(days=1))


def chosen(
    jobs: Iterable[Job],
    first: date | None = None,
    last: date | None = None,
    beds: Iterable[str] = (),
    crops: Iterable[str] = (),
) -> tuple[Job, ...]:
    """Return the jobs from ``first`` to ``last``, both included, of some beds and crops; of all where none is named."""
    in_beds, of_crops = frozenset(beds), frozenset(crops)
    return tuple(
        job
        for job in jobs
        if (first is None or job.day >= first)
        and (last is None or job.day <= last)
        and (not in_beds or job.planting.bed in in_beds)
        and (not of_crops or job.planting.crop in of_crops)
    )


def days_of(garden: Garden, planting: Planting) -> Iterator[tuple[JobKind, date]]:
    """Yield (kind, day) of every job of one planting, in the order of their kinds, not of their days."""
    crop = garden.crops[planting.crop]
    if crop.stays is not None:
        # What stays is cut into garden years: nothing is planted or cleared at their ends.
        yield from _picking(planting)
        return
    yield from _indoors(garden, planting)
    if crop.green_manure:
        yield "sow green manure", planting.start
    elif planting.way == "set out":
        yield "set out", planting.start
    else:
        yield "sow" if material_of(crop, planting) == "seed" else "plant", planting.start
    yield from _under_cover(garden, planting)
    if planting.way == "sown in place" and material_of(crop, planting) == "seed":
        yield from _while_it_stands("thin", crop.thin_after, planting)
    yield from _while_it_stands("earth up", crop.earth_up_after, planting)
    yield from _picking(planting)
    yield "dig in" if crop.green_manure else "clear", planting.clear
    wait = days_after_digging_in(crop, garden.scenario.rules)
    if wait > 1:
        yield "ground free", planting.clear + timedelta(days=wait)


def _picking(planting: Planting) -> Iterator[tuple[JobKind, date]]:
    if planting.first_harvest is not None:
        yield "first harvest", planting.first_harvest
    if planting.last_harvest is not None and planting.last_harvest != planting.first_harvest:
        yield "last harvest", planting.last_harvest


def _indoors(garden: Garden, planting: Planting) -> Iterator[tuple[JobKind, date]]:
    """Yield sowing indoors, potting on and hardening off; none for plants that are bought."""
    begun, raising = planting.raise_from, garden.crops[planting.crop].raising
    if begun is None:
        return
    yield "sow indoors", begun
    if raising is None:
        return
    hardened = max(begun, planting.start - timedelta(days=round(raising.hardening.usual * 7)))
    if raising.pot_on_after is not None:
        potted = begun + timedelta(days=round(raising.pot_on_after.usual * 7))
        # A plant raised in less time than usual goes out from its first pot.
        if potted < hardened:
            yield "pot on", potted
    yield "harden off", hardened


def _while_it_stands(kind: JobKind, after: Figure | None, planting: Planting) -> Iterator[tuple[JobKind, date]]:
    if after is not None:
        day = planting.start + timedelta(days=round(after.usual * 7))
        if day < (planting.first_harvest or planting.clear):
            yield kind, day


def _under_cover(garden: Garden, planting: Planting) -> Iterator[tuple[JobKind, date]]:
    """Yield when a cover is laid on or shut against frost, opened by day, and taken off.

    It is wanted at the start if frost may still come, and again from the day on which frost may come in autumn.
    """
    cover = garden.beds[planting.bed].cover
    if cover == "open ground":
        return
    site = garden.scenario.site
    year = planting.begins_in(site.south)
    if cover in _LIDDED:
        yield "open the cover", planting.start
    for season in range(year, planting.ends_in(site.south) + 1):
        last_frost, first_frost = frost_dates(site, season, _CAUTIOUS)
        if planting.start <= last_frost and season == year:
            yield "cover", planting.start
        if planting.start <= first_frost <= planting.clear:
            yield "cover", first_frost
        if planting.start <= last_frost < planting.clear and cover in _LAID_ON:
            yield "uncover", last_frost + timedelta(days=1)
