"""Ripeness and yield: by hand in steady climates, and what holds for every shipped crop.

A steady climate has the same nights and days all year, so that each day is worth the same degree days.
"""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import date, timedelta
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rotasolve.domain.catalogue import Cover
from rotasolve.domain.crop import Crop
from rotasolve.domain.site import Site
from rotasolve.files.crops import load_catalogue
from rotasolve.relations.season.estimated_climate import climate_of
from rotasolve.relations.season.growing import POSSIBLE, Growing, growing
from rotasolve.relations.season.radiation import daily_light
from rotasolve.relations.season.site_climate import air, nights
from rotasolve.relations.season.windows import start_window
from tests.helpers.climates import CAMBRIDGE, INLAND, site_with, steady, warmed
from tests.helpers.tiny import CATALOGUE, SOURCE, crop, figure, site, start, steady_warmth

SHIPPED = load_catalogue()
OPEN, TUNNEL = SHIPPED.cover("open ground"), SHIPPED.cover("tunnel")
WARM = [record for record in SHIPPED.crops if not record.green_manure]
MAY = date(2027, 5, 1)
FROST: dict[str, Any] = {"last_frost": {"half": "1 May"}, "first_frost": {"half": "1 October"}}


def warm(**more: Any) -> Crop:
    """Return a hardy crop that grows from 5 degrees, best between 15 and 20, not from 30, ripe 60 days after 1 May.

    Its published days are taken at 15 degrees, worth 10 degree days each: it needs 600.
    """
    return crop("beet", "goosefoots", weeks=8, starts=[start(0, 60)], **steady_warmth(**more))


def grown(record: Crop, where: Site, cover: Cover | None = None, **more: Any) -> Growing:
    return Growing(record, record.starts[0], cover or CATALOGUE.cover("open ground"), where, **more)


def covered(night: float, by_day: float, light: float = 100) -> Cover:
    gains = {"night_gain": figure(night, "degC"), "day_gain": figure(by_day, "degC")}
    none = {"days_earlier": 0, "days_later": 0, "source": SOURCE}
    return Cover.model_validate({"name": "tunnel", **none, **gains, "light_through": figure(light, "%")})


@pytest.mark.parametrize(
    ("mean", "days"),
    # 600 degree days at mean - 5 a day, rounded up; nothing is clamped, but after a year nothing is waited for.
    [(15, 60), (16, 55), (25, 30), (7, 300), (6.6, None), (5, None)],
)
def test_a_crop_is_ripe_when_its_degree_days_are_reached(mean: float, days: int | None) -> None:
    assert grown(warm(), steady(mean)).days_until_ripe(MAY) == days


def test_quick_kinds_need_the_shortest_published_days() -> None:
    record = warm()
    days = record.starts[0].days_to_harvest.model_copy(update={"value": None, "low": 40.0, "typical": 60.0, "high": 80})
    both = record.model_copy(update={"starts": (record.starts[0].model_copy(update={"days_to_harvest": days}),)})
    # 40 x 10 = 400 degree days at 11 a day: 36.4, so 37 days; the usual ones 54.5, so 55.
    assert [grown(both, steady(16), quick=quick).days_until_ripe(MAY) for quick in (True, False)] == [37, 55]


@pytest.mark.parametrize(
    ("mean", "share"),
    [(4, 0), (5, 0), (7.5, 0.25), (10, 0.5), (15, 1), (17, 1), (20, 1), (25, 0.5), (30, 0), (35, 0)],
)
def test_growth_follows_a_trapezoid_of_the_mean(mean: float, share: float) -> None:
    # Corners 5, 15, 20 and 30 degrees: half-way up and half-way down it is a half.
    warmth = grown(warm(), steady(15)).warmth
    assert warmth is not None
    assert warmth.response(mean) == pytest.approx(share)


@pytest.mark.parametrize(("mean", "share"), [(17, 1), (10, 0.5), (7.5, 0.25), (25, 0.5)])
def test_fruit_comes_with_light_and_warmth_of_the_days_of_picking(mean: float, share: float) -> None:
    # Under the same light, each day of picking is worth what the trapezoid gives it.
    fruit, ready, last = warm(fruit=True), date(2027, 7, 1), date(2027, 7, 28)
    there = grown(fruit, steady(17))
    half_there = grown(fruit, steady(17), reference=there).share(MAY, ready, last)
    assert 0 < half_there < 1
    found = grown(fruit, steady(mean), reference=there).share(MAY, ready, last)
    assert found == pytest.approx(share * half_there)
    # Its part of a full crop is the part of the best eight weeks' light, in a climate that is warm enough all year.
    light = daily_light(climate_of(steady(17)), 52)
    best = max(sum(light[first : first + 56]) for first in range(120 + 50, 120 + 50 + 84, 7))
    assert half_there == pytest.approx(sum(light[181:209]) / best)


