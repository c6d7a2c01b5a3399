"""How long a ripe crop stands and is picked, and when the winter ends it."""

from __future__ import annotations

from datetime import date, timedelta
from functools import cached_property
from itertools import accumulate
from typing import TYPE_CHECKING

from rotasolve.domain.seasons import first_day, garden_year, last_day, period_of, winter_months
from rotasolve.relations.season.air import YEARS
from rotasolve.relations.season.daily_curves import DAYS, day_number
from rotasolve.relations.season.estimated_climate import climate_of
from rotasolve.relations.season.frosts import RISK_SHARE, chance_of_frost_beyond, frost_dates
from rotasolve.relations.season.site_climate import nights

if TYPE_CHECKING:
    from rotasolve.domain.catalogue import Cover
    from rotasolve.domain.crop import Crop
    from rotasolve.domain.site import Site

LEAST_PICKING_DAYS = 7
"""A crop that frost leaves less than a week of picking is not worth starting: common practice, no source."""

COLD_NIGHTS = 2.0
"""Standard deviations of single nights below the mean night: the coldest night in some forty, to be stood."""

ONCE_DAYS, STEP_DAYS = 14, 42
"""What is lifted once may all be lifted in two weeks, or stand on and be picked as wanted; how long is chosen in steps
of six weeks. Common practice, no source."""

HALF_SEASON_WEEKS = 6
"""Leaves picked again and again for at least so long may be cleared half-way, to free the ground."""

NEAR_DAYS = 60
"""What is started so short before the coldest night belongs to the year after it."""

LEAST_COVER_DAYS = 42
"""A green manure is grown for six weeks at least (Rosenfeld and Rayns, A practical guide to green manures), or to its
published days to cutting if these are fewer."""

_DAYS_PAST_FIRST_FROST = {"very tender": 0, "tender": 0, "half-hardy": 21}
"""How long a crop stands after the first frost: common practice, no source. Hardy crops have no such end."""

_DECEMBER, _APRIL = day_number(date(2001, 12, 1)), day_number(date(2001, 4, 1))
_WINTER_DAYS = tuple(
    accumulate((int(n % DAYS + 1 < _APRIL or n % DAYS + 1 >= _DECEMBER) for n in range(DAYS * YEARS)), initial=0)
)
"""Days from December to March before each day of three years, as winter is in the north."""
_DAYS_PER_MONTH = 365.25 / 12
_HALF_YEAR = 182
"""Days by which the seasons of the south lie off."""


