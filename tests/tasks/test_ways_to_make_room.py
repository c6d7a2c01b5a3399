"""Ways to make room: each a change of its own, none paid for with what weighs more, all of them as the rules ask."""

from __future__ import annotations

from collections import Counter
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rotasolve.domain.moves import Room
from rotasolve.domain.place import Question
from rotasolve.domain.plan import Plan
from rotasolve.domain.result import Good, ProvenBest
from rotasolve.domain.scenario import Scenario
from rotasolve.referee import blank_plan, judge
from rotasolve.relations.ground.garden import make_garden
from rotasolve.solver.cpsat import Limits
from rotasolve.tasks.by_hand import take_up
from rotasolve.tasks.moving import MOST_WAYS, make_room
from rotasolve.tasks.rotation import plan_rotation
from tests.helpers.by_hand import WIDE, modest, plantings
from tests.helpers.strategies import NAMES, scenarios
from tests.helpers.tiny import CATALOGUE, bed, planting, scenario

BEFORE = date(2026, 12, 31)
LETTUCES = planting("lettuce", (1, 2), "2027-05-08", "2027-07-31", "2027-07-07")


def ways(wish: Scenario, name: str, *standing: object, **more: int) -> tuple[Room, ...]:
    return make_room(wish, CATALOGUE, Question(crop=name, **more), blank_plan(wish, standing), BEFORE)  # type: ignore[arg-type]


@pytest.mark.parametrize(("lettuce", "tomato", "pays"), [(2, 2, True), (1, 2, True), (3, 2, False), (3, 3, True)])
def test_what_weighs_more_never_pays(lettuce: int, tomato: int, pays: bool) -> None:
    # 8 lettuces fill the bed: tomatoes fit only where some of them are cut back or given up.
    targets = [{"crop": "lettuce", "kg": 4, "weight": lettuce}, {"crop": "tomato", "kg": 2, "weight": tomato}]
    found = ways(scenario((), targets=targets), "tomato", LETTUCES, plants=4)
    assert bool(found) == pays
    # Who asks for a crop without a target weighs it as usual, 2.
    assert bool(ways(scenario(["tomato"], targets=targets[:1]), "tomato", LETTUCES, plants=4)) == (lettuce <= 2)


def test_a_crop_never_pays_for_itself() -> None:
    assert ways(scenario(["lettuce"]), "lettuce", LETTUCES, plants=4) == ()


def test_each_way_says_its_kilograms() -> None:
    targets = [{"crop": "lettuce", "kg": 4}, {"crop": "tomato", "kg": 2}]
    standing = take_up(make_garden(scenario((), targets=targets), CATALOGUE), blank_plan(scenario(), (LETTUCES,)))[0]
    (way,) = ways(scenario((), targets=targets), "tomato", *standing.plantings, plants=4)
    # 4 of 8 lettuces at 0.5 kg are given up for 4 tomatoes at 0.5 kg.
    assert [(each.crop, each.kg) for each in way.harvest] == [("tomato", 2.0), ("lettuce", -2.0)]


def test_up_to_three_ways_each_leaves_alone_what_another_touches() -> None:
    # Tomatoes find no row in four beds full of lettuces: any of them may give way, and three of four are shown.
    beds = [bed(name, 2) for name in ("a", "b", "c", "d")]
    standing = [LETTUCES.model_copy(update={"bed": ground.name}) for ground in beds]
    found = ways(scenario(["lettuce", "tomato"], beds), "tomato", *standing, plants=4)
    assert len(found) == MOST_WAYS == 3
    assert len({way.placed.bed for way in found}) == 3
    assert [len(way.moves) for way in found] == [1, 1, 1]


def test_where_there_is_room_there_is_one_way() -> None:
    assert len(ways(scenario(["tomato"], [bed(strips=3)]), "tomato", plants=4)) == 1


def edited(draw: st.DataObject) -> tuple[Scenario, Plan] | None:
    """Draw a plan of a random garden with pins, with plantings added by hand and some marked as kept."""
    place = draw.draw(scenarios())
    found = plan_rotation(place, WIDE, Limits(seconds=None, effort=0.2))
    if not isinstance(found, ProvenBest | Good):
        return None
    garden = make_garden(place, WIDE)
    more = draw.draw(st.lists(plantings(garden), max_size=2))
    kept = draw.draw(st.integers(0, 6))
    both = [
        p.model_copy(update={"kept": n == kept}) for n, p in enumerate(dict.fromkeys([*found.plan.plantings, *more]))
    ]
    changed, _ = take_up(garden, found.plan.model_copy(update={"plantings": tuple(both)}))
    return place, changed if not judge(garden, changed).breaches else found.plan


def test_every_way_in_an_edited_garden_holds_every_rule() -> None:
    """With pins, kept and edited plantings: what is shown is refereed, differs, and is paid for fairly."""
    seen: Counter[bool] = Counter()

    @modest(60)
    @given(
        st.data(), st.sampled_from(NAMES), st.sampled_from([None, 3, 8]), st.sampled_from([BEFORE, date(2027, 6, 1)])
    )
    def check(draw: st.DataObject, crop: str, plants: int | None, today: date) -> None:
        both = edited(draw)
        if both is None:
            return
        place, plan = both
        found = make_room(place, WIDE, Question(crop=crop, plants=plants), plan, today, effort=1.0)
        wider = make_garden(place.model_copy(update={"also_allowed": (*place.also_allowed, crop)}), WIDE, exact=True)
        weights = {target.crop: target.weight for target in place.household.targets}
        for number, way in enumerate(found):
            assert judge(wider, way.plan).breaches == ()
            touched = {move.before for move in way.moves}
            assert not any(before.kept or before.start <= today for before in touched)
            for other in found[:number]:
                assert not {move.before for move in other.moves} <= touched
            for move in way.moves:
                if move.after is None or move.after.plants < move.before.plants:
                    assert move.before.crop != crop
                    assert weights.get(move.before.crop, 0) <= weights.get(crop, 2)
            seen[bool(way.moves)] += 1

    check()
    # Mostly there is room; ways that move something are held to the same by hand, and in test_room_case.py.
    assert seen.total() > 6