def test_a_cover_takes_light() -> None:
    there = grown(warm(fruit=True), steady(17))
    dark = grown(warm(fruit=True), steady(17), covered(0, 0, light=70), reference=there)
    assert dark.share(MAY, date(2027, 7, 1), date(2027, 7, 28)) == pytest.approx(
        0.7 * grown(warm(fruit=True), steady(17), reference=there).share(MAY, date(2027, 7, 1), date(2027, 7, 28))
    )


@pytest.mark.parametrize(
    ("mean", "days"),
    [
        (10, 83),  # warmed by (1 + 3.5) / 2 = 2.25 to 12.25: 600 / 7.25 = 82.8
        (19, 40),  # only up to 20, the warmth it likes best: 600 / 15
        (20, 40),  # the lid is off
        (22, 36),  # as in the open: 600 / 17 = 35.3
    ],
)
def test_a_cover_warms_as_far_as_the_crop_likes_it(mean: float, days: int) -> None:
    assert grown(warm(), steady(mean), covered(1, 3.5)).days_until_ripe(MAY) == days


@pytest.mark.parametrize(
    ("first", "last", "per_cent", "share"),
    # Lost at 20 % a month while it is picked evenly, so by half: 1 - 0.2 x days / 30.4375 / 2; December to March alone.
    [
        ("2027-10-01", "2027-11-30", 20, 1.0),
        ("2027-11-01", "2028-01-31", 20, 1 - 0.2 * 62 / 30.4375 / 2),
        ("2027-12-01", "2028-03-31", 20, 1 - 0.2 * 121 / 30.4375 / 2),
        ("2027-12-01", "2028-03-31", 60, 0.0),  # 60 % of four months: nothing is left
    ],
)
def test_winter_takes_its_share_of_what_stands(first: str, last: str, per_cent: float, share: float) -> None:
    leek = crop("leek", "onions", starts=[start(0, 160)], picking="once", winter_loss=figure(per_cent, "%"))
    ends = date.fromisoformat(first), date.fromisoformat(last)
    # A year counts 365 days: 29 February is no day of its own.
    assert grown(leek, steady(10)).share(MAY, *ends) == pytest.approx(share, abs=0.2 / 30 / 2 + 1e-9)
    picked = leek.model_copy(update={"picking": "repeated", "winter_loss": None})
    assert grown(picked, steady(10)).share(MAY, *ends) == 1


def test_the_winter_of_the_south_is_half_a_year_off() -> None:
    # 10 % a month: nothing from December to February, in the south's summer; from June to August, three months of it,
    # 3 x 10 % of what stands, half of it on average.
    leek = crop("leek", "onions", starts=[start(0, 160)], picking="once", winter_loss=figure(10, "%"))
    south = site_with(
        {"mean_minima_c": (5,) * 12, "mean_maxima_c": (15,) * 12},
        -50,
        last_frost={"half": "1 November"},
        first_frost={"half": "1 April"},
    )
    assert grown(leek, south).share(MAY, date(2027, 12, 1), date(2028, 2, 28)) == 1
    assert grown(leek, south).share(MAY, date(2027, 6, 1), date(2027, 8, 31)) == pytest.approx(0.85, abs=0.2 / 30 / 2)


def test_a_crop_that_stands_ends_at_its_own_cold() -> None:
    # The coldest of some forty nights lies two standard deviations of 3.2 below the mean night: a crop that stands to
    # -5 ends when mean nights fall to -5 + 6.4 = 1.4; to -6 at 0.4, colder than Cambridge's coldest mean night.
    where = site_with({**CAMBRIDGE, "night_spread_c": 3.2})
    cold = nights(climate_of(where))
    assert 0.4 < min(cold.days) < 1.4
    assert grown(crop("leek", "onions", stands_to=figure(-6, "degC")), where).cold_end(MAY) is None
    end = grown(crop("leek", "onions", stands_to=figure(-5, "degC")), where).cold_end(MAY)
    assert end is not None
    assert cold.on(end) <= 1.4 < cold.on(end - timedelta(days=1))
    # A cover that is a degree warmer at night keeps it through the winter.
    assert grown(crop("leek", "onions", stands_to=figure(-5, "degC")), where, covered(1, 0)).cold_end(MAY) is None


def test_a_start_of_late_winter_is_ended_by_the_next_winter() -> None:
    leek = grown(crop("leek", "onions", stands_to=figure(-5, "degC")), site_with({**CAMBRIDGE, "night_spread_c": 3.2}))
    assert leek.cold_end(date(2027, 2, 20)) == leek.cold_end(MAY)


