"""Shares of a full crop, heat and hungry gaps in words, the same on the terminal, in JSON and in the report."""

from __future__ import annotations

import json
from datetime import date
from typing import Any, get_args

import pytest

from rotasolve.domain.catalogue import Catalogue
from rotasolve.domain.crop import Way
from rotasolve.domain.crop_share import CropShare, ShareReason
from rotasolve.domain.place import Place, Places, Question
from rotasolve.domain.plan import Plan
from rotasolve.domain.scenario import Scenario
from rotasolve.domain.site import Site
from rotasolve.domain.supply import SpringSupply
from rotasolve.files.crops import load_catalogue
from rotasolve.relations.ground.crop_shares import crop_shares
from rotasolve.relations.season.cover_heat import CoverHeat
from rotasolve.relations.season.crop_seasons import OpenWindow
from rotasolve.relations.season.start_shares import StartShare, WindowPart
from rotasolve.relations.season.windows import Window
from rotasolve.views.answers.place_page import places_page
from rotasolve.views.exports.plan_json import plan_answer
from rotasolve.views.pages.page import plan_page
from rotasolve.views.words.cautions import cautions_of
from rotasolve.views.words.cover_heat import say_cover_heats
from rotasolve.views.words.crop_shares import say_crop_share, say_quick_kinds, share_cell
from rotasolve.views.words.estimates import say_estimate
from rotasolve.views.words.hungry_gap import gap_title, say_spring
from rotasolve.views.words.look import Look
from rotasolve.views.words.start_shares import good_cell, most_cell, say_parts, say_shares
from rotasolve.views.words.wording import plain
from tests.helpers.climates import CAMBRIDGE, site_with

ASCII = Look(plain=True)
SHIPPED = load_catalogue()


@pytest.mark.parametrize(
    ("percent", "why", "way", "said"),
    [
        (61, "late", "sown in place", "a late sowing: about 60 % of a full crop"),
        (63, "late", "set out", "set out late: about 65 % of a full crop"),
        (48, "early", "sown in place", "an early sowing: about 50 % of a full crop"),
        (48, "early", "set out", "set out early: about 50 % of a full crop"),
        (30, "cleared early", "set out", "cleared early: about 30 % of a full crop"),
        (69, "in spring", "sown in place", "started in spring, not in autumn: about 70 % of a full crop"),
        (26, "best here", "set out", "about 25 % of a full crop; in such a bed no day gives much more"),
        (1, "late", "set out", "set out late: about 1 % of a full crop"),
        (0, "not ripe", "set out", "not ripe before winter ends it: no crop"),
    ],
)
def test_a_share_in_full(percent: int, why: ShareReason, way: Way, said: str) -> None:
    assert plain(say_crop_share(CropShare(percent=percent, why=why), way)) == said


def test_a_share_in_short() -> None:
    assert share_cell(None) == ""
    said = {why: plain(share_cell(CropShare(percent=40, why=why))) for why in get_args(ShareReason)}
    assert said["late"] == "late, 40 % of a full crop"
    assert said["best here"] == "best here, 40 % of a full crop"


def test_quick_kinds_with_their_days() -> None:
    assert say_quick_kinds({}) == ""
    assert plain(say_quick_kinds({"pea": 60, "tomato": 70})) == (
        "Quick kinds are counted, by the days on the packet from their start in the bed to the first picking: "
        "pea (60 days), tomato (70 days). Usual kinds would give less here, or not ripen: buy early ones."
    )


def opened(parts: list[tuple[Any, date, date]], shares: list[tuple[date, int]]) -> OpenWindow:
    first, last = date(2027, 4, 18), date(2027, 8, 1)
    return OpenWindow(
        Window(first, last),
        first,
        last,
        None,
        tuple(StartShare(day, percent, "good") for day, percent in shares),
        tuple(WindowPart(*part) for part in parts),
    )