class RipeCrop:
    """A crop under a cover at a site once it is ripe: what ``growing.Growing`` knows of its picking and its end."""

    crop: Crop
    cover: Cover
    site: Site

    @cached_property
    def season_days(self) -> int:
        """Days over which a crop is picked, or stands ripe, if nothing ends it."""
        weeks = self.crop.harvest_weeks
        if self.crop.picking == "once" and self.crop.standing_weeks is not None:
            weeks = self.crop.standing_weeks
        return max(LEAST_PICKING_DAYS, round(weeks.usual * 7))

    def last_picking(self, day: date, ready: date) -> date:
        """Return the last day of picking of a start that is ripe on ``ready``, if it is not cleared before.

        For a green manure the last day of its growth.
        """
        last = ready + timedelta(days=self.season_days - 1)
        end = self.cold_end(day)
        if end is None or (end < ready and not self.crop.green_manure):
            return last
        return min(last, end)

    def cold_end(self, day: date) -> date | None:
        """Return the day on which cold ends what was started on ``day``; None if it stands through the winter.

        A crop with a known limit (``stands_to``) ends when the coldest of some forty nights reaches it, others some
        days after the first frost by their hardiness.
        """
        if self._has_limit:
            return self._limit_after(day)
        days = _DAYS_PAST_FIRST_FROST.get(self.crop.hardiness.level)
        if days is None:
            return None
        year = garden_year(day, self.site.south)
        for near in (year, year + 1):
            if near not in self._first_frosts:
                self._first_frosts[near] = frost_dates(self.site, near, RISK_SHARE[self.site.risk])[1]
            end = self._first_frosts[near] + timedelta(days=days + self.cover.days_later)
            if end >= day:
                return end
        return None

    def spared_by_frost(self, ready: date) -> float:
        """Return in what share of years, 0 to 1, what is lifted once is ripe before the first frost ends it.

        The window holds to one date; but what ripens a week before it is lost in nearly every other year. What is
        picked again and again loses some days in one year and gains some in another.
        """
        days = _DAYS_PAST_FIRST_FROST.get(self.crop.hardiness.level)
        if days is None or self._has_limit or self.crop.picking != "once" or self.crop.green_manure:
            return 1.0
        last = ready - timedelta(days=days + self.cover.days_later)
        number = day_number(last)
        if number not in self._spared:
            self._spared[number] = round(1 - chance_of_frost_beyond(self.site, last)[1], 2)
        return self._spared[number]

    @cached_property
    def _spared(self) -> dict[int, float]:
        return {}

    @cached_property
    def _has_limit(self) -> bool:
        """Whether it ends by a known limit of cold, not by the first frost."""
        return self.crop.stands_to is not None and self.crop.hardiness.level in ("hardy", "half-hardy")

    @cached_property
    def _first_frosts(self) -> dict[int, date]:
        return {}

    def _limit_after(self, day: date) -> date | None:
        days = self._days_to_limit[day_number(day) - 1]
        return None if days is None else day + timedelta(days=days)

    @cached_property
    def _days_to_limit(self) -> tuple[int | None, ...]:
        """Days from each day of the year to the cold that ends the crop in the winter to come; None: it stands.

        A start in late winter is not ended by the winter that passes, so only falling temperatures count.
        """
        assert self.crop.stands_to is not None
        climate = climate_of(self.site)
        level = self.crop.stands_to.usual + COLD_NIGHTS * climate.night_spread - self.cover.night_gain_c
        days = nights(climate).days
        found: list[int | None] = [None] * DAYS
        for number in range(self._coldest + DAYS, self._coldest, -1):
            here, after = number % DAYS, (number + 1) % DAYS
            cold = days[here] <= days[here - 1] and days[here] <= level
            later = None if number == self._coldest + DAYS else found[after]
            found[here] = 0 if cold else None if later is None else later + 1
        return tuple(found)

    @cached_property
    def _coldest(self) -> int:
        days = nights(climate_of(self.site)).days
        return days.index(min(days))

    def darkest_day(self, day: date) -> date:
        """Return the middle of the winter after a start: the coldest night of the year, of the next if it is near."""
        days = (self._coldest - (day_number(day) - 1)) % DAYS
        return day + timedelta(days=days if days >= NEAR_DAYS else days + DAYS)

    def picked_days(self, day: date, ready: date) -> tuple[int, ...]:
        """Return for how many days the crop may be picked before its ground is cleared, the whole time first.

        Leaves may be cleared half-way. Fruit that is picked again and again is not pulled in full bearing. What is
        lifted once may be lifted in two weeks, or stand on.
        """
        whole = (self.last_picking(day, ready) - ready).days + 1
        if self.crop.picking == "repeated":
            long = self.crop.harvest_weeks.usual >= HALF_SEASON_WEEKS and not self.crop.fruit
            half = max(LEAST_PICKING_DAYS, self.season_days * 50 // 100)
            return (whole, half) if long and half < whole else (whole,)
        return (whole, *range(ONCE_DAYS, whole - 1, STEP_DAYS))

    def cover_ends(self, day: date, ready: date) -> tuple[date, ...]:
        """Return the days, ends of half months, on which a green manure may be dug in, the last of its growth first.

        It is old enough after ``LEAST_COVER_DAYS`` and grows on until it would set seed. What frost kills before that
        may lie as a mulch until the winter is over. With more than two months of winter to come it is not dug in unless
        it must: the ground would lie bare after all.
        """
        last, cold = self.last_picking(day, ready), self.cold_end(day)
        youngest = min(day + timedelta(days=LEAST_COVER_DAYS), ready)
        whole, latest = period_of(last), period_of(last)
        winter = winter_months(self.site.south)
        if cold is not None and youngest <= cold < ready + timedelta(days=self.season_days - 1):
            while first_day(latest + 1).month in winter:
                latest += 1
        periods = range(period_of(youngest), latest + 1)
        ends = [p for p in reversed(periods) if p != whole and first_day(p).month not in winter[:3]]
        return tuple(last_day(period) for period in (whole, *ends))

    def kept_over_winter(self, ready: date, last: date) -> float:
        """Return the share of what stands that the winter leaves, picked evenly: half of it stands half the time."""
        if self.crop.winter_loss is None or self.crop.picking != "once":
            return 1.0
        begin = day_number(ready) - 1 + (_HALF_YEAR if self.site.south else 0)
        days = _WINTER_DAYS[begin + (last - ready).days + 1] - _WINTER_DAYS[begin]
        return max(0.0, 1 - self.crop.winter_loss.usual / 100 * days / _DAYS_PER_MONTH / 2)
