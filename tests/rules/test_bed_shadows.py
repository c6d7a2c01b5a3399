"""Bed shadows, by hand: how far a noon shadow reaches over a gap."""

from __future__ import annotations

import pytest

from rotasolve.domain.bed import Bed
from rotasolve.domain.seasons import period_of
from rotasolve.domain.site import Site
from rotasolve.relations.ground.garden import Garden, make_garden
from rotasolve.relations.ground.lie_of_beds import reach_factor
from rotasolve.rules.bed_shadows import ShadowClaim
from tests.helpers.agree import accepted, broken, found_by, number_of, plan_of, posted, taken_of
from tests.helpers.tiny import CATALOGUE, bed, day, scenario, site
from tests.helpers.words import said

KEY = "bed-shadows"

# Source: computed from the pole-side law, D0 = h x tan(|latitude| - declination), in metres per metre of height, for
# the equinox, declination 9.5 (15 April), 18.8 (15 May) and 23.44 degrees (solstice).
REACH = {
    35: (0.70, 0.48, 0.29, 0.20),
    40: (0.84, 0.59, 0.39, 0.30),
    43.5: (0.95, 0.67, 0.46, 0.37),
    45: (1.00, 0.71, 0.49, 0.40),
    50: (1.19, 0.85, 0.61, 0.50),
    51.5: (1.26, 0.90, 0.64, 0.53),
    55: (1.43, 1.02, 0.73, 0.61),
    60: (1.73, 1.21, 0.88, 0.74),
}
NORTH = ("2027-03-20", "2027-04-16", "2027-05-16", "2027-06-20")
SOUTH = ("2027-09-20", "2027-10-17", "2027-11-17", "2027-12-20")
"""Days whose half months begin (or turn) at those declinations: half a year apart in the two hemispheres."""


@pytest.mark.parametrize(("latitude", "reaches"), REACH.items())
def test_the_reach_follows_the_law(latitude: float, reaches: tuple[float, ...]) -> None:
    # A half month takes its longest reach, so it may exceed the day's by a hundredth or two.
    for sign, days in ((1, NORTH), (-1, SOUTH)):
        place = Site.model_validate(site(sign * latitude))
        for text, reach in zip(days, reaches, strict=True):
            assert reach_factor(place, period_of(day(text))) == pytest.approx(reach, abs=0.03)


@pytest.mark.parametrize("month", [11, 12, 1, 2])
def test_in_winter_the_equinox_reach_is_used(month: int) -> None:
    # tan 45 = 1 at latitude 45, however low the sun stands.
    place = Site.model_validate(site(45))
    assert reach_factor(place, period_of(day(f"2027-{month:02d}-10"))) == pytest.approx(1)


def two_beds(
    gap: float, south: bool = False, east: float = 0, names: tuple[str, str] = ("equator", "pole")
) -> list[Bed]:
    """Return a one-strip bed on the equator side and one on the pole side, ``gap`` cm apart, 120 cm broad each."""
    return [
        bed(names[0], 1, east=0, north=60 + gap if south else 0),
        bed(names[1], 1, east=east, north=0 if south else 60 + gap),
    ]


def garden_of(gap: float, latitude: float = 50, east: float = 0) -> Garden:
    beds = two_beds(gap, latitude < 0, east)
    return make_garden(scenario(["lettuce", "tomato"], beds, latitude=latitude), CATALOGUE)


def tomato_then_lettuce(garden: Garden, tomato_bed: str = "equator", lettuce_bed: str = "pole") -> list[int]:
    tomato = [n for n, c in enumerate(garden.choices) if c.sowing.crop == "tomato" and c.bed == tomato_bed]
    return [tomato[0], number_of(garden, "lettuce", 2027, bed=lettuce_bed)]


@pytest.mark.parametrize(("gap", "free"), [(82, False), (87, True)])
@pytest.mark.parametrize("latitude", [50, -50])
def test_a_shadow_that_reaches_over_the_gap(latitude: float, gap: float, free: bool) -> None:
    # Tomato 150 cm, lettuce 30 cm: 120 cm of difference. They meet from the first half of May (November) on, when
    # the sun's declination is 14.8 to 15 degrees: 120 x tan(50 - 14.9) = 120 x 0.703 = 84 cm.
    garden = garden_of(gap, latitude)
    assert accepted(garden, tomato_then_lettuce(garden)) is free


def test_the_bed_on_the_pole_side_casts_no_shadow_back() -> None:
    garden = garden_of(10)
    assert accepted(garden, tomato_then_lettuce(garden, "pole", "equator"))


@pytest.mark.parametrize(("east", "free"), [(119, False), (120, True), (-119, False), (-120, True)])
def test_beds_that_do_not_overlap_from_east_to_west_are_free(east: float, free: bool) -> None:
    # Both are 120 cm broad: at 119 cm they share 1 cm of breadth.
    garden = garden_of(10, east=east)
    assert accepted(garden, tomato_then_lettuce(garden)) is free


def test_beds_without_a_place_are_not_judged() -> None:
    beds = [bed("equator", 1), bed("pole", 1)]
    garden = make_garden(scenario(["lettuce", "tomato"], beds), CATALOGUE)
    assert accepted(garden, tomato_then_lettuce(garden))
    assert posted(garden, KEY) == set()


def test_off_near_the_equator() -> None:
    garden = garden_of(0, latitude=20)
    assert accepted(garden, tomato_then_lettuce(garden))


def test_one_height_class_is_never_in_its_own_way() -> None:
    # Potato, 60 cm, and kale, 70 cm, are both middle: 10 cm x 0.7 = 7 cm of shadow over a gap of 1 cm are let be.
    garden = make_garden(scenario(["potato", "kale"], two_beds(1)), CATALOGUE)
    kale = number_of(garden, "kale", 2027, bed="equator")
    assert accepted(garden, [kale, number_of(garden, "potato", 2027, bed="pole")])


def test_counted_beds_keep_out_of_each_others_shadow() -> None:
    garden = make_garden(scenario(["lettuce", "tomato"], two_beds(10)), CATALOGUE, exact=False)
    assert posted(garden, KEY) == {ShadowClaim("equator", "pole")}


def test_says_what_it_asks() -> None:
    assert said(ShadowClaim("vine bed", "salad bed")) == (
        "no crop in vine bed is so tall that its shadow reaches a lower crop in salad bed"
    )


def test_says_what_it_found() -> None:
    garden = garden_of(82)
    chosen = tomato_then_lettuce(garden)
    assert broken(garden, taken_of(garden, chosen)) == {ShadowClaim("equator", "pole")}
    found = found_by(garden, KEY, plan_of(garden, taken_of(garden, chosen)))
    # 120 x tan(50 - 14.8) = 84.6, said in whole cm.
    assert found == [
        "no crop in equator is so tall that its shadow reaches a lower crop in pole, but tomato (tall, 150 cm) on the "
        "sunny side of lettuce (low, 30 cm), shadow 85 cm over a 82 cm gap about 1 May 2027"
    ]
