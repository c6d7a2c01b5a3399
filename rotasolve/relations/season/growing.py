"""How a way of starting a crop goes on under a cover at a site: when it is ripe, how much of a full crop it gives.

Ripeness
    A crop is ripe when the degree days of its published days are reached. Bulletins do not say how warm their days
    were: they are taken at the crop's own figure (``days_known_at``) or else at the lower half of its best warmth, at
    most the mean of the warmest stretch of so many days where its figures come from. Nothing is clamped: where the
    degree days never come together before cold ends the crop, it is not ripe. Where the usual kinds ripen late or
    never, quick kinds are counted, with the shortest published days: growers in short seasons buy these.
Yield
    A sowing gives its published figure times min(1, G / G of a full crop). G sums, day by day, the light on the ground
    that leaves cover times a trapezoid of the day's mean temperature (dry matter follows the light that leaves take
    up: Monteith 1977, Philosophical Transactions of the Royal Society B 281:277-294). For fruit that is picked again
    and again it is summed over the days of picking, for what is lifted once to the first ripe day, for leaves and
    shoots from the start to the last picking. A full crop is the same crop's best start in the climate its yield was
    published for, so that a dull site yields less everywhere, or the best start in the open at the site if that grows
    more: no site gives more than what is published, and everywhere a start that is late loses by it. What frost kills
    is no worse off under a cover: whoever has one opens it, or takes it off, once the open air suits the crop. Leaves
    cover the ground from ``COVERED_AT`` of the degree days to ripeness on: the middle stage of FAO-56, which begins at
    full cover, begins after 0.45 to 0.7 of the days to its end for most vegetables (FAO-56, table 11).

A crop without figures of warmth is counted in plain days, its yield in full; so is one that stands through a winter
before it is ripe (garlic), for its published days say little of warmth.
"""

from __future__ import annotations

import math
from bisect import bisect_left
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from functools import cached_property, lru_cache
from itertools import accumulate
from typing import TYPE_CHECKING

from rotasolve.domain.site import Site
from rotasolve.relations.season.air import YEARS, Air, Warmth, air_of, warmth_of
from rotasolve.relations.season.daily_curves import DAYS, day_number
from rotasolve.relations.season.estimated_climate import climate_of
from rotasolve.relations.season.frosts import turns_of
from rotasolve.relations.season.ripe_crop import LEAST_PICKING_DAYS, RipeCrop
from rotasolve.relations.season.site_climate import air
from rotasolve.relations.season.temperature_gates import gates_of, opening_of

if TYPE_CHECKING:
    from rotasolve.domain.catalogue import Cover
    from rotasolve.domain.climate import Climate
    from rotasolve.domain.crop import Crop, Start
    from rotasolve.domain.figure import Figure
    from rotasolve.relations.season.temperature_gates import Gate

COVERED_AT = 0.6
FIRST_COVER = 0.05
"""Share of the ground under leaves at the start: common practice, no source."""

GOOD, POSSIBLE, CATCH_CROP = 80, 50, 25
"""From these shares, in per cent of the best start at the site, a start is called good, possible, or a catch crop."""

LONG_DAYS = 150
"""Starts whose published days are more than this stand through a winter."""

_LAST = DAYS * YEARS
_YEAR = 2001
"""A year without a leap day, by which days of the year are compared."""


