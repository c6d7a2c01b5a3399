"""Planning on after a failure, and years that roll on: how soon, how little changes, and that rest is kept."""

from __future__ import annotations

import time
from collections.abc import Callable
from datetime import date, timedelta
from random import Random
from typing import TYPE_CHECKING

import pytest

from rotasolve.domain.diary import Diary, Happening
from rotasolve.domain.result import Good, ProvenBest
from rotasolve.files.crops import load_catalogue
from rotasolve.referee import blank_plan, breaches_of
from rotasolve.relations.ground.as_told import as_told
from rotasolve.relations.ground.garden import make_garden
from rotasolve.relations.ground.happened import happened_to
from rotasolve.relations.ground.hosts import was_there_in_vain
from rotasolve.solver.cpsat import Limits
from rotasolve.tasks.next_year import next_year
from rotasolve.tasks.replanning import Keep, plan_on
from tests.benchmarks.registry import SEARCHES, SearchBenchmark

if TYPE_CHECKING:
    from rotasolve.domain.plan import Plan, Planting
    from rotasolve.domain.scenario import Scenario

    ScenarioOf = Callable[[str], Scenario]
    Searched = Callable[[SearchBenchmark], Plan]
    Tell = Callable[[str], None]

pytestmark = pytest.mark.bench
FAMILY_GARDEN, ALLOTMENT = SEARCHES
FIRST_PLAN_SECONDS, MOST_CHANGED, NEXT_YEAR_SECONDS = 5, 5, 60
SEAMS = ("free-ground", "rest", "family-once", "pole-side")
CATALOGUE = load_catalogue()


def test_after_one_failure_little_changes_and_soon(searched: Searched, scenario_of: ScenarioOf, tell: Tell) -> None:
    plan, place = searched(ALLOTMENT), scenario_of("allotment")
    day = date(place.first_year, 7, 20)
    standing = [n for n, p in enumerate(plan.plantings) if p.start <= day - timedelta(days=40) and p.clear > day]
    begun = time.perf_counter()
    keep = Keep(as_of=day, failed=frozenset(standing[:1]))
    again = plan_on(make_garden(place, CATALOGUE), plan, keep, Limits(seconds=20))
    assert isinstance(again.result, ProvenBest | Good)
    assert again.changes is not None
    found = again.result.plan.standing
    assert found is not None
    tell(
        f"allotment after one failure: first plan {found.first_plan_seconds} s, {len(again.changes.moves)} changed, "
        f"{len(again.changes.new)} new, {time.perf_counter() - begun:.1f} s in all"
    )
    assert found.first_plan_seconds is not None
    assert found.first_plan_seconds <= FIRST_PLAN_SECONDS
    assert len(again.changes.moves) <= MOST_CHANGED


@pytest.mark.parametrize("benchmark", SEARCHES, ids=lambda benchmark: benchmark.scenario)
def test_three_years_with_failures(
    benchmark: SearchBenchmark, searched: Searched, scenario_of: ScenarioOf, tell: Tell
) -> None:
    plan, start = searched(benchmark), scenario_of(benchmark.scenario)
    now, dice = start, Random(1)
    real: list[Planting] = []
    for _ in range(3):
        begun = time.perf_counter()
        garden = make_garden(now, CATALOGUE)
        diary = failures(plan, now, dice)
        turn = next_year(garden, now, plan, diary)
        happened, _ = happened_to(plan.plantings, diary)
        stood = [as_told(garden, one) for one in happened]
        real += [p for p in stood if now.begins <= p.start < turn.scenario.begins]
        now = turn.scenario
        later = tuple(p for p in plan.plantings if p.start >= now.begins)
        again = plan_on(make_garden(now, CATALOGUE), blank_plan(now, later), Keep(changed=False), Limits(seconds=30))
        assert isinstance(again.result, ProvenBest | Good)
        plan, seconds = again.result.plan, time.perf_counter() - begun
        assert plan.verdict.breaches == ()
        assert again.changes is not None
        lost = sum(goal.lost for goal in plan.goals)
        tell(
            f"{benchmark.scenario} from {now.first_year}: {seconds:.1f} s, {len(turn.pinned)} stood, "
            f"{len(again.changes.moves)} changed of {len(later)}, {len(again.changes.new)} new, lost {lost}"
        )
        assert benchmark is not FAMILY_GARDEN or seconds <= NEXT_YEAR_SECONDS
    whole = start.model_copy(update={"years": 3 + start.years})
    garden, south = make_garden(whole, CATALOGUE), start.site.south
    everything = dict.fromkeys(p.model_copy(update={"kept": False}) for p in (*real, *plan.plantings))
    hosts = [p for p in everything if not was_there_in_vain(p, garden.crops[p.crop].green_manure, south)]
    broken = [b for b in breaches_of(garden, blank_plan(whole, tuple(hosts))) if b.claim.rule in SEAMS]
    assert broken == []


def failures(plan: Plan, place: Scenario, dice: Random) -> Diary:
    """Return a diary in which each tenth planting of the first year fails some day."""
    lines, end = [], date(place.first_year + 1, 1, 1)
    for one in plan.plantings:
        if one.begins_in(place.site.south) == place.first_year and one.start >= place.begins and dice.random() < 0.1:
            day = min(one.start + timedelta(days=dice.randrange((one.clear - one.start).days + 1)), end)
            lines.append(Happening(day, "failed", one.crop, one.bed, one.strips))
    return Diary(tuple(sorted(lines, key=lambda line: line.day)))
