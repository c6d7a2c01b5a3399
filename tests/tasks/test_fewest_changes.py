"""Planning on changes little: nothing where nothing is new, and after a failure no more than pays, tried one by one."""

from __future__ import annotations

from collections import Counter
from datetime import date
from typing import Any

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from rotasolve.domain.edits import sealed
from rotasolve.domain.plan import Plan, Planting
from rotasolve.domain.result import Good, ProvenBest
from rotasolve.domain.scenario import Scenario
from rotasolve.files.plans import plan_text
from rotasolve.referee import blank_plan, judge, recount, score
from rotasolve.relations.ground.following import followed
from rotasolve.relations.ground.garden import Garden, make_garden
from rotasolve.relations.ground.keeping import Keeping, with_kept
from rotasolve.solver.cpsat import Limits
from rotasolve.tasks.by_hand import take_up
from rotasolve.tasks.replanning import Keep, Replanned, kept_plantings, plan_on
from rotasolve.tasks.rotation import plan_rotation
from tests.helpers.agree import plan_of, taken_of
from tests.helpers.by_hand import WIDE, modest, plantings
from tests.helpers.strategies import scenarios
from tests.helpers.tiny import CATALOGUE, bed, planting, scenario
from tests.solver.test_enumeration import MOST_ASSIGNMENTS, assignments, share_ground

BY_WORK = Limits(seconds=None, effort=1.0)


def planned(place: Scenario, limits: Limits = BY_WORK) -> Plan | None:
    found = plan_rotation(place, CATALOGUE, limits)
    return found.plan if isinstance(found, ProvenBest | Good) else None


def on(place: Scenario, earlier: Plan, keep: Keep, limits: Limits = BY_WORK) -> Replanned:
    return plan_on(make_garden(place, CATALOGUE), earlier, keep, limits)


def found_in(again: Replanned) -> Plan:
    assert isinstance(again.result, ProvenBest | Good), again
    return again.result.plan


@modest(25)
@given(scenarios(), st.sampled_from([0.1, 1.0]))
def test_nothing_new_gives_the_same_plan_to_the_byte(place: Scenario, effort: float) -> None:
    plan = planned(place, Limits(seconds=None, effort=effort))
    assume(plan is not None)
    assert plan is not None
    again = on(place, plan, Keep())
    assert again.nothing_new
    assert plan_text(found_in(again)) == plan_text(plan)


def test_a_day_gone_by_only_marks_what_stands() -> None:
    place = scenario(["kale", "lettuce"], [bed(strips=3)], 2, [{"crop": "kale", "kg": 3}, {"crop": "lettuce", "kg": 3}])
    plan = planned(place)
    assert plan is not None
    again = on(place, plan, Keep(as_of=date(2027, 8, 1)))
    marked = found_in(again)
    assert [p.model_copy(update={"kept": False}) for p in marked.plantings] == list(plan.plantings)
    assert [p.kept for p in marked.plantings] == [p.start <= date(2027, 8, 1) for p in plan.plantings]
    kept = sum(p.kept for p in marked.plantings)
    assert kept
    # 30 points for each planting are not charged any more, in this plan nor in any other that keeps them.
    assert plan.standing is not None
    assert marked.standing is not None
    assert marked.standing.lost == marked.points_lost == plan.standing.lost - 30 * kept
    assert marked.standing.at_least_lost == plan.standing.at_least_lost - 30 * kept
    assert (marked.standing.keeps, marked.standing.nothing_new_by) == (kept, date(2027, 8, 1))


def fewest_points(garden: Garden) -> int | None:
    """Return the fewest points of any set of the garden's choices that holds every rule, tried one by one."""
    beside = share_ground(garden)
    costs = []
    for number, chosen in enumerate(assignments(beside)):
        if number > MOST_ASSIGNMENTS:
            return None
        plan = plan_of(garden, taken_of(garden, chosen))
        if not judge(garden, plan).breaches:
            costs.append(sum(goal.lost for goal in score(garden, plan)))
    return min(costs, default=None)