@dataclass(frozen=True, eq=False)
class Growing(RipeCrop):
    """A start of a crop under a cover at a site. ``quick`` counts the shortest published days instead of the usual."""

    crop: Crop
    start: Start
    cover: Cover
    site: Site
    quick: bool = False
    reference: Growing | None = field(default=None, repr=False)
    outdoors: Growing | None = field(default=None, repr=False)

    @cached_property
    def warmth(self) -> Warmth | None:
        """What the crop asks of the air; None if it is counted in plain days."""
        long = self.start.days_to_harvest.usual > LONG_DAYS
        return None if long or self.crop.green_manure else warmth_of(self.crop)

    @cached_property
    def air(self) -> Air | None:
        """The air it grows in; None if it is counted in plain days."""
        return None if self.warmth is None else air_of(self.site, self.cover, self.warmth)

    def ready_on(self, day: date) -> date:
        """Return the first day of picking; what is never ripe counts by its published days."""
        days = self.days_until_ripe(day)
        return day + timedelta(days=round(self.published_days) if days is None else days)

    @cached_property
    def published_days(self) -> float:
        """Published days to the first picking: the usual ones, or those of quick kinds."""
        figure = self.start.days_to_harvest
        return figure.least if self.quick else figure.usual

    @cached_property
    def needed(self) -> float:
        """Degree days to ripeness."""
        assert self.warmth is not None
        return max(1.0, self.published_days * (self.known_at - self.warmth.base))

    @cached_property
    def known_at(self) -> float:
        """The mean temperature in degrees C at which the published days are taken."""
        assert self.warmth is not None
        if self.crop.days_known_at is not None:
            return self.crop.days_known_at.usual
        there = self.crop.reference
        warmest = math.inf if there is None else _warmest_mean(there.climate, round(self.published_days))
        return max(self.warmth.base + 1, min(self.warmth.best, warmest, self.warmth.ceiling))

    def days_until_ripe(self, day: date) -> int | None:
        """Return the days from a start to the first picking; None if the warmth never comes together in a year."""
        return self._days_from(day_number(day))

    def _days_from(self, number: int) -> int | None:
        if self.air is None:
            return round(self.published_days)
        sums, first = self.air.warmth, number - 1
        found = bisect_left(sums, sums[first] + self.needed) - first
        return None if found > DAYS else max(1, found)

    def share(self, day: date, ready: date, last: date) -> float:
        """Return the share, 0 to 1, of a full crop that a start on ``day`` gives, picked from ``ready`` to ``last``."""
        picked = (last - ready).days + 1
        if picked <= 0:
            return 0.0
        own = self._growth_share(day_number(day), (ready - day).days, picked) * self.kept_over_winter(ready, last)
        own *= self.spared_by_frost(ready)
        return max(own, self._share_outdoors(day, picked)) if self.outdoors is not None and self._likes_covers else own

    @cached_property
    def _likes_covers(self) -> bool:
        return self.crop.hardiness.level in ("tender", "very tender")

    def _share_outdoors(self, day: date, picked: int) -> float:
        """Return the share that the same start gives in the open, picked for as many days at most; 0 if not ripe."""
        assert self.outdoors is not None
        ripe = self.outdoors.ripens(day)
        if ripe is None:
            return 0.0
        ready, last = ripe
        return self.outdoors.share(day, ready, min(last, ready + timedelta(days=picked - 1)))

    def _growth_share(self, number: int, ripe: int, picked: int) -> float:
        if self.air is None or self.reference is None:
            whole = 1.0 if self.crop.picking == "once" else min(1.0, picked / self.season_days)
            return whole * self._time_of_year
        key = (number, ripe, picked)
        if key not in self._shares:
            self._shares[key] = min(1.0, self._growth(*key) / self._full_growth) * self._time_of_year
        return self._shares[key]

    @cached_property
    def _full_growth(self) -> float:
        """The growth of a full crop."""
        assert self.reference is not None
        here = (self.outdoors or self).best_growth
        return max(self.reference.best_growth, here) if here < math.inf else self.reference.best_growth

    @cached_property
    def _shares(self) -> dict[tuple[int, int, int], float]:
        return {}

    @cached_property
    def _time_of_year(self) -> float:
        """The share a start of this time of year gives at best: garlic planted in spring stays small."""
        spring = self.crop.spring_share if self.opens_in_spring else None
        return 1.0 if spring is None else spring.usual / 100

    def _growth(self, number: int, ripe: int, picked: int) -> float:
        assert self.air is not None
        begin = number - 1
        ready = min(begin + ripe, _LAST)
        last = min(ready + picked, _LAST)
        if self.crop.picking == "repeated" and self.crop.fruit:
            return self.air.growth_between(ready, last)
        end = ready if self.crop.picking == "once" else last
        full = COVERED_AT * self.needed
        closed = min(end, bisect_left(self.air.warmth, self.air.warmth[begin] + full))
        return self.air.growth_while_closing(begin, closed, full, FIRST_COVER) + self.air.growth_between(closed, end)

    @cached_property
    def best_growth(self) -> float:
        """The growth of the best start of this kind; infinite if none is ripe."""
        found = 0.0
        for day in self._starts_compared(12):
            ripe = self.ripens(day)
            if ripe is not None:
                ready, last = ripe
                found = max(found, self._growth(day_number(day), (ready - day).days, (last - ready).days + 1))
        return found or math.inf

    @cached_property
    def opening(self) -> date:
        """The published first day of the start, counted from the frost dates of some year."""
        return self._published(self.start.earliest)

    def _published(self, end: Figure) -> date:
        return turns_of(self.crop, self.site, self.cover, _YEAR).day(end, end.usual)

    @cached_property
    def best_share(self) -> float:
        """The share, 0 to 1, of a full crop that the best start at the site gives."""
        return max(self.share_of_start(day) for day in self._starts_compared(24))

    @cached_property
    def best_possible_share(self) -> float:
        """The same of starts on days that are warm enough: seed and plants wait for these."""
        days = [day for day in self._starts_compared(24) if self._warm_enough(day)]
        return max(map(self.share_of_start, days), default=0.0)

    def _warm_enough(self, day: date) -> bool:
        """Return whether the site is warm enough for a start on a day from the opening on."""
        return self._first_warm_day <= day and not any(gate.shuts(day) for gate in self._gates)

    @cached_property
    def _gates(self) -> tuple[Gate, ...]:
        return gates_of(self.crop, self.start, self.cover, climate_of(self.site), self.site.risk)

    @cached_property
    def _first_warm_day(self) -> date:
        if not self.opens_in_spring or not self._gates:
            return self.opening
        turns = turns_of(self.crop, self.site, self.cover, _YEAR)
        usual = self.opening - timedelta(days=self.cover.days_earlier)
        return opening_of(self.crop, self.start, self.cover, turns).warm_enough(self._gates, usual)

    def _starts_compared(self, weeks: int) -> list[date]:
        """Return a day in each of so many weeks from the opening on.

        Of what stands through the winter published days only: seed sown in January is no autumn crop, and would have
        the true ones look poor.
        """
        days = [self.opening + timedelta(weeks=week) for week in range(weeks)]
        if not self.stands_the_winter:
            return days
        last = self._published(self.start.latest)
        return [day for day in days if day <= last] or days[:1]

    @cached_property
    def opens_in_spring(self) -> bool:
        """Whether the start is counted from the last frost."""
        return self.start.earliest.unit == "weeks after last frost"

    @cached_property
    def stands_the_winter(self) -> bool:
        """Whether it may be ripe only after the winter: what is sown in autumn and stands frost."""
        long = self.start.days_to_harvest.usual > LONG_DAYS
        return not self.opens_in_spring and (long or self.crop.hardiness.level == "hardy")

    def ripens(self, day: date) -> tuple[date, date] | None:
        """Return the first and last day of picking of a start on ``day``; None if cold or dark ends it before."""
        days = self.days_until_ripe(day)
        if days is None:
            return None
        ready = day + timedelta(days=days)
        if self.air is not None and not self.stands_the_winter and ready > self.darkest_day(day):
            return None
        end = self.cold_end(day)
        if end is not None and not self.stands_the_winter and (end - ready).days < LEAST_PICKING_DAYS:
            return None
        return ready, self.last_picking(day, ready)

    def share_of_start(self, day: date) -> float:
        """Return the share, 0 to 1, of a full crop that a start gives if it is picked to its end; 0 if not ripe.

        Worked out once for each day of the year: years differ by a leap day at most.
        """
        number = day_number(day)
        if number not in self._start_shares:
            ripe = self.ripens(day)
            self._start_shares[number] = 0.0 if ripe is None else self.share(day, *ripe)
        return self._start_shares[number]

    @cached_property
    def _start_shares(self) -> dict[int, float]:
        return {}


