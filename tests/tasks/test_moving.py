"""Room made by moving the least: worked by hand, and against every way of moving tried in tiny gardens."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from itertools import product
from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from rotasolve.domain.moves import Room
from rotasolve.domain.place import Question
from rotasolve.domain.plan import Plan, Planting
from rotasolve.domain.scenario import Scenario
from rotasolve.errors import GardenFault
from rotasolve.referee import blank_plan, judge
from rotasolve.relations.ground.garden import Garden, make_garden
from rotasolve.relations.ground.plantings import planting_of, sowing_of
from rotasolve.rules import WISHES
from rotasolve.tasks.moving import make_room
from rotasolve.tasks.surveying import Survey
from tests.helpers.strategies import NAMES, gardens_with_plans
from tests.helpers.tiny import CATALOGUE, bed, planting, scenario
from tests.rules.test_hindrances import sound_part

BEFORE = date(2026, 12, 31)
LETTUCE = planting("lettuce", (1,), "2027-05-08", "2027-07-31", "2027-07-07")
LETTUCES = planting("lettuce", (1, 2), "2027-05-08", "2027-07-31", "2027-07-07")


def ask(wish: Scenario, name: str, *standing: Planting, today: date = BEFORE, **more: Any) -> Room | None:
    return next(iter(make_room(wish, CATALOGUE, Question(crop=name, **more), blank_plan(wish, standing), today)), None)


def changes(room: Room | None) -> list[tuple[str, tuple[int, ...], tuple[int, ...] | None]]:
    assert room is not None
    return [(m.before.crop, m.before.strips, m.after.strips if m.after else None) for m in room.moves]


def test_a_low_crop_moves_to_the_sunny_side_for_a_tall_one() -> None:
    # Lettuce stands in strip 1 at the pole side, so tomatoes can stand in neither strip; moved to strip 2 it gives way.
    room = ask(scenario(["lettuce", "tomato"]), "tomato", LETTUCE, plants=4)
    assert changes(room) == [("lettuce", (1,), (2,))]
    assert room is not None
    assert (room.placed.crop, room.placed.strips, room.placed.plants) == ("tomato", (1,), 4)
    assert (room.at_least, room.proven) == (1, True)
    assert room.plan.verdict.breaches == ()
    assert {(p.crop, p.strips) for p in room.plan.plantings} == {("tomato", (1,)), ("lettuce", (2,))}


def test_nothing_moves_where_there_is_a_place() -> None:
    room = ask(scenario(["lettuce", "tomato"], [bed(strips=3)]), "tomato", LETTUCE.model_copy(update={"strips": (3,)}))
    assert changes(room) == []
    assert room is not None
    assert (room.at_least, room.proven) == (0, True)


def test_a_planting_too_large_to_move_is_cut_back_rather_than_given_up() -> None:
    # 8 lettuces fill the bed; 4 of them stay in strip 2.
    room = ask(scenario(["lettuce", "tomato"]), "tomato", LETTUCES, plants=4)
    assert changes(room) == [("lettuce", (1, 2), (2,))]
    assert room is not None
    after = room.moves[0].after
    assert after is not None
    assert after.plants == 4


def test_with_no_room_at_all_it_is_given_up() -> None:
    # Both strips are asked for.
    assert changes(ask(scenario(["lettuce", "tomato"]), "tomato", LETTUCES, plants=8)) == [("lettuce", (1, 2), None)]


def test_what_must_be_had_is_never_given_up() -> None:
    must = [{"crop": "lettuce", "plants": 8}]
    assert ask(scenario(["tomato"], must=must), "tomato", LETTUCES, plants=4) is None


def test_what_is_in_the_ground_or_fixed_does_not_move() -> None:
    wish = scenario(["lettuce", "tomato"])
    assert ask(wish, "tomato", LETTUCE, plants=4, today=date(2027, 5, 7)) is not None
    assert ask(wish, "tomato", LETTUCE, plants=4, today=date(2027, 5, 8)) is None
    pin = [{"bed": "bed", "crop": "lettuce", "start": "2027-05-08", "strips": [1]}]
    assert ask(scenario(["tomato"], pinned=pin), "tomato", LETTUCE, plants=4) is None


def test_the_history_is_no_matter_of_moving() -> None:
    wish = scenario(["lettuce", "tomato"], history=[{"bed": "bed", "crop": "potato", "year": 2026}])
    assert ask(wish, "tomato", LETTUCE, plants=4) is None


def test_a_plan_that_breaks_rules_is_refused_before_anything_moves() -> None:
    wish = scenario(["lettuce", "tomato"])
    with pytest.raises(GardenFault, match="the plan breaks the rules in 2 places before anything is moved"):
        ask(wish, "tomato", LETTUCE, LETTUCE.model_copy(update={"crop": "bean", "start": date(2027, 5, 29)}))


def test_points_before_and_after_are_recounted() -> None:
    targets = [{"crop": "lettuce", "kg": 2}, {"crop": "tomato", "kg": 2}]
    room = ask(scenario((), targets=targets), "tomato", LETTUCE, plants=4)
    assert room is not None
    assert room.lost_after == sum(goal.lost for goal in room.plan.goals) < room.lost_before


@st.composite
def crowded(draw: st.DrawFn) -> tuple[Garden, Plan, Question]:
    garden, chosen = draw(gardens_with_plans(most=4))
    household = garden.scenario.household.model_copy(update={"must_have": ()})
    wish = garden.scenario.model_copy(update={"pinned": (), "household": household})
    bare = make_garden(wish, CATALOGUE, exact=True)
    plan = sound_part(garden, chosen)
    assume(plan.plantings)
    assume(not judge(bare, blank_plan(wish, plan.plantings)).breaches)
    return bare, blank_plan(wish, plan.plantings), Question(crop=draw(st.sampled_from(NAMES)), plants=4)


def everywhere(garden: Garden, question: Question) -> Iterator[Planting]:
    """Every run of strips and every sowing of a crop, each length of its picking season too, whatever forbids it."""
    survey = Survey(garden, blank_plan(garden.scenario), question)
    for ground in garden.scenario.beds:
        for sowings in survey.sowings(ground).values():
            for sowing in sowings:
                for run in survey.runs(ground, sowing):
                    yield survey.planting(ground.name, sowing, run)


def ways_of(garden: Garden, p: Planting) -> Iterator[Planting]:
    """Every other place of a planting of the same plants, way, crop year and nine tenths of its season."""
    sowing = sowing_of(garden, p)
    for there in everywhere(garden, Question(crop=p.crop, plants=p.plants, way=p.way)):
        new = sowing_of(garden, there)
        if new.crop_year == sowing.crop_year and new.course.share_percent >= round(0.9 * sowing.course.share_percent):
            yield there


@settings(max_examples=60, deadline=None)
@given(crowded())
def test_no_way_of_moving_touches_fewer_plantings(question: tuple[Garden, Plan, Question]) -> None:
    garden, plan, asked = question
    room = next(iter(make_room(garden.scenario, CATALOGUE, asked, plan, date(2020, 1, 1))), None)
    wider = _wider(garden, asked)
    lone = list(everywhere(wider, asked))
    fewest: int | None = None
    for ways in product(*([p, *ways_of(garden, p)] for p in plan.plantings)):
        moved = sum(a != b for a, b in zip(plan.plantings, ways, strict=True))
        if fewest is not None and moved >= fewest:
            continue
        for there in lone:
            trial = blank_plan(garden.scenario, (*ways, there))
            if not [r for r in judge(wider, trial).breaches if r.claim.rule not in WISHES]:
                fewest = moved
                break
    if room is None:
        assert fewest is None
        return
    assert room.plan.verdict.breaches == ()
    whole = all(m.after is not None and m.after.plants == m.before.plants for m in room.moves)
    if fewest is None:
        assert not whole
    else:
        assert whole
        assert len(room.moves) == fewest
    assert room.at_least <= len(room.moves)
    assert room.placed in room.plan.plantings


def _wider(garden: Garden, asked: Question) -> Garden:
    allowed = (*garden.scenario.also_allowed, asked.crop)
    return make_garden(garden.scenario.model_copy(update={"also_allowed": allowed}), CATALOGUE, exact=True)


def test_a_planting_moved_keeps_its_plants() -> None:
    wish = scenario(["lettuce", "tomato"])
    garden = make_garden(wish, CATALOGUE)
    three = planting_of(garden, "bed", sowing_of(garden, LETTUCE), (1,)).model_copy(update={"plants": 3})
    room = ask(wish, "tomato", three, plants=4)
    assert room is not None
    assert [move.after and move.after.plants for move in room.moves] == [3]
