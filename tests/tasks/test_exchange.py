"""The exchange curve: monotone, bounded from below, and equal to what each point's own best plan loses."""

from __future__ import annotations

import itertools
import threading

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rotasolve.domain.exchange import Exchange
from rotasolve.domain.result import ProvenBest
from rotasolve.errors import GardenFault
from rotasolve.referee import judge, score
from rotasolve.relations.ground.garden import Garden, make_garden
from rotasolve.solver.cpsat import Limits
from rotasolve.tasks.exchange import asked_for, exchange_curve, usual_amounts
from rotasolve.tasks.rotation import plan_rotation
from tests.helpers.agree import plan_of, taken_of
from tests.helpers.strategies import gardens_with_plans
from tests.helpers.tiny import CATALOGUE, bed, scenario

TARGETS = [
    {"crop": "lettuce", "kg": 3, "fresh_from": "July", "fresh_to": "July"},
    {"crop": "kale", "kg": 4},
    {"crop": "potato", "kg": 3},
]
# Plantings cost nothing here: where a crop is demanded, a plan could else lose more than empty beds.
GARDEN = scenario(beds=[bed(strips=3)], targets=TARGETS, household={"people": 2}, rules={"few_plantings": "not at all"})
BY_WORK = Limits(seconds=None, effort=12)


def monotone(curve: Exchange) -> None:
    points = [point for point in curve.points if point.lost is not None]
    for easier, harder in itertools.pairwise(points):
        assert easier.amount < harder.amount
        assert easier.lost is not None
        assert harder.lost is not None
        assert easier.lost <= harder.lost
        assert easier.at_least_lost <= harder.at_least_lost
    for point in points:
        assert point.lost is not None
        assert point.at_least_lost <= point.lost <= point.lost_if_empty
        assert (point.outcome == "proven best") == (point.at_least_lost == point.lost)


@pytest.fixture(scope="module")
def people() -> Exchange:
    return exchange_curve(GARDEN, CATALOGUE, (1, 2, 3, 4), limits=BY_WORK)


@pytest.fixture(scope="module")
def potatoes() -> Exchange:
    return exchange_curve(GARDEN, CATALOGUE, (0, 2, 4, 6, 50), "potato", limits=BY_WORK)


def test_more_people_lose_no_fewer_points(people: Exchange) -> None:
    monotone(people)
    lost = [point.lost for point in people.points]
    assert lost[0] != lost[-1]


def test_more_of_a_crop_loses_no_fewer_points(potatoes: Exchange) -> None:
    monotone(potatoes)
    # 3 strips hold 12 potatoes, 6 kg; 50 kg cannot be had.
    assert [point.outcome == "impossible" for point in potatoes.points] == [False] * 4 + [True]
    assert potatoes.points[-1].plan is None


@pytest.mark.parametrize("number", range(4))
def test_each_point_is_the_best_plan_of_its_own_wishes(people: Exchange, potatoes: Exchange, number: int) -> None:
    for curve in (people, potatoes):
        point = curve.points[number]
        alone = plan_rotation(asked_for(GARDEN, CATALOGUE, point.amount, curve.crop), CATALOGUE, Limits(seconds=20))
        assert isinstance(alone, ProvenBest)
        assert alone.plan.standing is not None
        assert point.lost == alone.plan.standing.lost
        assert point.at_least_lost <= alone.plan.standing.lost


def test_the_plan_of_a_point_is_its_own_in_the_referees_eyes(people: Exchange, potatoes: Exchange) -> None:
    for curve in (people, potatoes):
        for point in curve.points:
            if point.plan is None:
                continue
            garden = make_garden(asked_for(GARDEN, CATALOGUE, point.amount, curve.crop), CATALOGUE)
            assert judge(garden, point.plan).breaches == ()
            assert sum(goal.lost for goal in score(garden, point.plan)) == point.lost
            if curve.crop and point.amount:
                kg = sum(p.harvest.typical_kg for p in point.plan.plantings if p.crop == "potato")
                assert kg >= point.amount


def test_the_same_work_gives_the_same_curve(people: Exchange) -> None:
    assert exchange_curve(GARDEN, CATALOGUE, (4, 3, 2, 1, 2), limits=BY_WORK) == people


def test_a_curve_by_the_clock_is_monotone_too() -> None:
    heard: list[float] = []
    curve = exchange_curve(GARDEN, CATALOGUE, (1, 2, 3), limits=Limits(seconds=10), on_point=heard.append)
    monotone(curve)
    assert heard[0] == 3
    assert curve.seconds is not None


def test_a_stopped_curve_tells_what_it_has() -> None:
    stop = threading.Event()
    stop.set()
    curve = exchange_curve(GARDEN, CATALOGUE, (1, 2), limits=Limits(seconds=10), stop=stop)
    assert [point.outcome for point in curve.points] == ["none found", "none found"]


@settings(max_examples=60)
@given(drawn=gardens_with_plans(), small=st.floats(0.2, 3), factor=st.floats(1, 4))
def test_any_plan_loses_no_less_with_larger_targets(
    drawn: tuple[Garden, frozenset[int]], small: float, factor: float
) -> None:
    # What the curve's shape rests on: the same plan, judged by the wishes of fewer and of more people.
    garden, chosen = drawn
    household = garden.scenario.household.model_copy(update={"people": 1})
    base = garden.scenario.model_copy(update={"household": household})
    if not household.targets:
        return
    plan = plan_of(garden, taken_of(garden, chosen))
    gardens = [make_garden(asked_for(base, CATALOGUE, amount, None), CATALOGUE) for amount in (small, small * factor)]
    few, many = (sum(goal.lost for goal in score(each, plan)) for each in gardens)
    assert few <= many


def test_people_must_be_known() -> None:
    with pytest.raises(GardenFault, match="names no people"):
        exchange_curve(scenario(targets=TARGETS), CATALOGUE, (1, 2))


def test_the_crop_must_be_known() -> None:
    with pytest.raises(GardenFault, match="no harvest of a crop 'clover'"):
        exchange_curve(GARDEN, CATALOGUE, (1,), "clover")


@pytest.mark.parametrize(("of", "first"), [(1, 1), (3, 1), (4, 1), (5, 2), (8, 5)])
def test_six_numbers_of_people_around_those_there_are(of: int, first: int) -> None:
    assert usual_amounts(of) == tuple(range(first, first + 6))
