"""What follows from a planting: every planting that rotasolve makes follows from what it decides."""

from __future__ import annotations

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from rotasolve.relations.ground.following import followed
from rotasolve.relations.ground.garden import Garden, make_garden
from rotasolve.relations.ground.plantings import planting_of
from tests.helpers.strategies import gardens
from tests.helpers.tiny import CATALOGUE, NOTHING, bed, day, planting, scenario

WHOLE = frozenset({"way", "clear", "plants", "rows", "harvest"})


@settings(max_examples=100, derandomize=True, deadline=None, database=None, suppress_health_check=list(HealthCheck))
@given(gardens(), st.data())
def test_every_choice_of_a_garden_follows_from_itself(garden: Garden, data: st.DataObject) -> None:
    choices = [choice for choice in garden.choices if choice.fits]
    if not choices:
        return
    choice = data.draw(st.sampled_from(choices))
    made = planting_of(garden, choice.bed, choice.sowing, tuple(cell.strip for cell in choice.cells))
    stale = made.model_copy(update={"harvest": NOTHING, "first_harvest": None, "last_harvest": None, "rows": 9})
    assert followed(garden, stale) == made


def test_bed_strips_crop_and_start_are_enough() -> None:
    garden = make_garden(scenario(["tomato"]), CATALOGUE)
    bare = planting("tomato", (2, 1), "2027-05-15", "2027-05-15", rows=1, plants=1)
    found = followed(garden, bare, WHOLE)
    # Two strips of 4 plants; ripe after 60 days, picked for 8 weeks, ground to the end of the half month; 0.5 kg each.
    assert (found.strips, found.way, found.plants, found.rows) == ((1, 2), "set out", 8, 2)
    assert (found.first_harvest, found.last_harvest) == (day("2027-07-14"), day("2027-09-07"))
    assert (found.clear, found.harvest.typical_kg) == (day("2027-09-15"), 4.0)


def test_cleared_sooner_is_picked_less_and_before_it_is_ripe_not_at_all() -> None:
    garden = make_garden(scenario(["tomato"]), CATALOGUE)
    whole = planting("tomato", (1,), "2027-05-15", "2027-08-01", way="set out")
    # 14 July to 1 August: 19 of 56 days, 33 %: 4 x 0.5 x 0.33 kg.
    sooner = followed(garden, whole)
    assert (sooner.last_harvest, sooner.harvest.typical_kg) == (day("2027-08-01"), 0.66)
    unripe = followed(garden, whole.model_copy(update={"clear": day("2027-07-13")}))
    assert (unripe.first_harvest, unripe.harvest.typical_kg) == (None, 0)


def test_fewer_plants_take_fewer_rows_and_more_than_fit_are_left_for_the_referee() -> None:
    garden = make_garden(scenario(["kale"], [bed("bed", 3)]), CATALOGUE)
    three = planting("kale", (1, 2, 3), "2027-07-17", "2027-09-30")
    assert followed(garden, three.model_copy(update={"plants": 5})).rows == 2
    crowded = followed(garden, three.model_copy(update={"plants": 13}))
    assert (crowded.rows, crowded.plants) == (3, 13)
