"""The ground the wishes need, by hand: m2 half month by half month, and what of the wishes would fit."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from rotasolve.domain.ground_need import GroundNeed
from rotasolve.files.crops import load_catalogue
from rotasolve.files.scenarios import read_scenario
from rotasolve.relations.ground.garden import make_garden
from rotasolve.relations.household.ground_need import ground_need
from tests.helpers.tiny import CATALOGUE, bed, scenario

SIX_BEDS = Path(__file__).parents[2] / "data" / "gardens" / "six-beds.yaml"


def need_of(*targets: dict[str, Any], strips: int = 2, **more: Any) -> GroundNeed:
    return ground_need(make_garden(scenario(beds=[bed(strips=strips)], targets=targets, **more), CATALOGUE))


def test_one_wish_takes_its_ground_while_it_stands() -> None:
    # A strip of 60 cm by 120 cm is 0.72 m2 and yields 4 x 0.5 = 2 kg, so 3 kg of lettuce take 1.08 of 1.44 m2 from
    # 8 May to 31 July: from the first half of May, the ninth half month of the year, to the fourteenth.
    need = need_of({"crop": "lettuce", "kg": 3})
    (ground,) = need.grounds
    assert (ground.cover, ground.there_m2) == ("open ground", 1.44)
    assert ground.needed_m2 == (0.0,) * 8 + (1.08,) * 6 + (0.0,) * 10
    assert (need.fits, need.less, ground.fullest_month) == (True, (), 5)


def test_a_wish_that_stands_over_new_year_goes_round() -> None:
    # Garlic from 15 October to 15 August: all half months but those from the second of August to the end of September.
    need = need_of({"crop": "garlic", "kg": 2}, years=2)
    free = [number for number, m2 in enumerate(need.grounds[0].needed_m2) if not m2]
    assert free == [15, 16, 17]


def test_what_does_not_fit_is_cut_to_what_would() -> None:
    # Lettuce and beans stand together in June: 4 kg of each are 1.44 m2 of each, and three strips are 2.16 m2. Of nine
    # tenths of that, 1.944 m2, thirteen portions of 0.144 m2 fit: half of each wish is ten, and the other three go to
    # the weightier one, 0.72 m2 of which count as a fourth.
    wishes = ({"crop": "lettuce", "kg": 4, "weight": 4}, {"crop": "bean", "kg": 4, "weight": 1})
    need = need_of(*wishes, strips=3, rules={"family_gap": 0})
    (crowded,) = need.crowded
    assert (crowded.fullest_m2, crowded.there_m2) == (2.88, 2.16)
    assert dict(crowded.crops) == {"lettuce": 1.44, "bean": 1.44}
    assert {one.crop: one.fits_kg for one in need.less} == {"lettuce": 3.2, "bean": 2.0}


@pytest.mark.parametrize(
    ("years", "history", "there"),
    [
        # Two complete years of rest: in one of three planned years, so half a m2 a year on average.
        (3, [], 0.48),
        (4, [], 0.72),
        # After potatoes in 2026 not before 2029: in one of three years, in none of two.
        (3, [{"bed": "bed", "crop": "potato", "year": 2026}], 0.48),
        (2, [{"bed": "bed", "crop": "potato", "year": 2026}], 0.0),
    ],
)
def test_rest_leaves_a_family_a_part_of_the_ground(years: int, history: list[dict[str, Any]], there: float) -> None:
    need = need_of({"crop": "potato", "kg": 2.2}, years=years, history=history, rules={"family_gap": 2})
    (family,) = need.families
    assert (family.family, family.rest_years, family.crops) == ("nightshades", 2, ("potato",))
    assert (family.there_m2, family.needed_m2) == (there, 0.79)
    assert not need.crowded
    assert need.tired == (family,)


def test_only_the_wish_that_asks_most_is_cut() -> None:
    # 3.9 kg of lettuce and 0.4 kg of beans are 1.404 and 0.144 m2, more than 1.44. After half of each, 0.774 m2, the
    # beans come first, for they take less: all of them make it 0.846. Three portions of lettuce, 0.1404 m2 each, remain
    # within nine tenths of the ground, 1.296 m2: eight tenths of 3.9 kg.
    need = need_of({"crop": "lettuce", "kg": 3.9}, {"crop": "bean", "kg": 0.4}, rules={"family_gap": 0})
    assert [(one.crop, one.fits_kg) for one in need.less] == [("lettuce", 3.12)]


def test_must_haves_count_as_wishes() -> None:
    # 16 plants of lettuce are 4 strips of the 2 there are.
    garden = make_garden(scenario(must=[{"crop": "lettuce", "plants": 16}]), CATALOGUE)
    (crowded,) = ground_need(garden).crowded
    assert crowded.fullest_m2 == 2.88


def test_successions_share_the_ground_in_time() -> None:
    # Lettuce to 31 July and kale from 17 July, a whole bed of each: they meet in the second half of July alone.
    need = need_of({"crop": "lettuce", "kg": 4}, {"crop": "kale", "kg": 4}, rules={"family_gap": 0})
    ground = need.grounds[0]
    assert [number for number, m2 in enumerate(ground.needed_m2) if m2 > ground.there_m2] == [13]


def test_six_beds_cannot_hold_forty_kilograms_of_potatoes_every_year() -> None:
    # 40 kg at about 2.7 kg to the m2 are 15 m2, and where nightshades rest two complete years a third of 30 m2 is
    # theirs: half of the potatoes would fit. The other wishes crowd June.
    catalogue = load_catalogue()
    need = ground_need(make_garden(read_scenario(SIX_BEDS, catalogue), catalogue))
    open_ground = next(ground for ground in need.grounds if ground.cover == "open ground")
    assert open_ground.there_m2 == 30.3
    assert open_ground.fullest_month == 6
    assert open_ground.crops[0][0] == "potato"
    assert 13 < open_ground.crops[0][1] < 17
    potato = next(one for one in need.less if one.crop == "potato")
    assert 16 <= potato.fits_kg <= 24
    assert [family.there_m2 for family in need.tired if family.cover == "open ground"] == [10.1]
