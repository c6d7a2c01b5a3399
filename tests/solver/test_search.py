"""The search as a whole: repeatable, honest when stopped, and no better than the bound says."""

from __future__ import annotations

import threading

import pytest

from rotasolve.files.plans import plan_text
from rotasolve.relations.ground.garden import Garden, make_garden
from rotasolve.solver.cpsat import Limits
from rotasolve.solver.incumbent import Progress, gap_of
from rotasolve.solver.program import build_program
from rotasolve.solver.search import Found, Search
from tests.helpers.agree import least_cost
from tests.helpers.tiny import CATALOGUE, bed, scenario

WISHES = [
    {"crop": "lettuce", "kg": 4, "fresh_from": "July", "fresh_to": "July"},
    {"crop": "potato", "kg": 4},
    {"crop": "tomato", "kg": 3, "weight": 4},
    {"crop": "garlic", "kg": 2},
]


def garden_of(exact: bool | None, strips: int = 4, years: int = 3) -> Garden:
    beds = [bed("bed", strips), bed("other", strips)]
    return make_garden(scenario((), beds, years=years, household={"targets": WISHES}), CATALOGUE, exact)


def found_in(garden: Garden, limits: Limits) -> Found:
    found = Search(garden, limits).run()
    assert isinstance(found, Found)
    return found


@pytest.mark.parametrize("exact", [True, False])
def test_the_same_seed_and_effort_give_the_same_plan_to_the_byte(exact: bool) -> None:
    texts = {plan_text(found_in(garden_of(exact), Limits(effort=3, seed=7)).plan) for _ in range(2)}
    assert len(texts) == 1


def test_counts_and_strips_agree_on_the_bound() -> None:
    # The counted program is a relaxation of the exact one: its bound may not lie above the exact optimum.
    exact, counted = garden_of(True, strips=3, years=2), garden_of(False, strips=3, years=2)
    best = least_cost(build_program(exact))
    assert best is not None
    relaxed = least_cost(build_program(counted))
    assert relaxed is not None
    assert relaxed <= best
    plan = found_in(counted, Limits(effort=5)).plan
    assert plan.standing is not None
    assert plan.standing.at_least_lost <= best <= plan.standing.lost
    assert not plan.verdict.breaches
    assert plan.plantings


def test_a_small_garden_is_proven_best() -> None:
    garden = garden_of(True, strips=2, years=1)
    found = found_in(garden, Limits(seconds=20))
    assert found.proven
    assert found.plan.standing is not None
    assert found.plan.standing.lost == least_cost(build_program(garden))


def test_stopped_at_once_it_is_proven_only_where_the_bound_is_met() -> None:
    stop = threading.Event()
    stop.set()
    found = Search(garden_of(False), Limits(seconds=20), stop=stop).run()
    if isinstance(found, Found):
        standing = found.plan.standing
        assert standing is not None
        assert found.proven == (standing.lost == standing.at_least_lost)
        assert not found.plan.verdict.breaches
    else:
        assert found == "none found"


def test_a_poor_plan_never_claims_a_bound_above_the_optimum() -> None:
    # Stopped at once the first plan, an empty one, is kept. The relaxation is exact here: lots of one crop alone.
    garden = make_garden(scenario((), targets=[{"crop": "lettuce", "kg": 4}]), CATALOGUE, exact=False)
    best = least_cost(build_program(garden))
    stop = threading.Event()
    stop.set()
    found = Search(garden, Limits(effort=0.1), stop=stop).run()
    assert isinstance(found, Found)
    standing = found.plan.standing
    assert standing is not None
    assert best is not None
    assert standing.at_least_lost == best < standing.lost == standing.lost_if_empty
    assert not found.proven
    assert standing.outcome == "good, not proven"


def test_progress_is_told_on_the_calling_thread_and_never_worsens() -> None:
    heard: list[tuple[Progress, int]] = []
    Search(garden_of(False), Limits(seconds=3), lambda moment: heard.append((moment, threading.get_ident()))).run()
    assert heard
    assert {thread for _, thread in heard} == {threading.get_ident()}
    lost = [moment.lost for moment, _ in heard if moment.lost is not None]
    assert lost == sorted(lost, reverse=True)
    bounds = [moment.at_least for moment, _ in heard]
    assert bounds == sorted(bounds)


@pytest.mark.parametrize(
    ("lost", "at_least", "empty", "gap"),
    [(100, 100, 1000, 0.0), (550, 100, 1000, 0.5), (1000, 100, 1000, 1.0), (90, 100, 1000, 0.0), (5, 0, 0, 0.0)],
)
def test_the_gap_is_the_share_within_reach_that_may_be_missing(
    lost: int, at_least: int, empty: int, gap: float
) -> None:
    # (550 - 100) / (1000 - 100) = 0.5
    assert gap_of(lost, at_least, empty) == gap