def test_what_is_not_ripe_by_the_middle_of_winter_is_not_ripe() -> None:
    # Cambridge's coldest mean night is in late January or early February: a spring sowing never stands over it.
    late = grown(warm(), site_with(CAMBRIDGE))
    assert late.ripens(date(2027, 7, 1)) is not None
    assert late.ripens(date(2027, 11, 1)) is None
    assert late.days_until_ripe(date(2027, 11, 1)) is not None


def test_autumn_starts_are_measured_by_autumn_starts_and_keep_their_published_days() -> None:
    # Spinach is sown from 4 weeks after the longest day to 6.4 before the first frost, to stand the winter. At
    # Cambridge shares of later days fall and rise again until a sowing of January is a spring sowing: none of these is
    # what it is measured by.
    spinach, where = SHIPPED.crop("spinach"), site_with(CAMBRIDGE, **FROST)
    autumn = spinach.starts[1]
    found = growing(spinach, autumn, OPEN, where)
    window = start_window(spinach, autumn, OPEN, where, 2027)
    # 21 June + 28 days, and 1 October - 45 days.
    assert window is not None
    assert (window.earliest, window.latest) == (date(2027, 7, 19), date(2027, 8, 17))
    assert found.share_of_start(date(2028, 1, 15)) > found.best_share
    assert found.best_share == max(found.share_of_start(date(2027, 7, 19) + timedelta(weeks=week)) for week in range(5))


def test_without_a_climate_an_estimate_is_used() -> None:
    frosts = Site.model_validate(site(52))
    told = frosts.model_copy(update={"climate": climate_of(frosts)})
    lettuce = SHIPPED.crop("leaf lettuce")
    one, other = (growing(lettuce, lettuce.starts[0], OPEN, where) for where in (frosts, told))
    assert one.air is not None
    assert one.air == other.air
    assert one.days_until_ripe(MAY) != round(one.published_days)


def test_sunshine_counts_where_it_is_known_and_is_estimated_where_not() -> None:
    beet = SHIPPED.crop("beetroot")
    dull, sunny, unknown = (
        growing(beet, beet.starts[0], OPEN, site_with({**CAMBRIDGE, "sunshine_hours": hours}, **FROST))
        for hours in ((1.0,) * 12, (8.0,) * 12, None)
    )
    assert dull.days_until_ripe(MAY) == sunny.days_until_ripe(MAY) == unknown.days_until_ripe(MAY)
    assert 0 < dull.share_of_start(MAY) < unknown.share_of_start(MAY)
    assert dull.share_of_start(MAY) < sunny.share_of_start(MAY)


REFERENCES = [
    (record, number)
    for record in WARM
    for number, one in enumerate(record.starts)
    if growing(record, one, OPEN, site_with(CAMBRIDGE)).reference is not None
]


@pytest.mark.parametrize(("record", "number"), REFERENCES, ids=lambda value: getattr(value, "name", str(value)))
def test_the_best_start_at_the_reference_itself_gives_a_full_crop(record: Crop, number: int) -> None:
    there = growing(record, record.starts[number], OPEN, site_with(CAMBRIDGE)).reference
    assert there is not None
    if there.air is None:
        return
    assert there.best_growth < math.inf, "no start ripens where its yield was published"
    own = replace(there, reference=there)
    # No winter loss: the best start is looked for as the growth of its first days, before the winter takes any.
    kept = replace(own, crop=own.crop.model_copy(update={"winter_loss": None, "spring_share": None}))
    # What is lifted once loses the years in which frost comes before it is ripe: squash sown in place 1 to 3 %.
    assert kept.best_share == pytest.approx(1, abs=0.031 if record.picking == "once" else 1e-6)


def test_what_is_lifted_once_loses_the_years_in_which_frost_comes_first() -> None:
    # First frost on 18 October in one year of two, by 5 October in one of ten: 13 days are 1.28 standard deviations.
    frosts = {"last_frost": {"half": (5, 2)}, "first_frost": {"half": (10, 18), "safe": (10, 5)}}
    here = Site.model_validate({"latitude": 52.0, "climate": CAMBRIDGE, **frosts})
    corn = growing(next(crop for crop in WARM if crop.name == "sweet corn"), WARM[0].starts[0], OPEN, here)
    chances = [(9, 10, 1.0), (10, 5, 0.9), (10, 18, 0.5)]
    for month, day, spared in chances:
        assert corn.spared_by_frost(date(2027, month, day)) == spared
    beans = replace(corn, crop=corn.crop.model_copy(update={"picking": "repeated"}))
    assert beans.spared_by_frost(date(2027, 10, 5)) == 1
    covered = replace(corn, cover=corn.cover.model_copy(update={"days_later": 13}))
    assert covered.spared_by_frost(date(2027, 10, 18)) == 0.9


