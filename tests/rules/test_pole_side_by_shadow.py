"""Pole side by shadow, by hand: how high a crop is, how far its noon shadow falls, and where a strip's middle lies."""

from __future__ import annotations

from pathlib import Path

import pytest

from rotasolve.domain.seasons import period_of
from rotasolve.files.crops import load_catalogue
from rotasolve.files.scenarios import read_scenario
from rotasolve.referee import blank_plan
from rotasolve.relations.ground.garden import Garden, make_garden
from rotasolve.relations.ground.noon_reach import noon_reach_cm, reaches_middle
from rotasolve.rules.bed_shadows import BedShadows
from rotasolve.rules.pole_side import PoleSide
from tests.helpers.agree import accepted, model_accepts, number_of
from tests.helpers.tiny import bed, catalogue, crop, day, planting, scenario
from tests.helpers.words import said

CASE = Path(__file__).parents[1] / "data" / "gardens" / "by-shadow.yaml"
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


# Vine: 92 cm in late July; from strip to strip of two beds of two strips lie the gap and 60 cm for each one between,
# and the middle is 30 cm on. Bush: 43 cm.
@pytest.mark.parametrize("latitude", [50, -50])
@pytest.mark.parametrize(
    ("name", "caster", "receiver", "gap", "free"),
    [
        ("bush", 1, 2, 10, False),
        ("bush", 2, 2, 10, True),
        ("bush", 1, 1, 10, True),
        ("vine", 1, 1, 0, False),
        ("vine", 2, 2, 0, False),
        ("vine", 1, 1, 5, True),
        ("vine", 2, 2, 5, True),
        ("vine", 2, 1, 0, True),
    ],
)
def test_between_beds_the_way_from_strip_to_strip_counts(
    latitude: float, name: str, caster: int, receiver: int, gap: float, free: bool
) -> None:
    south = latitude < 0
    beds = [
        bed("equator", east=0, north=120 + gap if south else 0),
        bed("pole", east=0, north=0 if south else 120 + gap),
    ]
    garden = make_garden(
        scenario(["small", "bush", "vine"], beds, latitude=latitude, rules={"height_order": "by shadow"}), SHELF
    )
    tall = number_of(garden, name, 2027, caster, "equator", size=1)
    assert accepted(garden, [tall, number_of(garden, "small", 2027, receiver, "pole", size=1)]) is free


def test_a_planting_is_barred_from_the_strips_that_the_shadow_reaches_alone() -> None:
    # Over 10 cm the bush's 43 cm pass the middle of the nearer strip, number 2, not of the one beyond.
    beds = [bed("equator", east=0, north=0), bed("pole", east=0, north=130)]
    garden = make_garden(scenario(["small", "bush"], beds, rules={"height_order": "by shadow"}), SHELF)
    standing = planting("bush", (1,), "2027-05-08", "2027-07-31", "2027-07-07", bed="equator")
    asked = planting("small", (1, 2), "2027-05-08", "2027-07-31", "2027-07-07", bed="pole")
    (found,) = BedShadows().hinders(garden, blank_plan(garden.scenario, (standing,)), asked)
    assert found.strips == (2,)
    assert "25 cm across a 10 cm gap" in said(found)


def test_a_counted_bed_takes_its_crops_to_stand_nearest_to_the_other() -> None:
    # Nobody knows yet on which strips they stand; so no plan of counts is laid out as one that breaks the rule.
    beds = [bed("equator", east=0, north=0), bed("pole", east=0, north=125)]
    place = scenario(["small", "vine"], beds, rules={"height_order": "by shadow"})
    for exact, free in ((True, True), (False, False)):
        garden = make_garden(place, SHELF, exact=exact)
        both = {
            next(n for n, c in enumerate(garden.choices) if (c.bed, c.sowing.crop) == pair and c.block.strips == 1)
            for pair in (("equator", "vine"), ("pole", "small"))
        }
        taken = tuple(int(n in both) for n in range(len(garden.choices)))
        assert model_accepts(garden, taken) is free


def test_a_tomato_six_strips_from_a_lettuce_keeps_its_shadow_to_itself() -> None:
    # Two beds of 3.6 m, 60 cm apart: from the far strip of one to the far strip of the other lie 60 + 5 x 60 + 5 x 60 =
    # 660 cm, of which a tomato's shadow reaches at most a third.
    catalogue = load_catalogue()
    garden = make_garden(read_scenario(CASE, catalogue), catalogue)
    lettuce = planting("leaf lettuce", (1,), "2027-08-01", "2027-09-30", "2027-09-01", bed="north")
    for strip, free in ((6, True), (1, True)):
        tomato = planting("tomato", (strip,), "2027-05-16", "2027-10-15", "2027-07-20", bed="south", way="set out")
        plan = blank_plan(garden.scenario, (tomato, lettuce))
        assert (list(BedShadows().breaches(garden, plan)) == []) is free
    near = planting("leaf lettuce", (6,), "2027-08-01", "2027-09-30", "2027-09-01", bed="north")
    (breach,) = BedShadows().breaches(garden, blank_plan(garden.scenario, (tomato, near)))
    assert breach.plantings == (tomato, near)


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
        "but vine (tall, 150 cm) on the sunny side of small (low, 30 cm), shadow 99 cm about 1 July 2027"
    )
