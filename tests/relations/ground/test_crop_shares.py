"""Which plantings give less than a full crop, and why: by hand in tiny gardens, and on shipped crops."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from rotasolve.domain.catalogue import Catalogue
from rotasolve.domain.crop_share import CropShare
from rotasolve.domain.plan import Planting
from rotasolve.domain.scenario import Scenario
from rotasolve.files.crops import load_catalogue
from rotasolve.relations.ground.crop_shares import crop_share, crop_shares, quick_kinds
from rotasolve.relations.ground.following import followed
from rotasolve.relations.ground.garden import make_garden
from tests.helpers.climates import CAMBRIDGE, site_with
from tests.helpers.tiny import CATALOGUE, bed, catalogue, crop, planting, scenario, start

SHIPPED = load_catalogue()
MILD = scenario([crop.name for crop in SHIPPED.crops], years=3).model_copy(update={"site": site_with(CAMBRIDGE)})
FOLLOWS = frozenset({"clear", "plants"})


def started(name: str, begin: str, way: str = "sown in place", **more: Any) -> Planting:
    """Return a shipped crop started in a mild garden on a day and picked to its end, or to ``clear``."""
    clear = more.pop("clear", begin)
    bare = planting(name, (1, 2), begin, clear, way=way, **more)
    return followed(make_garden(MILD, SHIPPED), bare, FOLLOWS if clear == begin else frozenset({"plants"}))


def share_of(one: Planting, asked: Scenario = MILD, known: Catalogue = SHIPPED) -> CropShare | None:
    return crop_share(one, known.crop(one.crop), known.cover("open ground"), asked.site)


def why(one: Planting) -> str | None:
    found = share_of(one)
    return None if found is None else found.why


def test_a_good_start_is_not_spoken_of() -> None:
    assert share_of(started("beetroot", "2027-05-01")) is None
    assert share_of(started("phacelia", "2027-06-01")) is None  # a green manure


def test_a_late_sowing_gives_less_the_later_it_is() -> None:
    july, august = (share_of(started("beetroot", day)) for day in ("2027-07-16", "2027-08-16"))
    assert july is not None
    assert august is not None
    assert july.why == august.why == "late"
    assert august.percent < july.percent < 80


def test_a_start_before_the_best_is_early() -> None:
    # Leaves set out in March grow in cold and little light.
    assert why(started("leaf lettuce", "2027-03-14", "set out")) in (None, "early")
    tunnel = SHIPPED.cover("tunnel")
    early = started("leaf lettuce", "2027-03-07", "set out")
    found = crop_share(early, SHIPPED.crop("leaf lettuce"), tunnel, MILD.site)
    assert found is not None
    assert found.why == "early"


def test_what_is_cleared_half_way_says_so() -> None:
    # Kale is picked leaf by leaf until after Christmas; cleared in July it has given a part only.
    assert share_of(started("kale", "2027-05-01", "set out")) is None
    cut = share_of(started("kale", "2027-05-01", "set out", clear="2027-07-14"))
    assert cut is not None
    assert cut.why == "cleared early"
    # Runner beans sown on 1 June are late and cleared early: what costs more is said.
    assert why(started("runner bean", "2027-06-01")) == "late"
    assert why(started("runner bean", "2027-06-01", clear="2027-08-27")) == "cleared early"


def test_garlic_planted_in_spring_is_no_late_planting() -> None:
    spring = share_of(started("garlic", "2027-03-16"))
    assert spring is not None
    assert spring.why == "in spring"
    assert 60 <= spring.percent <= 75
    assert share_of(started("garlic", "2027-10-10")) is None


def test_tomatoes_in_the_open_give_all_that_such_a_bed_gives() -> None:
    windows = share_of(started("tomato", "2027-05-19", "set out"))
    assert windows is not None
    assert windows.why == "best here"
    assert windows.percent < 50


def test_a_start_that_is_never_ripe_gives_nothing() -> None:
    # Winter squash sown in September: the warmth for it never comes together before the year is over.
    cold = MILD.model_copy(
        update={"site": site_with({"mean_minima_c": [2.0] * 12, "mean_maxima_c": [9.0] * 12}, **_FROSTS)}
    )
    one = started("melon", "2027-06-15", "set out")
    assert share_of(one, cold) == CropShare(percent=0, why="not ripe")


_FROSTS: dict[str, Any] = {"last_frost": {"half": "1 May"}, "first_frost": {"half": "1 October"}}


def test_the_share_is_the_one_the_kilograms_are_counted_with() -> None:
    full, late = started("beetroot", "2027-05-01"), started("beetroot", "2027-08-01")
    share = share_of(late)
    assert share is not None
    assert full.plants == late.plants
    assert late.harvest.typical_kg / full.harvest.typical_kg == pytest.approx(share.percent / 100, rel=0.04)


def test_by_hand_frost_cuts_a_late_sowing_short() -> None:
    # Ripe after 60 days, picked for 56: of 1 July (14 weeks window) from 30 August to the first frost, 1 October, 33
    # days, 58 %; of 15 May the whole 56 days.
    bean = crop(
        "bean", "legumes", weeks=8, starts=[start(2, 60, latest=13)], hardiness={"level": "tender", "source": "s"}
    )
    known, asked = catalogue([bean], pathogens=[], neighbours=[]), scenario(["bean"])
    late = planting("bean", (1,), "2027-07-01", "2027-10-01", "2027-08-30")
    assert share_of(late, asked, known) == CropShare(percent=100 * 33 // 56, why="late")
    assert share_of(planting("bean", (1,), "2027-05-15", "2027-09-07", "2027-07-14"), asked, known) is None
    # The same sowing cleared on 31 July: 18 of 56 days.
    cut = planting("bean", (1,), "2027-05-15", "2027-07-31", "2027-07-14")
    assert share_of(cut, asked, known) == CropShare(percent=100 * 18 // 56, why="cleared early")


def test_what_is_not_known_is_left_out() -> None:
    asked = scenario(["tomato"], beds=[bed()])
    late = planting("tomato", (1,), "2027-05-15", "2027-08-01", "2027-07-14", way="set out")
    odd = [late.model_copy(update={"bed": "nowhere"}), late.model_copy(update={"crop": "mandrake"})]
    assert crop_shares([*odd, late], asked, CATALOGUE) == {late: CropShare(percent=100 * 19 // 56, why="cleared early")}
    assert late.start == date(2027, 5, 15)


def test_quick_kinds_are_named_where_usual_ones_do_not_ripen() -> None:
    # Tomatoes in the open at 52 degrees north: kinds of 80 days ripen too late, those of 70 days are counted.
    tomato, beetroot = started("tomato", "2027-05-19", "set out"), started("beetroot", "2027-05-01")
    days = SHIPPED.crop("tomato").starts[0].days_to_harvest
    assert days.least < days.usual
    assert quick_kinds([beetroot, tomato, tomato], MILD, SHIPPED) == {"tomato": round(days.least)}
    warm = MILD.model_copy(
        update={"site": site_with({"mean_minima_c": [15.0] * 12, "mean_maxima_c": [25.0] * 12}, **_FROSTS)}
    )
    assert quick_kinds([beetroot, tomato], warm, SHIPPED) == {}