APRIL, JULY, AUGUST = date(2027, 4, 18), date(2027, 7, 17), date(2027, 8, 1)


def test_a_window_in_parts_and_numbers() -> None:
    shares = [(APRIL, 100), (date(2027, 5, 1), 98), (date(2027, 6, 16), 90), (AUGUST, 61)]
    window = opened([("good", APRIL, JULY), ("catch crop", date(2027, 7, 18), AUGUST)], shares)
    assert plain(say_parts(window, 2027, False, ASCII)) == "good 18 Apr - 17 Jul, catch crop 18 Jul - 1 Aug"
    said = "% of a full crop: Apr - 100, May 98 -, Jun - 90, Jul - -, Aug 61 -"
    assert plain(say_shares(window.shares, ASCII)) == said
    assert plain(good_cell(window, 2027, False, ASCII)) == "to 17 Jul"
    assert plain(most_cell(window)) == "100 %"


def test_a_row_of_numbers_runs_over_the_end_of_the_year() -> None:
    shares = tuple(StartShare(day, 70, "good") for day in (date(2027, 12, 16), date(2028, 1, 1)))
    assert plain(say_shares(shares, ASCII)) == "% of a full crop: Dec - 70, Jan 70 -"


@pytest.mark.parametrize(
    ("parts", "said"),
    [
        ([("good", APRIL, AUGUST)], "all"),
        ([("possible", APRIL, AUGUST)], "none"),
        ([("possible", APRIL, JULY), ("catch crop", JULY, AUGUST)], "none"),
        ([("possible", APRIL, APRIL), ("good", JULY, JULY), ("possible", AUGUST, AUGUST)], "17 Jul"),
        ([("possible", APRIL, APRIL), ("good", JULY, AUGUST)], "17 Jul - 1 Aug"),
        ([("good", APRIL, APRIL), ("possible", JULY, JULY), ("good", AUGUST, AUGUST)], "18 Apr, 1 Aug"),
        ([], ""),
    ],
)
def test_good_days_in_a_cell(parts: list[tuple[Any, date, date]], said: str) -> None:
    assert plain(good_cell(opened(parts, []), 2027, False, ASCII)) == said


def test_heat_is_said_once_for_a_cover() -> None:
    days, sources = (date(2027, 6, 17), date(2027, 9, 2)), ("S05", "S76")
    heats = [
        CoverHeat("low tunnel", tuple("abcdefgh"), 23.9, *days, 27.44, sources),
        CoverHeat("low tunnel", ("tomato",), 26.7, *days, 27.44, sources),
        CoverHeat("tunnel", ("kale",), 23.9, *days, 26.2, sources),
    ]
    low, high = say_cover_heats(SHIPPED.covers, heats)
    assert plain(low) == (
        "low tunnel: Kept shut, it is hotter on a usual afternoon than these grow in: a, b, c, d, e, f and 2 more "
        "(23.9 degC) from 17 June to 2 September; tomato (26.7 degC) from 17 June to 2 September; it reaches "
        "27.4 degC, on sunny days up to 25 degC more than outside. Open it in the morning or take it off, shade it, "
        "and grow what likes it cool elsewhere then."
    )
    assert high.startswith("tunnel: Kept shut")
    assert "and more on sunny days" in high


def spring(**more: Any) -> SpringSupply:
    march = 2028 * 24 + 4
    given: dict[str, Any] = {"year": 2028, "hungry": True, "first_period": march, "last_period": march + 4}
    given |= {"picked_g": (("leek", 1200),), "stored_g": (), "little_g": 740, "begins_plan": False}
    return SpringSupply(**{**given, **more})


