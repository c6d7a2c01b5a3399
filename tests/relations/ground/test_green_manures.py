"""Green manures: on which days they may be dug in, and which of these are offered."""

from __future__ import annotations

from collections import Counter
from datetime import date

from rotasolve.domain.crop import Crop
from rotasolve.domain.seasons import last_day, period_of
from rotasolve.relations.ground.sowings import ENDS_OFFERED, offered, sowings_of
from rotasolve.relations.season.growing import growing
from tests.helpers.tiny import AUTUMN, CATALOGUE, CLOVER, SOURCE, crop, scenario, start

OPEN = CATALOGUE.cover("open ground")


def test_a_green_manure_counts_in_the_year_of_its_start() -> None:
    # 21 August, cut after 30 days, 20 September, at the soonest, and 3 October at the latest.
    found = sowings_of(CLOVER, OPEN, scenario())
    assert [sowing.course.clear for sowing in found] == [date(2027, 9, 30), date(2027, 10, 15)]
    assert {(sowing.crop_year, len(sowing.picked)) for sowing in found} == {(2027, 0)}
    # A half month is no difference worth a choice.
    assert [sowing.course.clear for sowing in offered(found, frozenset())] == [date(2027, 10, 15)]


RYE = crop("rye", "grasses", green_manure=True, weeks=2, starts=[start(-2, 220, 2, unit=AUTUMN)])
"""17 September to 15 October, cut after 220 days and two weeks, 8 May of the next year for 17 September."""


def ends(record: Crop, day: str, latitude: float = 50) -> list[str]:
    grown = growing(record, record.starts[0], OPEN, scenario(latitude=latitude).site)
    begin = date.fromisoformat(day)
    return [f"{end:%m-%d}" for end in grown.cover_ends(begin, grown.ready_on(begin))]


def test_a_green_manure_may_end_in_any_half_month_but_in_the_depth_of_winter() -> None:
    # Six weeks from 17 September are 29 October; the last day is 25 April + 13 days = 8 May.
    spring = ["05-15", "04-30", "04-15", "03-31", "03-15", "02-29", "02-15"]
    assert ends(RYE, "2027-09-17") == [*spring, "10-31"]
    # The south's winter is half a year off: from 17 March to 6 November, not in May, June and July.
    late = ["11-15", "10-31", "10-15", "09-30", "09-15", "08-31", "08-15", "04-30"]
    assert ends(RYE, "2028-03-17", latitude=-50) == late


def test_few_ends_a_whole_month_apart_are_offered_for_each_start() -> None:
    found = offered(sowings_of(RYE, OPEN, scenario()), frozenset())
    by_start = Counter(sowing.start for sowing in found)
    # 17 September and 1 October; the window closes on 15 October.
    assert (len(by_start), set(by_start.values())) == (2, {ENDS_OFFERED})
    first = [f"{sowing.course.clear:%m-%d}" for sowing in found if sowing.start == date(2027, 9, 17)]
    # Of 15 February, March, April and May and 31 October, which is no whole number of months off 15 May.
    assert first == ["02-15", "04-15", "05-15"]


def test_what_frost_kills_may_lie_as_a_mulch_until_the_winter_is_over() -> None:
    oats = crop(
        "oats",
        "grasses",
        green_manure=True,
        starts=[start(-8, 190, unit=AUTUMN)],
        hardiness={"level": "half-hardy", "source": SOURCE},
    )
    # Half-hardy: it dies three weeks after the first frost of the risk's year, before it would set seed in March.
    grown = growing(oats, oats.starts[0], OPEN, scenario().site)
    begin = date(2027, 8, 6)
    killed = grown.cold_end(begin)
    assert killed is not None
    assert date(2027, 10, 1) <= killed <= date(2027, 10, 31)
    found = grown.cover_ends(begin, grown.ready_on(begin))
    assert found[0] == last_day(period_of(killed))
    assert max(found) == date(2028, 3, 31)
    assert date(2027, 12, 31) not in found