@lru_cache(maxsize=1024)
def _warmest_mean(climate: Climate, days: int) -> float:
    """Return the mean temperature in degrees C of the warmest stretch of so many days."""
    sums = list(accumulate(air(climate).days * 2, initial=0.0))
    return max(sums[first + days] - sums[first] for first in range(DAYS)) / days


@lru_cache(maxsize=1024)
def _reference(crop: Crop, start: Start, open_ground: Cover) -> Growing | None:
    """Return the start that a full crop is measured by, in the climate its yield was published for; None if unknown.

    Where the usual kinds are never ripe there, quick ones are taken; failing these, another start of the crop.
    """
    if crop.reference is None or warmth_of(crop) is None:
        return None
    there = Site(latitude=crop.reference.latitude, climate=crop.reference.climate)
    cover = crop.reference_cover or open_ground
    kinds = [Growing(crop, one, cover, there, quick) for one in (start, *crop.starts) for quick in (False, True)]
    return next((kind for kind in kinds if kind.air is not None and kind.best_growth < math.inf), kinds[0])


@lru_cache(maxsize=4096)
def growing(crop: Crop, start: Start, cover: Cover, site: Site) -> Growing:
    """Return how a start goes on: with the usual kinds, or with quick ones where these give more."""
    gains = {"night_gain": None, "day_gain": None, "light_through": None}
    bare = cover.model_copy(update={"name": "open ground", "days_earlier": 0, "days_later": 0, **gains})
    bare = bare.model_copy(update={"source": (), "note": "", "caution": ""})
    reference = _reference(crop, start, bare)
    covered = (cover.night_gain_c, cover.day_gain_c, cover.light_share) != (0, 0, 1)
    outdoors = growing(crop, start, bare, site) if covered else None
    usual = Growing(crop, start, cover, site, reference=reference, outdoors=outdoors)
    if usual.air is None or usual.best_possible_share >= POSSIBLE / 100:
        return usual
    quick = replace(usual, quick=True)
    return max(usual, quick, key=lambda kind: (kind.best_possible_share, kind.best_share))