def test_a_hungry_gap_has_dates_and_says_what_bridges_it() -> None:
    assert plain(gap_title([spring()])) == "Hungry gap: less than 0.74 kg to pick in half a month of spring"
    assert plain(say_spring(spring(), False, ASCII)) == (
        "2028: 1 Mar - 15 May; picked then: leek 1.2 kg; eaten from the store: nothing."
    )
    many = tuple((name, 1000) for name in "abcdefgh")
    assert plain(say_spring(spring(stored_g=many, picked_g=()), False, ASCII)) == (
        "2028: 1 Mar - 15 May; picked then: nothing; eaten from the store: a 1 kg, b 1 kg, c 1 kg, d 1 kg, e 1 kg, "
        "f 1 kg and 2 more."
    )
    assert "2028: none from March to May; " in say_spring(spring(hungry=False, last_period=2028 * 24 + 9), False, ASCII)
    assert plain(say_spring(spring(begins_plan=True), False, ASCII)).endswith(
        "; the plan begins with this year, and what stood before is not counted."
    )
    # In the south a garden year has two calendar years, and its spring the first of them.
    south = spring(first_period=2028 * 24 + 16, last_period=2028 * 24 + 17)
    assert plain(say_spring(south, True, ASCII)).startswith("2028/29: 1 Sep - 30 Sep; ")


def test_an_estimate_says_its_error_and_a_climate_nothing() -> None:
    assert say_estimate(site_with(CAMBRIDGE)) == ""
    bare = Site.model_validate({"latitude": 52, "last_frost": {"half": "1 May"}, "first_frost": {"half": "1 October"}})
    assert plain(say_estimate(bare)) == (
        "an estimate from latitude and frost dates, 1.4 degC off for nights and 2.9 degC for days in the growing "
        "season, more in winter; days of ripeness, windows and yields rest on it"
    )


def test_show_and_json_say_the_same_shares(scenario: Scenario, catalogue: Catalogue, plan: Plan) -> None:
    shares = crop_shares(plan.plantings, scenario, catalogue)
    assert shares
    page = " ".join(plan_page(scenario, catalogue, plan, Look(50)).split())
    told = json.loads(json.dumps(plan_answer(plan, scenario, catalogue)))["crop_shares"]
    assert [plan.plantings[one["planting"]] for one in told] == list(shares)
    for one, (planting, share) in zip(told, shares.items(), strict=True):
        assert (one["percent"], one["why"]) == (share.percent, share.why)
        assert one["sentence"] == plain(say_crop_share(share, planting.way))
        assert plain(share_cell(share)) in page


def test_where_says_a_share_under_the_harvest(scenario: Scenario, catalogue: Catalogue, plan: Plan) -> None:
    place = Place(planting=plan.plantings[1], crop_share=CropShare(percent=58, why="late"))
    found = Places(question=Question(crop="kale"), places=(place,), refusals=())
    page = places_page(scenario, catalogue, found, Look(80))
    assert "\n   Set out late: about 60 % of a full crop.\n" in page
    full = found.model_copy(update={"places": (place.model_copy(update={"crop_share": None}),)})
    assert "full crop" not in places_page(scenario, catalogue, full, Look(80))
    assert found.model_dump(mode="json")["places"][0]["crop_share"] == {"percent": 58, "why": "late"}


def test_a_plan_cautions_of_heat_under_its_covers_once(plan: Plan, scenario: Scenario) -> None:
    july = [
        one.model_copy(update={"crop": "spinach", "bed": "frame", "strips": (n,)})
        for n, one in enumerate(plan.plantings[:2], start=1)
    ]
    warm = scenario.model_copy(update={"site": site_with(CAMBRIDGE)})
    hot = plan.model_copy(update={"plantings": tuple(july)})
    told = [text for text in cautions_of(hot, SHIPPED, warm) if "Kept shut" in text]
    assert len(told) == 1
    assert plain(told[0]).startswith(
        "cold frame: Kept shut, it is hotter on a usual afternoon than these grow in: spin"
    )
    outside = plan.model_copy(update={"plantings": tuple(one.model_copy(update={"bed": "long bed"}) for one in july)})
    assert not [text for text in cautions_of(outside, SHIPPED, warm) if "Kept shut" in text]
