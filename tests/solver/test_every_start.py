"""No start is withheld in silence: verdicts on small gardens hold for every half month in which a window is open."""

from __future__ import annotations

from itertools import islice, product

import pytest
from hypothesis import given

from rotasolve.domain.plan import Plan, Planting
from rotasolve.domain.result import Good, Impossible, ProvenBest
from rotasolve.domain.scenario import Scenario
from rotasolve.domain.strips import strips_in_bed
from rotasolve.files.crops import load_catalogue
from rotasolve.files.scenarios import read_scenario
from rotasolve.files.shipped import shipped_folder
from rotasolve.referee import blank_plan, judge, recount
from rotasolve.relations.ground import offer
from rotasolve.relations.ground.garden import Garden, make_garden
from rotasolve.relations.ground.plantings import planting_of
from rotasolve.relations.ground.sowings import sowings_of
from rotasolve.solver.cpsat import Limits
from rotasolve.tasks.rotation import plan_rotation
from rotasolve.views.words.standing import standing_sentences
from tests.helpers.by_hand import WIDE, modest
from tests.helpers.strategies import scenarios

BY_WORK = Limits(seconds=None, effort=30)


def plantings_of(garden: Garden, crop: str) -> list[Planting]:
    """Return a planting of every sowing of a crop that the windows allow, on every block of every bed."""
    return [
        planting_of(garden, name, sowing, strips)
        for name, bed in garden.beds.items()
        for sowing in sowings_of(garden.crops[crop], garden.catalogue.cover(bed.cover), garden.scenario)
        for strips in ((1,), (1, 2), (2,))
        if len(strips) <= strips_in_bed(bed) >= strips[-1]
    ]


def test_what_is_called_impossible_no_planting_of_each_demand_brings_about() -> None:
    seen = [0, 0]

    @modest(60)
    @given(scenarios(pins=False))
    def check(place: Scenario) -> None:
        musts = place.household.must_have[:2]
        household = place.household.model_copy(update={"must_have": musts, "targets": ()})
        one = place.model_copy(update={"years": 1, "household": household})
        found = plan_rotation(one, WIDE, BY_WORK)
        seen[isinstance(found, Impossible)] += 1
        if isinstance(found, Impossible):
            garden = make_garden(one, WIDE)
            for taken in islice(product(*(plantings_of(garden, must.crop) for must in musts)), 2_000):
                assert judge(garden, blank_plan(one, taken)).breaches

    check()
    assert min(seen) > 2


def lost_of(garden: Garden, plan: Plan) -> int:
    found = recount(garden, plan)
    return sum(goal.lost for goal in found.goals) if not found.verdict.breaches else 10**9


def test_nothing_that_a_window_allows_beats_a_plan_proven_best() -> None:
    tried = 0

    @modest(12)
    @given(scenarios(pins=False))
    def check(place: Scenario) -> None:
        nonlocal tried
        place = place.model_copy(update={"years": 1})
        found = plan_rotation(place, WIDE, BY_WORK)
        if not isinstance(found, ProvenBest):
            return
        garden, plan = make_garden(place, WIDE), found.plan
        assert garden.every_start
        assert plan.standing is not None
        assert plan.standing.every_start
        crops = [garden.crops[name] for name in sorted(garden.wanted)]
        for name, bed in garden.beds.items():
            every = [one for crop in crops for one in sowings_of(crop, WIDE.cover(bed.cover), place)]
            for sowing in every[:: max(1, len(every) // 12)]:
                more = planting_of(garden, name, sowing, (1,))
                both = blank_plan(place, (*plan.plantings, more))
                assert lost_of(garden, both) >= plan.standing.lost
                tried += 1

    check()
    assert tried > 50


def test_the_cold_frame_is_proven_best_for_every_start_and_its_frame_is_used() -> None:
    catalogue = load_catalogue()
    place = read_scenario(shipped_folder("scenarios") / "cold-frame.yaml", catalogue)
    found = plan_rotation(place, catalogue, BY_WORK)
    assert isinstance(found, ProvenBest)
    standing = found.plan.standing
    assert standing is not None
    assert standing.every_start
    assert "start days" not in standing_sentences(standing)[0]
    assert "kale" in {planting.crop for planting in found.plan.plantings}


def test_a_large_garden_says_that_its_start_days_are_those_on_offer(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(offer, "EVERY_START_AT_MOST", 0)
    catalogue = load_catalogue()
    place = read_scenario(shipped_folder("scenarios") / "cold-frame.yaml", catalogue)
    found = plan_rotation(place, catalogue, BY_WORK)
    assert isinstance(found, ProvenBest | Good)
    assert found.plan.standing is not None
    assert "start days and sizes of block on offer" in standing_sentences(found.plan.standing)[0]
