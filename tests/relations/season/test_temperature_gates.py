"""Start windows under a climate: what waits for warmth, what is shut, and what each window says of itself."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from rotasolve.domain.catalogue import Cover
from rotasolve.domain.crop import Crop
from rotasolve.domain.site import Site
from rotasolve.errors import GardenFault
from rotasolve.files.crops import load_catalogue
from rotasolve.relations.season.growing import growing
from rotasolve.relations.season.reasons import WindowReason
from rotasolve.relations.season.site_climate import air, nights, soil
from rotasolve.relations.season.windows import Window, start_window, why_closed, windows_of_year
from rotasolve.views.words.look import Look
from rotasolve.views.words.windows import say
from tests.helpers.climates import CAMBRIDGE, INLAND, site_with, warmed
from tests.helpers.tiny import CATALOGUE, SOURCE, crop, figure, start

SHIPPED = load_catalogue()
OPEN = CATALOGUE.cover("open ground")
# 1 May and 1 October; nights and days of Cambridge.
FROST: dict[str, Any] = {
    "last_frost": {"half": "1 May", "safe": "15 May"},
    "first_frost": {"half": "1 October", "safe": "18 September"},
}
SITE = site_with(CAMBRIDGE, **FROST)


def waiting(low: float, high: float, way: str = "sown in place", last: float = 12, **more: Any) -> Crop:
    """Return a hardy crop that bulletins open ``low`` to ``high`` weeks after the last frost, until ``last`` weeks."""
    one = start(low, 60, last, way)
    one["earliest"] = {"low": low, "typical": low, "high": high, "unit": "weeks after last frost", "source": SOURCE}
    return crop("beet", "goosefoots", starts=[one], **more)


def windows(record: Crop, site: Site = SITE, cover: Cover = OPEN) -> tuple[Window, ...]:
    return windows_of_year(record, record.starts[0], cover, site, 2027)


def sentences(reasons: tuple[WindowReason, ...]) -> list[str]:
    return [say(reason, Look()) for reason in reasons]


def test_without_figures_the_window_is_that_of_the_frost_dates() -> None:
    record = waiting(-4, 4)
    assert windows(record) == (start_window(record, record.starts[0], OPEN, SITE, 2027),)


def test_seed_waits_for_the_soil_within_the_bulletins_range() -> None:
    # Frost dates open 3 April (4 weeks before 1 May); the soil's mean reaches 9 degrees later.
    (window,) = windows(waiting(-4, 4, germination_least=figure(9, "degC")))
    ground = soil(SITE.climate or pytest.fail("no climate"))
    assert ground.on(window.earliest) >= 9 > ground.on(window.earliest - timedelta(days=1))
    assert date(2027, 4, 3) < window.earliest < date(2027, 4, 25)
    assert sentences(window.opens) == [
        f"the soil at 10 cm reaches 9 degC from {window.earliest.day} April",
        "4 weeks before the last frost, 1 May (1 year in 2 has one after it)",
    ]
    assert window.opens[0].kind == "soil"
    assert window.opens[0].sources == (SOURCE,)
    assert not window.notes


def test_it_opens_at_the_bulletins_latest_opening_with_a_note() -> None:
    # 10 degrees are reached after 10 April (3 weeks before 1 May), the latest opening; not 2.9 degrees are missing.
    (window,) = windows(waiting(-4, -3, germination_least=figure(10, "degC")))
    assert window.earliest == date(2027, 4, 10)
    assert say(window.opens[0], Look()) == "10 April is the latest opening that bulletins give"
    (note,) = window.notes
    assert say(note, Look()).startswith("the soil at 10 cm reaches 10 degC only from ")
    assert say(note, Look()).endswith(": seed comes up slowly and may rot")


def test_soil_too_cold_whatever_the_error_shuts_the_window() -> None:
    # 15.6 - 2.9 = 12.7 degrees: bulletins' latest opening, 4 May, is too early.
    (window,) = windows(waiting(-4, 0.4, germination_least=figure(15.6, "degC")))
    ground = soil(SITE.climate or pytest.fail("no climate"))
    assert ground.on(window.earliest) >= 12.7 > ground.on(window.earliest - timedelta(days=1))
    assert say(window.opens[0], Look()) == (
        f"the soil at 10 cm is below 12.7 degC before {window.earliest.day} May: too cold to germinate even if the "
        "estimate is 2.9 degC too low"
    )


def test_plants_wait_for_the_nights() -> None:
    (window,) = windows(waiting(-4, 2, "set out", least_night=figure(7.2, "degC")))
    night = nights(SITE.climate or pytest.fail("no climate"))
    assert night.on(window.earliest) >= 7.2 > night.on(window.earliest - timedelta(days=1))
    assert say(window.opens[0], Look()) == f"mean nights stay above 7.2 degC from {window.earliest.day} May"


def test_plants_that_wish_for_warmer_nights_than_10_go_out_at_10_with_a_note() -> None:
    (window,) = windows(waiting(-4, 2, "set out", least_night=figure(15.6, "degC")))
    night = nights(SITE.climate or pytest.fail("no climate"))
    assert night.on(window.earliest) >= 10 > night.on(window.earliest - timedelta(days=1))
    assert window.opens[0].sources == ("S84",)
    assert sentences(window.notes) == [
        "mean nights stay above 15.6 degC on no day of this window: expect slow growth, or choose a warmer cover"
    ]


def test_a_chill_that_makes_plants_bolt_is_noted_and_not_waited_for() -> None:
    # Calendars set cabbages out long before days of 10 degC: small plants stand it.
    (window,) = windows(waiting(-6, 4, "set out", bolting_below=figure(10, "degC")))
    warmth = air(SITE.climate or pytest.fail("no climate"))
    assert window.earliest == windows(waiting(-6, 4, "set out"))[0].earliest
    (note,) = window.notes
    assert note.kind == "chill"
    assert note.day is not None
    assert warmth.on(window.earliest) < 10
    assert warmth.on(note.day) >= 10 > warmth.on(note.day - timedelta(days=1))


def test_soil_too_hot_splits_the_window() -> None:
    # Open from 3 April to 18 September (20 weeks after 1 May) but for the days above 16 degrees in between.
    before, after = windows(waiting(-4, 4, last=20, germination_most=figure(16, "degC")))
    ground = soil(SITE.climate or pytest.fail("no climate"))
    assert ground.on(before.latest) <= 16 < ground.on(before.latest + timedelta(days=1))
    assert ground.on(after.earliest) <= 16 < ground.on(after.earliest - timedelta(days=1))
    assert (before.earliest, after.latest) == (date(2027, 4, 3), date(2027, 9, 18))
    first, second = say(before.closes[0], Look()), say(after.opens[0], Look())
    assert first.startswith("the soil at 10 cm is warmer than 16 degC after ")
    assert second.startswith("the soil at 10 cm is warmer than 16 degC before ")
    assert first.endswith(", too hot to germinate")


def test_a_place_too_cold_for_ever_says_why() -> None:
    record = waiting(0, 2, "set out", least_night=figure(9, "degC"))
    cold = site_with(warmed(CAMBRIDGE, -6), **FROST)
    assert windows(record, cold) == ()
    closed = why_closed(record, record.starts[0], OPEN, cold, 2027)
    assert closed is not None
    assert say(closed, Look()) == "mean nights are below 9 degC from 1 May to 24 July: too cold to be set out"
    assert why_closed(record, record.starts[0], OPEN, SITE, 2027) is None


def test_a_season_too_short_says_so() -> None:
    slow = crop("beet", "goosefoots", starts=[start(1, 200, 2)], hardiness={"level": "tender", "source": SOURCE})
    closed = why_closed(slow, slow.starts[0], OPEN, SITE, 2027)
    assert closed is not None
    assert say(closed, Look()).startswith("the season is too short")


def test_cautious_growers_wait_for_the_soil_that_bulletins_advise() -> None:
    record = waiting(-4, 8, germination_least=figure(8, "degC"), sowing_soil=figure(10, "degC"))
    days = [
        windows(record, site_with(CAMBRIDGE, risk=risk, **FROST))[0].earliest for risk in ("early", "usual", "cautious")
    ]
    assert days[0] == days[1] < days[2]


def test_degree_days_stretch_and_shorten_the_days_without_bounds() -> None:
    # Base 5, best at 15: a day at its best is worth 10, so 60 days need 600. 40 to 80 days are published.
    record = waiting(
        0,
        0,
        degree_days={"base": figure(5, "degC"), "method": "mean of the day"},
        growth_best=figure(15, "degC"),
        growth_most=figure(35, "degC"),
    )
    one = record.starts[0].model_copy(
        update={
            "days_to_harvest": record.starts[0].days_to_harvest.model_copy(
                update={"value": None, "low": 40.0, "typical": 60.0, "high": 80.0}
            )
        }
    )
    steady = site_with({"mean_minima_c": (10,) * 12, "mean_maxima_c": (22,) * 12}, **FROST)

    def days(site: Site) -> int | None:
        return growing(record, one, OPEN, site).days_until_ripe(date(2027, 5, 1))

    # 16 degrees all year are worth 11 a day: 600 / 11 = 54.5, so 55 days.
    assert days(steady) == 55
    cool = site_with({"mean_minima_c": (2,) * 12, "mean_maxima_c": (12,) * 12}, **FROST)
    # 7 degrees are worth 2 a day; the usual kinds would need 300 days and give nothing, quick ones of 40 days 200.
    assert days(cool) == 200
    hot = site_with({"mean_minima_c": (20,) * 12, "mean_maxima_c": (30,) * 12}, **FROST)
    # 25 degrees are worth 20 a day: 30 days.
    assert days(hot) == 30
    cold = site_with({"mean_minima_c": (0,) * 12, "mean_maxima_c": (9,) * 12}, **FROST)
    # 4.5 degrees are worth nothing.
    assert days(cold) is None


TENDER = [record.name for record in SHIPPED.crops if record.hardiness.level in ("tender", "very tender")]


def first_opening(record: Crop, way: int, cover: Cover, site: Site) -> date:
    """Return the first open day of a way of starting in 2027, ``date.max`` if it never opens."""
    found = windows_of_year(record, record.starts[way], cover, site, 2027)
    return min((window.earliest for window in found), default=date.max)


@settings(max_examples=60, deadline=None)
@given(
    st.sampled_from(TENDER),
    st.sampled_from([CAMBRIDGE, INLAND]),
    st.floats(-3, 3),
    st.floats(0, 3),
    st.booleans(),
)
@example("pumpkin", CAMBRIDGE, 1.25, 0.5, True)
def test_a_warmer_site_never_opens_a_tender_crop_later(
    name: str, climate: dict[str, Any], by: float, more: float, frost_given: bool
) -> None:
    record, cover = SHIPPED.crop(name), SHIPPED.cover("open ground")
    frost = FROST if frost_given else {}
    cool, warm = (site_with(warmed(climate, degrees), **frost) for degrees in (by, by + more))
    for way, one in enumerate(record.starts):
        # Heat may shut a window's first days; it is judged for seed only and never in these crops' springs.
        assert one.earliest.unit == "weeks after last frost"
        try:
            assert first_opening(record, way, cover, warm) <= first_opening(record, way, cover, cool)
        except GardenFault:
            continue


@settings(max_examples=60, deadline=None)
@given(
    st.sampled_from([record.name for record in SHIPPED.crops]), st.sampled_from([CAMBRIDGE, INLAND]), st.floats(-2, 2)
)
def test_more_caution_never_opens_earlier(name: str, climate: dict[str, Any], by: float) -> None:
    record, cover = SHIPPED.crop(name), SHIPPED.cover("open ground")
    for way, one in enumerate(record.starts):
        if one.earliest.unit != "weeks after last frost":
            continue
        opens = [
            first_opening(record, way, cover, site_with(warmed(climate, by), risk=risk))
            for risk in ("early", "usual", "cautious")
        ]
        # What a start is worth is measured by the best one, so that a site of short seasons may offer poorer ones.
        opens = [day for day in opens if day < date.max]
        assert opens == sorted(opens)


@settings(max_examples=60, deadline=None)
@given(
    st.sampled_from([record.name for record in SHIPPED.crops if record.hardiness.level == "very tender"]),
    st.sampled_from([cover.name for cover in SHIPPED.covers]),
    st.sampled_from([CAMBRIDGE, INLAND]),
    st.floats(-3, 2),
)
def test_a_cover_never_opens_a_very_tender_crop_later(
    name: str, cover: Any, climate: dict[str, Any], by: float
) -> None:
    record, site = SHIPPED.crop(name), site_with(warmed(climate, by))
    for way, one in enumerate(record.starts):
        if one.earliest.unit == "weeks after last frost":
            bare = first_opening(record, way, SHIPPED.cover("open ground"), site)
            assert first_opening(record, way, SHIPPED.cover(cover), site) <= bare


def test_every_window_of_every_crop_says_why_it_opens_and_closes() -> None:
    for climate in (CAMBRIDGE, INLAND):
        site = site_with(climate)
        for record in SHIPPED.crops:
            for one in record.starts:
                for cover in SHIPPED.covers:
                    found = windows_of_year(record, one, cover, site, 2027)
                    assert found or why_closed(record, one, cover, site, 2027)
                    for window in found:
                        assert window.opens
                        assert window.closes
                        for reason in (*window.opens, *window.closes, *window.notes):
                            assert reason.sources
                            assert set(reason.sources) <= SHIPPED.sources.keys()