@pytest.mark.parametrize("few_changes", ["usual", "much"])
def test_after_one_failure_no_other_plan_changes_less_for_its_points(few_changes: str) -> None:
    """Against every set of choices there is: the fewest points, changes among them."""
    seen: Counter[str] = Counter()

    @modest(60)
    @given(scenarios(pins=False), st.integers(0, 20), st.integers(0, 40))
    def check(place: Scenario, which: int, days: int) -> None:
        assume(place.years <= 2)
        place = place.model_copy(update={"rules": place.rules.model_copy(update={"few_changes": few_changes})})
        plan = planned(place)
        if plan is None or not plan.plantings:
            return
        number = which % len(plan.plantings)
        lost = plan.plantings[number]
        day = min(lost.clear, date.fromordinal(lost.start.toordinal() + days))
        keep = Keep(as_of=day, failed=frozenset({number}))
        garden = make_garden(place, CATALOGUE, exact=True)
        again = plan_on(garden, plan, keep, Limits(seconds=None, effort=4.0))
        if not isinstance(again.result, ProvenBest):
            return
        best, free = again.result.plan, [p for p in plan.plantings if p.start > day]
        around = with_kept(garden, Keeping(again.kept, day, raised(plan, day), tuple(free)))
        if len(around.choices) > 24:
            return
        fewest = fewest_points(around)
        if fewest is None:
            return
        assert best.standing is not None
        assert best.standing.lost == sum(goal.lost for goal in score(around, best)) == fewest
        assert again.changes is not None
        (told,) = [goal.lost for goal in best.goals if goal.goal == "few-changes"] or [0]
        price = {"usual": 100, "much": 1_000}[few_changes]
        # What failed may be sown again: told as a change, but it is no planting of the earlier plan any more.
        moves = [move for move in again.changes.moves if move.before != lost]
        assert told == price * len([move for move in moves if move.after is None or not move.after.kept])
        assert len(again.why) == len(again.changes.moves)
        seen["changed" if told else "as it was"] += 1

    check()
    assert seen["as it was"] > 5


def raised(plan: Plan, day: date) -> frozenset[tuple[str, str, date]]:
    return frozenset((p.crop, p.way, p.start) for p in plan.plantings if p.raise_from and p.raise_from <= day)


def edited(draw: Any, place: Scenario, plan: Plan) -> Plan | None:
    """Take one planting out, or put one by hand in its place; None if the plan then breaks a rule."""
    garden = make_garden(place, CATALOGUE)
    number = draw(st.integers(0, len(plan.plantings) - 1))
    others = [p for n, p in enumerate(plan.plantings) if n != number]
    if draw(st.booleans()):
        by_hand: Planting = draw(plantings(garden))
        if by_hand in others:
            return None
        others.append(by_hand)
    changed, _ = take_up(garden, plan.model_copy(update={"plantings": tuple(others)}))
    return None if changed.verdict.breaches else changed


@pytest.mark.parametrize("exact_at_most", [9_000, 0])
def test_an_edited_plan_never_loses_points_beyond_what_the_edits_cost(
    monkeypatch: pytest.MonkeyPatch, exact_at_most: int
) -> None:
    """The plan made from it is no worse than the plan as it was edited, whatever the time for the search."""
    monkeypatch.setattr("rotasolve.relations.ground.garden.EXACT_AT_MOST", exact_at_most)
    seen: Counter[str] = Counter()

    @modest(40)
    @given(st.data())
    def check(data: st.DataObject) -> None:
        place = data.draw(scenarios())
        plan = planned(place)
        assume(plan is not None and plan.plantings)
        assert plan is not None
        changed = edited(data.draw, place, plan)
        assume(changed is not None)
        assert changed is not None
        kept = kept_plantings(make_garden(place, CATALOGUE), changed, Keep())
        after = found_in(on(place, changed, Keep(), Limits(seconds=None, effort=0.05)))
        # What is kept is not charged as a planting in either.
        marked = [
            p.model_copy(update={"kept": p in kept or p.model_copy(update={"kept": True}) in kept})
            for p in changed.plantings
        ]
        before = score(make_garden(place, CATALOGUE), changed.model_copy(update={"plantings": tuple(marked)}))
        assert sum(goal.lost for goal in after.goals) <= sum(goal.lost for goal in before)
        seen["checked"] += 1

    check()
    assert seen["checked"] > 8


@pytest.mark.parametrize("exact_at_most", [9_000, 0])
def test_what_must_be_had_is_sown_again_after_it_failed(monkeypatch: pytest.MonkeyPatch, exact_at_most: int) -> None:
    """Dead plants do not count: the start misses the demand, and is mended there, all else being as it was."""
    monkeypatch.setattr("rotasolve.relations.ground.garden.EXACT_AT_MOST", exact_at_most)
    beds, wish = [bed("bed", 3), bed("other", 3)], [{"crop": "potato", "kg": 4}, {"crop": "bean", "kg": 3}]
    place = scenario(["lettuce"], beds, targets=wish, must=[{"crop": "lettuce", "plants": 8}])
    garden = make_garden(place, WIDE)
    standing = [
        planting("lettuce", (1, 2), "2027-05-08", "2027-07-31", "2027-07-07"),
        planting("potato", (1, 2), "2027-04-17", "2027-08-15", "2027-07-26", "other"),
    ]
    plan = sealed(recount(garden, blank_plan(place, tuple(followed(garden, one) for one in standing))))
    assert not plan.verdict.breaches
    day = date(2027, 6, 1)
    again = plan_on(garden, plan, Keep(as_of=day, failed=frozenset({0})), BY_WORK)
    after = found_in(again)
    alive = [p for p in after.plantings if p.crop == "lettuce" and p.first_harvest is not None]
    assert sum(p.plants for p in alive) >= 8
    assert all(p.start > day for p in alive)
    # The potatoes stay.
    assert again.changes is not None
    assert [(move.before.crop, why) for move, why in zip(again.changes.moves, again.why, strict=True)] == [
        ("lettuce", "failed")
    ]
