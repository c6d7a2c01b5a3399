"""What starts of a window give, and which days are good: by hand, and for every shipped crop."""

from __future__ import annotations

from datetime import date, timedelta
from itertools import pairwise

import pytest

from rotasolve.domain.crop import Crop
from rotasolve.domain.site import Site
from rotasolve.files.crops import load_catalogue
from rotasolve.relations.season.crop_seasons import judge_day, seasons_of
from rotasolve.relations.season.growing import growing
from rotasolve.relations.season.start_shares import part_of, parts_in, shares_in
from rotasolve.relations.season.windows import Window, share_of_best, windows_of_year
from rotasolve.views.words.look import Look
from rotasolve.views.words.windows import say_judged
from tests.helpers.climates import CAMBRIDGE, INLAND, site_with
from tests.helpers.tiny import CATALOGUE, CLOVER, KALE, crop, site, start

SHIPPED = load_catalogue()
OPEN = SHIPPED.cover("open ground")
TINY_OPEN = CATALOGUE.cover("open ground")
DAY = timedelta(days=1)
SITES = {"Cambridge": site_with(CAMBRIDGE), "inland": site_with(INLAND, latitude=45)}


def test_a_crop_counted_in_plain_days_is_good_all_along() -> None:
    where = Site.model_validate(site())
    grown = growing(KALE, KALE.starts[0], TINY_OPEN, where)
    (window,) = windows_of_year(KALE, KALE.starts[0], TINY_OPEN, where, 2027)
    assert window.earliest == window.latest == date(2027, 7, 17)
    (share,) = shares_in(grown, window)
    assert (share.first, share.percent, share.part) == (date(2027, 7, 17), 100, "good")
    (part,) = parts_in(grown, window)
    assert (part.part, part.first, part.last) == ("good", date(2027, 7, 17), date(2027, 7, 17))


def test_a_tender_crop_cut_short_by_frost_says_how_much_is_left() -> None:
    # Ripe after 60 days and picked for 8 weeks = 56 days: sown on 15 July it is picked from 13 September until the
    # first frost of 1 October, 19 days: 19 / 56 = 33 %.
    late = crop(
        "bean", "legumes", weeks=8, starts=[start(2, 60, latest=13)], hardiness=dict(level="tender", source="s")
    )
    where = Site.model_validate(site())
    grown = growing(late, late.starts[0], TINY_OPEN, where)
    (window,) = windows_of_year(late, late.starts[0], TINY_OPEN, where, 2027)
    shares = {share.first: share.percent for share in shares_in(grown, window)}
    assert shares[date(2027, 5, 15)] == 100
    assert shares[date(2027, 7, 16)] == 100 * 18 // 56
    assert list(shares)[1:3] == [date(2027, 5, 16), date(2027, 6, 1)]


def test_a_green_manure_has_neither_shares_nor_parts() -> None:
    where = Site.model_validate(site())
    grown = growing(CLOVER, CLOVER.starts[0], TINY_OPEN, where)
    window = Window(date(2027, 8, 1), date(2027, 8, 31))
    assert not shares_in(grown, window)
    assert not parts_in(grown, window)
    (judged,) = judge_day(CLOVER, [TINY_OPEN], where, date(2027, 8, 21))
    assert judged.open
    assert judged.share is None


@pytest.mark.parametrize("where", SITES)
@pytest.mark.parametrize("record", [one for one in SHIPPED.crops if not one.green_manure], ids=lambda one: one.name)
def test_the_parts_of_a_window_are_its_days(record: Crop, where: str) -> None:
    for one in record.starts:
        grown = growing(record, one, OPEN, SITES[where])
        for window in windows_of_year(record, one, OPEN, SITES[where], 2027):
            parts, days = parts_in(grown, window), 0
            assert parts[0].first == window.earliest
            assert parts[-1].last == window.latest
            for before, after in pairwise(parts):
                assert after.first == before.last + DAY
                assert after.part != before.part
            for part in parts:
                run = [part.first + n * DAY for n in range((part.last - part.first).days + 1)]
                days += sum(part_of(grown, day) != part.part for day in run)
            # Shares jump by a hair from day to day: at most a few days go with their neighbours.
            assert days <= 6
            for share in shares_in(grown, window):
                assert 0 <= share.percent <= 100
                worth = share_of_best(grown, share.first) if grown.air is not None else 100
                bounds = {"good": (80, 200), "possible": (50, 80), "catch crop": (0, 50)}[share.part]
                assert bounds[0] - 0.5 <= worth <= bounds[1] + 0.5


def test_garlic_planted_in_spring_gives_60_to_75_per_cent() -> None:
    # Growers' guides give spring garlic 60 to 75 % of garlic planted in autumn (crops/: spring_share, with its source).
    spring, autumn = (
        [share for opened in season.windows for share in opened.shares]
        for season in sorted(
            seasons_of(SHIPPED.crop("garlic"), [OPEN], SITES["Cambridge"], 2027),
            key=lambda season: season.windows[0].window.earliest,
        )
    )
    assert {share.part for share in (*spring, *autumn)} == {"good"}
    assert all(60 <= share.percent <= 75 for share in spring)
    assert {share.percent for share in autumn} == {100}


def test_a_day_that_is_not_good_says_which_are() -> None:
    (judged,) = judge_day(SHIPPED.crop("beetroot"), [OPEN], SITES["Cambridge"], date(2027, 8, 1))
    assert judged.open
    assert judged.share is not None
    # The last frost of 18 April less 6.3 weeks, 44 days: the soil, at 5.7 degC, has spring's 5 and the seed's 4.4.
    said = f"; a possible start, {judged.share.percent} % of a full crop; good from 5 March to "
    assert said in say_judged(judged, Look())
    (early,) = judge_day(SHIPPED.crop("beetroot"), [OPEN], SITES["Cambridge"], date(2027, 5, 1))
    # Those of March and April give more: nothing hides that any more at the yield's own climate.
    assert say_judged(early, Look()).endswith("; a good start, 97 % of a full crop")
    (shut,) = judge_day(SHIPPED.crop("beetroot"), [OPEN], SITES["Cambridge"], date(2027, 9, 30))
    assert not shut.open
    assert shut.share is None
    assert "full crop" in say_judged(shut, Look()) or "ripe" in say_judged(shut, Look())


def test_where_no_start_is_good_the_best_one_is_named() -> None:
    # Tomatoes in the open at 52 degrees north: they go out so late that no open start comes near the best one.
    (judged,) = judge_day(SHIPPED.crop("tomato"), [OPEN], SITES["Cambridge"], date(2027, 6, 4))
    assert judged.open
    assert "; the best open start gives " in say_judged(judged, Look())