@pytest.mark.parametrize("where", [site_with(CAMBRIDGE), site_with(INLAND, 44), site_with(warmed(CAMBRIDGE, -2))])
@pytest.mark.parametrize("cover", [OPEN, TUNNEL], ids=lambda c: str(c.name))
def test_quick_kinds_are_counted_only_where_usual_ones_give_under_half(where: Site, cover: Cover) -> None:
    for record in WARM:
        for one in record.starts:
            found = growing(record, one, cover, where)
            if found.air is None:
                assert not found.quick
                continue
            usual, quick = (
                (kind.best_possible_share, kind.best_share)
                for kind in (replace(found, quick=False), replace(found, quick=True))
            )
            assert found.quick == (usual[0] < POSSIBLE / 100 and quick > usual), record.name


@settings(max_examples=80, deadline=None)
@given(
    st.sampled_from([record.name for record in WARM]),
    st.sampled_from([OPEN, TUNNEL]),
    st.sampled_from([CAMBRIDGE, INLAND]),
    st.floats(-3, 2),
    st.floats(0, 3),
    st.integers(0, 364),
    st.booleans(),
)
def test_a_warmer_site_never_ripens_a_kind_later(
    name: str, cover: Cover, climate: dict[str, Any], by: float, more: float, day: int, quick: bool
) -> None:
    # Of one kind: where it is colder quick kinds may be counted, which ripen sooner than the usual ones of a warm site.
    record, begin = SHIPPED.crop(name), date(2027, 1, 1) + timedelta(days=day)
    for one in record.starts:
        cool, mild = (
            Growing(record, one, cover, site_with(warmed(climate, degrees), **FROST), quick).days_until_ripe(begin)
            for degrees in (by, by + more)
        )
        assert cool is None or (mild is not None and mild <= cool)


PICKED_INTO_SPRING = ("Brussels sprouts", "chives", "collards", "kale")
"""Leaves and sprouts of a late start are picked through the winter into spring, those of an earlier one in the dark."""


def fall_and_rise(record: Crop, number: int, where: Site) -> float:
    """Return by how much of a full crop a start after the best one gives more than one between the two."""
    window = start_window(record, record.starts[number], OPEN, where, 2027)
    found = growing(record, record.starts[number], OPEN, where)
    if window is None or found.air is None or found.stands_the_winter:
        return 0.0
    days = (window.latest - window.earliest).days
    shares = [found.share_of_start(window.earliest + timedelta(days=step)) for step in range(days + 1)]
    least = best = max(shares)
    rise = 0.0
    for share in shares[shares.index(best) :]:
        least = min(least, share)
        rise = max(rise, share - least)
    return rise


@settings(max_examples=60, deadline=None)
@given(st.sampled_from([r.name for r in WARM if r.name not in PICKED_INTO_SPRING]), st.floats(-2.5, 0))
def test_after_the_best_start_no_later_one_gives_more_in_a_cool_summer(name: str, by: float) -> None:
    # July's mean is 17.5 degrees at most. In hot summers early starts of cool crops ripen in the heat and late ones
    # after it: so beetroot, kohlrabi, turnip and others rise again at INLAND (July 20.9).
    record = SHIPPED.crop(name)
    for number in range(len(record.starts)):
        assert fall_and_rise(record, number, site_with(warmed(CAMBRIDGE, by))) <= 0.05


def test_late_starts_that_are_picked_into_spring_and_those_after_the_heat_give_more_again() -> None:
    for name in PICKED_INTO_SPRING:
        record = SHIPPED.crop(name)
        rises = [fall_and_rise(record, number, site_with(CAMBRIDGE)) for number in range(len(record.starts))]
        assert max(rises) > 0.05, f"{name} may leave the list"
    assert fall_and_rise(SHIPPED.crop("beetroot"), 0, site_with(INLAND, 44)) > 0.05


def best_under(record: Crop, cover: Cover, where: Site) -> float:
    return max(growing(record, one, cover, where).best_share for one in record.starts)


@settings(max_examples=60, deadline=None)
@given(st.sampled_from([r for r in WARM if r.hardiness.level in ("tender", "very tender")]), st.floats(14.5, 20))
def test_the_tunnel_never_takes_from_a_crop_that_frost_kills(record: Crop, july: float) -> None:
    where = site_with(warmed(CAMBRIDGE, july - max(air(climate_of(site_with(CAMBRIDGE))).days)))
    assert best_under(record, TUNNEL, where) >= best_under(record, OPEN, where) - 0.01


def test_the_tunnel_takes_light_from_what_stands_frost() -> None:
    # 23 % of the light is kept out, and warmth gives little of it back: lettuce from April on is better outdoors.
    lettuce, where, day = SHIPPED.crop("head lettuce"), site_with(CAMBRIDGE), date(2027, 5, 1)
    open_air, inside = (growing(lettuce, lettuce.starts[0], cover, where) for cover in (OPEN, TUNNEL))
    assert inside.share_of_start(day) < open_air.share_of_start(day) - 0.05
