"""Published planting calendars against the season engine: one more place, the trap of a borrowed date, a climate added.

The calendars of Schoharie and Otsego, Ithaca, Illinois and Virginia are checked at their frost dates in
test_outside_calendars.py. Here: S12, Suggested Vegetable Planting Dates for the Wasatch Front, Utah State University
Extension 2009 (Ogden: last frost 3 May); S19, First Planting Dates (Schoharie and Otsego Counties, New York), Cornell
Cooperative Extension 2021. Climates are invented; S12 prints no first frost, 15 October is put in.
"""

from __future__ import annotations

from datetime import date, timedelta
from typing import TYPE_CHECKING, Any

import pytest

from rotasolve.domain.site import Site
from rotasolve.files.crops import load_catalogue
from rotasolve.relations.season.crop_seasons import judge_day, seasons_of
from rotasolve.relations.season.frost_warnings import early_start
from rotasolve.relations.season.windows import windows_of_year
from rotasolve.views.words.look import Look
from rotasolve.views.words.windows import say
from tests.helpers.climates import INLAND

if TYPE_CHECKING:
    from rotasolve.domain.catalogue import Catalogue

YEAR = 2027
OGDEN: dict[str, Any] = {"latitude": 41.2, "last_frost": {"half": "3 May"}, "first_frost": {"half": "15 October"}}
COBLESKILL: dict[str, Any] = {
    "latitude": 42.7,
    "last_frost": {"half": "26 May"},
    "first_frost": {"half": "17 September"},
}
COOPERSTOWN: dict[str, Any] = {
    "latitude": 42.7,
    "last_frost": {"half": "6 June"},
    "first_frost": {"half": "14 September"},
}
WARM_SOIL = ["basil", "cucumber", "melon", "okra", "pumpkin", "summer squash", "winter squash"]
"""S19: "warm soil, June 1"."""

# S12: group, printed from and to, crops of ours.
OGDEN_GROUPS = {
    "A hardy": (
        date(YEAR, 3, 15),
        date(YEAR, 5, 1),
        ["broccoli", "cabbage", "Brussels sprouts", "kohlrabi", "onion", "pea", "radish", "spinach", "turnip"],
    ),
    "B semi-hardy": (
        date(YEAR, 3, 20),
        date(YEAR, 5, 1),
        ["beetroot", "carrot", "cauliflower", "chard", "endive", "leaf lettuce", "parsley", "parsnip", "potato"],
    ),
    "C tender": (
        date(YEAR, 5, 5),
        date(YEAR, 6, 1),
        ["bush bean", "climbing bean", "sweet corn", "cucumber", "summer squash"],
    ),
    "D very tender": (
        date(YEAR, 5, 20),
        date(YEAR, 6, 10),
        ["aubergine", "melon", "sweet pepper", "pumpkin", "winter squash"],
    ),
}


@pytest.fixture(scope="module")
def catalogue() -> Catalogue:
    return load_catalogue()


def openings(catalogue: Catalogue, name: str, site: Site) -> list[date]:
    """Return the first day of each spring window in open ground, counted from the average frost as bulletins count."""
    crop, bare = catalogue.crop(name), catalogue.cover("open ground")
    frosts = {end: getattr(site, end).model_copy(update={"spread_days": 1.0}) for end in ("last_frost", "first_frost")}
    site = site.model_copy(update=frosts)
    return sorted(
        window.earliest
        for start in crop.starts
        if start.earliest.unit == "weeks after last frost"
        for window in windows_of_year(crop, start, bare, site, YEAR)
    )


@pytest.mark.parametrize("climate", [None, INLAND], ids=["frost dates only", "with a climate"])
@pytest.mark.parametrize("group", OGDEN_GROUPS)
def test_ogden_opens_in_the_printed_weeks(catalogue: Catalogue, group: str, climate: dict[str, Any] | None) -> None:
    # "Suggested" spans of weeks: a window that opens in the span or up to a week before it agrees.
    site = Site.model_validate({**OGDEN, "climate": climate})
    first, last, crops = OGDEN_GROUPS[group]
    other = {}
    for name in crops:
        found = openings(catalogue, name, site)
        if not any(first - timedelta(days=7) <= day <= last for day in found):
            other[name] = found
    assert other == {}


def test_tomatoes_are_tender_in_one_bulletin_and_very_tender_in_ogden(catalogue: Catalogue) -> None:
    # S08 sets them out at the last frost, S12 two weeks later (20 May to 10 June): ours begin at S08's and wait for
    # mean nights of 7.2 degC, here to the middle between the two.
    (day,) = openings(catalogue, "tomato", Site.model_validate(OGDEN))
    assert date(YEAR, 5, 4) < day < date(YEAR, 5, 20)


@pytest.mark.parametrize("name", WARM_SOIL)
def test_1_june_is_flagged_at_cooperstown_and_not_at_cobleskill(catalogue: Catalogue, name: str) -> None:
    crop, bare, day = catalogue.crop(name), catalogue.cover("open ground"), date(YEAR, 6, 1)
    assert early_start(crop, day, bare, Site.model_validate(COBLESKILL)) is None
    warning = early_start(crop, day, bare, Site.model_validate(COOPERSTOWN))
    assert warning is not None
    # 5 days of an assumed spread of 14: 1 - Phi(-5 / 14) = 0.64.
    assert say(warning, Look()) == (
        "1 June is 5 days before the last frost of 1 year in 2 (6 June): in 64 years of 100 frost still comes, "
        f"and {name} dies of it"
    )
    assert all(judged.warning == warning for judged in judge_day(crop, [bare], Site.model_validate(COOPERSTOWN), day))


def test_a_window_that_opens_before_the_last_frost_carries_the_warning(catalogue: Catalogue) -> None:
    # Bush beans: on the last frost, 3 May, a week earlier under fleece, three weeks in a tunnel.
    crop, site = catalogue.crop("bush bean"), Site.model_validate(OGDEN)
    (season,) = seasons_of(crop, [catalogue.cover("tunnel")], site, YEAR)
    opened = season.windows[0]
    early = (date(YEAR, 5, 3) - opened.window.earliest).days
    assert 0 < early <= 21
    assert opened.warning is not None
    day = f"{opened.window.earliest.day} April is {early} days before the last frost"
    assert say(opened.warning, Look()).startswith(day)
    assert "count on no more than 1 degC from the tunnel" in say(opened.warning, Look())


def test_hardy_crops_are_not_warned_about(catalogue: Catalogue) -> None:
    day, site = date(YEAR, 4, 15), Site.model_validate(COOPERSTOWN)
    for name in ("kale", "leaf lettuce", "pea", "potato"):
        assert early_start(catalogue.crop(name), day, catalogue.cover("open ground"), site) is None


def test_a_climate_keeps_schoharie_in_its_weeks(catalogue: Catalogue) -> None:
    # S19: cool crops about 15 April "or as soon as workable"; beans, maize and plants after the last frost, 26 May;
    # warm soil 1 June. An invented inland climate moves nothing out of three weeks from the printed day.
    site = Site.model_validate({**COBLESKILL, "climate": INLAND})
    printed = {
        date(YEAR, 4, 15): ["broccoli", "cabbage", "kale", "kohlrabi", "leaf lettuce", "onion", "pea", "spinach"],
        date(YEAR, 5, 26): ["bush bean", "sweet corn", "tomato"],
        date(YEAR, 6, 1): ["cucumber", "pumpkin", "summer squash"],
    }
    for day, crops in printed.items():
        for name in crops:
            found = openings(catalogue, name, site)
            assert found, name
            assert abs((found[0] - day).days) <= 21, name
