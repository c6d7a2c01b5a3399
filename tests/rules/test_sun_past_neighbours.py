"""Sun past neighbours, by hand and against every plan of small gardens: beds that tall neighbours darken."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rotasolve.domain.plan import Plan
from rotasolve.relations.ground.garden import Garden, make_garden
from rotasolve.relations.ground.plantings import planting_of
from rotasolve.relations.sun.bed_sun import bed_minutes
from rotasolve.relations.sun.pair_losses import pair_loss
from rotasolve.rules.sun_past_neighbours import ShadeClaim
from tests.helpers.agree import accepted, broken, found_by, number_of, plan_of, posted, taken_of
from tests.helpers.tiny import bed
from tests.helpers.words import said
from tests.rules.test_hindrances import claims_it_cannot_meet, hindrances_of, sound_part
from tests.rules.test_least_sun import SHELF, garden_of, wall_south_of

KEY = "sun-past-neighbours"


def hedged_in() -> Garden:
    """Return a bed between two beds 10 cm to the east and west of it, 1 m behind a wall."""
    beds = [bed("middle", 4, east=130, north=0), bed("west", 4, east=0, north=0), bed("east", 4, east=260, north=0)]
    return garden_of(beds, obstacles=[wall_south_of(-100)])


def test_east_and_west_neighbours_add_up() -> None:
    garden = hedged_in()
    middle, west, east = (garden.beds[name] for name in ("middle", "west", "east"))
    # May: the wall leaves 803 minutes a day, and 4 m of reed on one side takes 373 of them (young reed
    # counts as three quarters, 3 m, rounded up to 4): 430 are left beside one bed of reed, 57 beside two. Fruit needs
    # 360, herb 120.
    assert bed_minutes(garden.scenario, middle, 5) == pytest.approx(803, abs=10)
    lost = [pair_loss(other, middle, 50, 5).minutes_at(400) for other in (west, east)]
    assert lost[0] == lost[1] == pytest.approx(373, abs=8)
    fruit, herb, reed_west, reed_east = (
        number_of(garden, crop, 2027, 1, bed=name)
        for crop, name in (("fruit", "middle"), ("herb", "middle"), ("reed", "west"), ("reed", "east"))
    )
    assert accepted(garden, [fruit, reed_west])
    assert accepted(garden, [fruit, reed_east])
    assert not accepted(garden, [fruit, reed_west, reed_east])
    assert not accepted(garden, [herb, reed_west, reed_east])
    assert broken(garden, taken_of(garden, [fruit, reed_west, reed_east])) == {ShadeClaim("middle")}


def test_neighbours_are_counted_only_where_wished() -> None:
    wished = hedged_in()
    rules = wished.scenario.rules.model_copy(update={"least_sun": True})
    garden = make_garden(wished.scenario.model_copy(update={"rules": rules}), SHELF, exact=True)
    numbers = [number_of(garden, "fruit", 2027, 1, bed="middle")]
    numbers += [number_of(garden, "reed", 2027, 1, bed=name) for name in ("west", "east")]
    assert accepted(garden, numbers)
    assert ShadeClaim("middle") in posted(wished, KEY)
    assert ShadeClaim("middle") not in posted(garden, KEY)


def test_says_what_it_asks() -> None:
    assert said(ShadeClaim("bed")) == "the crops of other beds leave every crop in bed the sun it needs at the least"


def test_says_who_takes_the_sun() -> None:
    garden = hedged_in()
    numbers = [number_of(garden, "fruit", 2027, 1, bed="middle")]
    numbers += [number_of(garden, "reed", 2027, 1, bed=name) for name in ("west", "east")]
    (found,) = found_by(garden, KEY, plan_of(garden, taken_of(garden, numbers)))
    # The first half month is told in which too little is left: 803 minutes less 2 x 373.
    assert "fruit needs 6 h of sun a day, the bed has 13.4 h in May, and crops take " in found
    assert "east 6.2 h" in found
    assert "west 6.2 h" in found


@st.composite
def shady_gardens(draw: st.DrawFn) -> tuple[Garden, frozenset[int]]:
    """Draw two or three small beds close together, perhaps behind a wall, and some of what may stand there."""
    latitude = draw(st.sampled_from([50, -50, 60]))
    gap = draw(st.sampled_from([5, 10, 300]))
    places = draw(st.sampled_from([[(0, 0), (120 + gap, 0)], [(0, 0), (0, 120 + gap)], [(0, 0), (-125, 0), (125, 0)]]))
    beds = [
        bed(f"bed {n}", draw(st.sampled_from([1, 2, 4])), east=east, north=north)
        for n, (east, north) in enumerate(places)
    ]
    if draw(st.booleans()):
        beds[0] = beds[0].model_copy(update={"sun_hours": draw(st.sampled_from([3.0, 7.0, 9.0]))})
    side = 380 if latitude < 0 else -30
    obstacles = draw(st.sampled_from([[], [wall_south_of(side)], [wall_south_of(side, 400, light_through=0.4)]]))
    garden = garden_of(beds, latitude=latitude, obstacles=obstacles)
    chosen = draw(st.sets(st.sampled_from(range(len(garden.choices))), min_size=1, max_size=5))
    return garden, frozenset(chosen)


@settings(max_examples=120, deadline=None)
@given(shady_gardens())
def test_model_and_referee_agree(question: tuple[Garden, frozenset[int]]) -> None:
    garden, chosen = question
    accepted(garden, chosen)


@settings(max_examples=120, deadline=None)
@given(shady_gardens(), st.data())
def test_hindrances_are_the_claims_that_cannot_be_met(
    question: tuple[Garden, frozenset[int]], data: st.DataObject
) -> None:
    garden, chosen = question
    plan: Plan = sound_part(garden, chosen)
    choice = data.draw(st.sampled_from(garden.choices))
    planting = planting_of(garden, choice.bed, choice.sowing, tuple(cell.strip for cell in choice.cells))
    told = hindrances_of(garden, plan, planting)
    assert {hindrance.claim for hindrance in told} == claims_it_cannot_meet(garden, plan, planting)
    assert all(hindrance.strips and said(hindrance) for hindrance in told)
