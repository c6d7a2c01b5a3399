"""Pole side by shadow, by hand: how high a crop is, how far its noon shadow falls, and where a strip's middle lies."""

from __future__ import annotations

import pytest

from rotasolve.domain.seasons import period_of
from rotasolve.referee import blank_plan
from rotasolve.relations.ground.garden import Garden, make_garden
from rotasolve.relations.ground.noon_reach import noon_reach_cm, reaches_middle
from rotasolve.rules.pole_side import PoleSide
from tests.helpers.agree import accepted, number_of
from tests.helpers.tiny import bed, catalogue, crop, day, planting, scenario
from tests.helpers.words import said

SMALL = crop("small", "daisies", 30)
BUSH = crop("bush", "cabbages", 70)
VINE = crop("vine", "nightshades", 150)
"""All from 8 May, picked 7 to 20 July, ground taken to 31 July."""
SHELF = catalogue((SMALL, BUSH, VINE))


def garden_of(latitude: float, strips: int = 4, order: object = "by shadow") -> Garden:
    return make_garden(
        scenario(["small", "bush", "vine"], [bed(strips=strips)], latitude=latitude, rules={"height_order": order}),
        SHELF,
        exact=True,
    )


# The longest noon shadow of a half month, per metre: at 50 north 0.703 in the first half of May (declination 14.9),
# 0.59 in the second (19.4 on the 16th), 0.53 in the first of June, 0.615 in the second of
# July (18.4 on the 31st). A crop without published
# stages counts as three quarters of its height until half way to its harvest, 7 June, and as full grown after.
@pytest.mark.parametrize(
    ("latitude", "name", "away", "free"),
    [
        # Bush: 0.75 x 70 x 0.70 = 37 cm in early May and 70 x 0.615 = 43 cm in late July pass the middle, 30 cm, of
        # the next strip, but not of the one after it, 60 + 30 = 90 cm.
        (50, "bush", 1, False),
        (50, "bush", 2, True),
        # Vine: 150 x 0.615 = 92 cm in late July just passes 90 cm, but not 150 cm.
        (50, "vine", 1, False),
        (50, "vine", 2, False),
        (50, "vine", 3, True),
        # At 30 north, declination 14.9: 0.75 x 70 x tan 15.1 = 14 cm; vine 0.75 x 150 x 0.27 = 30.4 cm just passes.
        (30, "bush", 1, True),
        (30, "vine", 1, False),
        (-50, "bush", 1, False),
        (-50, "bush", 2, True),
    ],
)
def test_the_shadow_decides(latitude: float, name: str, away: int, free: bool) -> None:
    garden = garden_of(latitude)
    low = number_of(garden, "small", 2027, 1)
    assert accepted(garden, [low, number_of(garden, name, 2027, 1 + away)]) is free
    # On the pole side a taller crop is always free, and strict order lets none of the others be.
    assert accepted(garden, [number_of(garden, "small", 2027, 1 + away), number_of(garden, name, 2027, 1)])
    strict = garden_of(latitude, order="strict")
    assert not accepted(strict, [low, number_of(strict, name, 2027, 1 + away)])


def test_strict_is_the_same_as_true() -> None:
    for order in (True, "strict"):
        garden = garden_of(30, order=order)
        assert not accepted(garden, [number_of(garden, "small", 2027, 1), number_of(garden, "bush", 2027, 2)])


@pytest.mark.parametrize(("gap", "free"), [(0, False), (10, False), (15, True)])
def test_between_beds_the_middle_of_the_first_strip_counts(gap: float, free: bool) -> None:
    # Bush: 43 cm in late July over the gap and 30 cm of the strip.
    beds = [bed("equator", 1, east=0, north=0), bed("pole", 1, east=0, north=60 + gap)]
    garden = make_garden(
        scenario(["small", "bush", "vine"], beds, rules={"height_order": "by shadow"}), SHELF, exact=True
    )
    pair = [number_of(garden, "bush", 2027, bed="equator"), number_of(garden, "small", 2027, bed="pole")]
    assert accepted(garden, pair) is free


def test_a_young_crop_casts_a_shorter_shadow() -> None:
    site = scenario().site
    early, late = period_of(day("2027-05-08")), period_of(day("2027-07-08"))
    ready = day("2027-07-07")
    assert noon_reach_cm(site, BUSH, day("2027-05-08"), ready, early) == pytest.approx(0.75 * 70 * 0.703, abs=1)
    assert noon_reach_cm(site, BUSH, day("2027-05-08"), ready, late) == pytest.approx(70 * 0.545, abs=1.5)
    assert reaches_middle(31, 0, 60)
    assert not reaches_middle(30, 0, 60)


def test_strict_order_says_where_the_sun_would_let_it() -> None:
    standing = planting("small", (1,), "2027-06-01", "2027-07-15")
    for latitude, told in ((30, True), (55, False)):
        garden = garden_of(latitude, order=True)
        plan = blank_plan(garden.scenario, (standing,))
        asked = planting("bush", (2,), "2027-06-01", "2027-07-15")
        (found,) = PoleSide().hinders(garden, plan, asked)
        assert ("it costs next to nothing" in said(found)) is told


def test_the_breach_names_the_shadow() -> None:
    garden = garden_of(55)
    plan = blank_plan(
        garden.scenario,
        (planting("small", (1,), "2027-06-01", "2027-07-15"), planting("vine", (2,), "2027-06-01", "2027-07-15")),
    )
    (breach,) = PoleSide().breaches(garden, plan)
    # 150 x tan(55 - 21.5) = 99 cm in the first half of July, full grown by then.
    assert said(breach).endswith(
        "but vine (tall, 150 cm) on the equator side of small (low, 30 cm), shadow 99 cm about 1 July 2027"
    )
