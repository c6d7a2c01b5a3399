"""Every way and day on which a crop could be started under a cover: the choices the solver picks from."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from functools import cached_property
from typing import TYPE_CHECKING, TypeVar

from rotasolve.domain.seasons import first_day, garden_year, period_of, year_end, year_start
from rotasolve.relations.ground.hosts import HostYears, host_years
from rotasolve.relations.season.courses import Course, cleared_on, course_of, percent_of
from rotasolve.relations.season.growing import GOOD, POSSIBLE, Growing, growing
from rotasolve.relations.season.ripe_crop import LEAST_PICKING_DAYS
from rotasolve.relations.season.windows import share_of_best, start_days, windows_near, windows_of_year

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rotasolve.domain.catalogue import Cover
    from rotasolve.domain.crop import Crop, Start, Way
    from rotasolve.domain.plan import Planting
    from rotasolve.domain.scenario import PinnedPlanting, Scenario
    from rotasolve.domain.site import Site

T = TypeVar("T")

STARTS_OFFERED = 4
"""Starts offered for a crop year of a crop that nobody wishes fresh in certain months."""

ENDS_OFFERED = 3
"""Days for digging in offered for each start of a green manure."""

FULL_SHARE = 90
"""From this share of the picking season, in per cent, a sowing counts as picked to its end."""


@dataclass(frozen=True)
class Kept:
    """Where, and with how many rows and plants, a planting of an earlier plan stands.

    The solver takes it as it is if it is ``held``, else it may take it so or do without.

    ``gives_back_early`` says that another kept planting starts on the ground, or beside it, in the half month in which
    this one is cleared, after it: the half month counts as the other's, for both are judged by their days.
    """

    strips: tuple[int, ...]
    rows: int
    plants: int
    gives_back_early: bool = False
    held: bool = True


@dataclass(frozen=True)
class Sowing:
    """A crop started in one way on one day under one cover, with what follows from it.

    ``crop_year`` is the garden year of the first harvest (of the start, for a green manure), ``begins`` that in which
    the ground is taken; ``hosts`` are the first and the last in which it is a host; periods are absolute half months.
    ``worth_percent`` is what the start gives beside the best start at the site, if it is picked to its end.
    ``pinned`` marks a sowing that exists only because the grower fixed it, ``kept`` one that stands for one planting
    as it was in an earlier plan.
    """

    crop: str
    cover: str
    way: Way
    start: date
    course: Course
    crop_year: int
    begins: int
    hosts: HostYears
    worth_percent: int = 100
    pinned: bool = False
    kept: Kept | None = None

    def __hash__(self) -> int:
        """Equal sowings have equal names, and a name is quicker to count than ten fields."""
        return hash(self.name)

    @cached_property
    def periods(self) -> range:
        """The half months in which the ground is taken."""
        early = int(self.kept is not None and self.kept.gives_back_early)
        return range(period_of(self.start), period_of(self.course.clear) + 1 - early)

    @cached_property
    def picked(self) -> range:
        """The half months in which the crop is picked; none for a green manure."""
        ready, last = self.course.first_harvest, self.course.last_harvest
        return range(0) if ready is None or last is None else range(period_of(ready), period_of(last) + 1)

    @cached_property
    def name(self) -> str:
        """A name that is unique among the sowings of a scenario, and the same in every run."""
        as_it_was = ""
        if self.kept is not None:
            how = "kept" if self.kept.held else "as before"
            as_it_was = f", {how} with {self.kept.plants} plants on {self.kept.strips}"
        return f"{self.crop} {self.way} {self.start} to {self.course.clear} under {self.cover}{as_it_was}"


def sowing_on(
    crop: Crop,
    start: Start,
    day: date,
    cover: Cover,
    scenario: Scenario,
    pinned: bool = False,
    until: date | None = None,
) -> Sowing:
    """Return the sowing of a crop on one day; ``until`` replaces the day its ground is cleared."""
    return _sowing(growing(crop, start, cover, scenario.site), day, pinned=pinned, until=until)


def _sowing(
    grown: Growing, day: date, picked_days: int | None = None, pinned: bool = False, until: date | None = None
) -> Sowing:
    south = grown.site.south
    course = course_of(grown, day, picked_days)
    if until is not None:
        course = _cleared_as_offered(grown, day, until) or cleared_on(course, grown, day, until)
    crop_year = garden_year(course.first_harvest or day, south)
    return Sowing(
        crop=grown.crop.name,
        cover=grown.cover.name,
        way=grown.start.way,
        start=day,
        course=course,
        crop_year=crop_year,
        begins=garden_year(day, south),
        hosts=host_years(day, course.clear, crop_year, south),
        worth_percent=100 if grown.air is None else round(share_of_best(grown, day)),
        pinned=pinned,
    )


def _cleared_as_offered(grown: Growing, day: date, until: date) -> Course | None:
    """Return the course on offer that is cleared on a day, so that what is pinned as it stands is picked as planned."""
    if grown.crop.green_manure:
        return None
    courses = [course_of(grown, day, picked) for picked in grown.picked_days(day, grown.ready_on(day))]
    return next((course for course in courses if course.clear == until), None)


def sowing_from(planting: Planting, grown: Growing) -> Sowing:
    """Return the sowing that a planting stands for, with the days the planting gives it."""
    ready, last, south = planting.first_harvest, planting.last_harvest, grown.site.south
    share = 0 if ready is None or last is None else percent_of(grown, planting.start, ready, last)
    crop_year = garden_year(ready or planting.start, south)
    return Sowing(
        crop=planting.crop,
        cover=grown.cover.name,
        way=planting.way,
        start=planting.start,
        course=Course(planting.raise_from, ready, last, planting.clear, share),
        crop_year=crop_year,
        begins=planting.begins_in(south),
        hosts=host_years(planting.start, planting.clear, crop_year, south),
        pinned=True,
    )


def sowings_of(crop: Crop, cover: Cover, scenario: Scenario, crop_years: Sequence[int] = ()) -> list[Sowing]:
    """Return every sowing of a crop under a cover, by date; those of some of the planned crop years, or of all."""
    site, planned = scenario.site, scenario.planned_years
    years = crop_years or planned
    first, last = year_start(planned[0], site.south), year_end(planned[-1], site.south)
    found: dict[str, Sowing] = {}
    for start in crop.starts:
        grown, several = growing(crop, start, cover, site), [one.way for one in crop.starts].count(start.way) > 1
        # An autumn window may begin in one garden year and belong to the frost dates of the year before.
        for year in range(years[0] - 1, years[-1] + 1):
            windows = windows_of_year(crop, start, cover, site, year)
            for day in (day for window in windows for day in start_days(window, first, last)):
                # A plan names way and day: of two starts that share both, as near the equator, it can mean only one.
                if several and start_meant(crop, start.way, day, cover, site) != start:
                    continue
                for sowing in sowings_by_clearing(grown, day):
                    if sowing.crop_year in years and _worth_it(sowing):
                        found.setdefault(sowing.name, sowing)
    return sorted(found.values(), key=lambda sowing: (sowing.start, sowing.way, sowing.course.clear))


def sowings_by_clearing(grown: Growing, day: date, pinned: bool = False) -> list[Sowing]:
    """Return the sowings of one start on one day, each cleared at another time, that picked to its end first."""
    ready = grown.ready_on(day)
    if grown.crop.green_manure:
        return [_sowing(grown, day, pinned=pinned, until=end) for end in grown.cover_ends(day, ready)]
    return [_sowing(grown, day, picked, pinned) for picked in grown.picked_days(day, ready)]


def offered(sowings: list[Sowing], fresh_months: frozenset[int]) -> list[Sowing]:
    """Return the sowings worth offering to the solver, of all that the windows allow.

    Good starts only, or with ``fresh_months`` wished those that are possible too, if there are any. With
    ``fresh_months`` only sowings picked in one of them are offered, if there are any, and none that is cleared before
    these months are over while it could stand on. A sowing is left out if another of the same crop year beats it in
    every respect: it takes no half month more, yields no less, and is picked in every wished half month in which the
    other is. Without fresh months at most ``STARTS_OFFERED`` of what remains are offered for each crop year and each
    length of picking, evenly spread, with the first and the last. Green manures, see ``_covers_offered``.
    """
    if all(sowing.course.first_harvest is None for sowing in sowings):
        return _covers_offered(sowings)
    for least in (POSSIBLE if fresh_months else GOOD, POSSIBLE, 0):
        pool = [sowing for sowing in sowings if sowing.worth_percent >= least]
        if pool:
            break
    rich = [sowing for sowing in pool if _picked_fresh(sowing, fresh_months)] if fresh_months else []
    kept: list[Sowing] = []
    pool = _picked_to_the_end(rich, fresh_months) or pool
    for sowing in sorted(pool, key=lambda s: (len(s.periods), -s.course.share_percent, -len(s.picked), s.name)):
        if not any(_beats(other, sowing, fresh_months) for other in kept):
            kept.append(sowing)
    if not rich:
        by_year: dict[tuple[int, bool], list[Sowing]] = {}
        for sowing in sorted(kept, key=lambda s: (s.start, s.name)):
            by_year.setdefault((sowing.crop_year, sowing.course.share_percent < FULL_SHARE), []).append(sowing)
        kept = [sowing for group in by_year.values() for sowing in _spread(group, STARTS_OFFERED)]
    return sorted(kept, key=lambda s: (s.start, s.way, s.course.clear))


def _covers_offered(sowings: list[Sowing]) -> list[Sowing]:
    """Return the sowings of a green manure worth offering: few starts a year, and few days for digging each in.

    These lie whole months apart, evenly spread, with the last.
    """
    by_start: dict[int, dict[date, list[Sowing]]] = {}
    for sowing in sowings:
        by_start.setdefault(sowing.crop_year, {}).setdefault(sowing.start, []).append(sowing)
    kept: list[Sowing] = []
    for starts in by_start.values():
        for day in _spread(sorted(starts), STARTS_OFFERED):
            ends = sorted(starts[day], key=lambda s: s.course.clear)
            latest = ends[-1].periods[-1]
            kept += _spread([s for s in ends if (latest - s.periods[-1]) % 2 == 0], ENDS_OFFERED)
    return sorted(kept, key=lambda s: (s.start, s.way, s.course.clear))


def _picked_to_the_end(sowings: list[Sowing], fresh_months: frozenset[int]) -> list[Sowing]:
    """Return the sowings less those cleared in wished months while the same start could be picked in more of them."""
    most: dict[tuple[str, date], int] = {}
    for sowing in sowings:
        key = (sowing.way, sowing.start)
        most[key] = max(most.get(key, 0), len(_picked_fresh(sowing, fresh_months)))
    return [s for s in sowings if len(_picked_fresh(s, fresh_months)) == most[s.way, s.start]]


def _beats(one: Sowing, other: Sowing, fresh_months: frozenset[int]) -> bool:
    return (
        one.crop_year == other.crop_year
        and one.course.share_percent >= other.course.share_percent
        and one.periods[0] >= other.periods[0]
        and one.periods[-1] <= other.periods[-1]
        and _picked_fresh(one, fresh_months) >= _picked_fresh(other, fresh_months)
    )


def _picked_fresh(sowing: Sowing, fresh_months: frozenset[int]) -> frozenset[int]:
    return frozenset(period for period in sowing.picked if first_day(period).month in fresh_months)


def _spread(group: list[T], most: int) -> list[T]:
    if len(group) <= most:
        return group
    step = (len(group) - 1) / (most - 1)
    return [group[round(place * step)] for place in range(most)]


def _worth_it(sowing: Sowing) -> bool:
    ready, last = sowing.course.first_harvest, sowing.course.last_harvest
    return ready is None or last is None or last - ready >= timedelta(days=LEAST_PICKING_DAYS - 1)


def pinned_sowing(pin: PinnedPlanting, crop: Crop, cover: Cover, scenario: Scenario) -> Sowing:
    """Return the sowing a pin asks for: in its way, or that of the crop's ways whose window lies nearest the day."""
    start = start_meant(crop, pin.way, pin.start, cover, scenario.site)
    return sowing_on(crop, start, pin.start, cover, scenario, pinned=True, until=pin.until)


def start_meant(crop: Crop, way: Way | None, day: date, cover: Cover, site: Site) -> Start:
    """Return which of a crop's starts is meant by a way and a day: that whose window lies nearest the day."""

    def distance(start: Start) -> tuple[int, str]:
        windows = windows_near(crop, start, cover, site, day)
        away = [max((w.earliest - day).days, (day - w.latest).days, 0) for w in windows]
        return (min(away, default=400), start.way)

    meant = [start for start in crop.starts if way in (None, start.way)] or list(crop.starts)
    return meant[0] if len(meant) == 1 else min(meant, key=distance)
