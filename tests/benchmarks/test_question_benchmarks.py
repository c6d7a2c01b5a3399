"""How soon questions about a plan of the allotment are answered, start-up not counted: ``pytest -m bench``."""

from __future__ import annotations

import time
from collections.abc import Callable
from datetime import date
from typing import TYPE_CHECKING

import pytest

from rotasolve.clash import hard_program, smallest_clash
from rotasolve.domain.household import MustHave
from rotasolve.domain.place import Question
from rotasolve.domain.scenario import PinnedPlanting
from rotasolve.files.crops import load_catalogue
from rotasolve.relations.ground.garden import make_garden
from rotasolve.tasks.moving import make_room
from rotasolve.tasks.placement import find_places
from tests.benchmarks.registry import QUESTIONS, SEARCHES

if TYPE_CHECKING:
    from rotasolve.domain.plan import Plan
    from rotasolve.domain.scenario import Scenario
    from tests.benchmarks.registry import SearchBenchmark

    ScenarioOf = Callable[[str], Scenario]
    Searched = Callable[[SearchBenchmark], Plan]
    Tell = Callable[[str], None]

pytestmark = pytest.mark.bench

MOST = {question.name: question.most_seconds for question in QUESTIONS}
CROPS = ("leaf lettuce", "sweet pepper", "tomato", "radish")
(ALLOTMENT,) = (search for search in SEARCHES if search.scenario == "allotment")


def test_where_a_crop_can_go_is_answered_at_once(searched: Searched, scenario_of: ScenarioOf, tell: Tell) -> None:
    plan, scenario, catalogue = searched(ALLOTMENT), scenario_of("allotment"), load_catalogue()
    find_places(scenario, catalogue, Question(crop="kale"), plan)  # the first question loads what others share
    for crop in CROPS:
        begun = time.perf_counter()
        found = find_places(scenario, catalogue, Question(crop=crop), plan)
        seconds = time.perf_counter() - begun
        tell(f"where {crop}: {seconds:.2f} s, {len(found.places)} places, {len(found.refusals)} refusals")
        assert seconds <= MOST["where one crop can go"]


def test_room_is_made_soon(searched: Searched, scenario_of: ScenarioOf, tell: Tell) -> None:
    plan, scenario, catalogue = searched(ALLOTMENT), scenario_of("allotment"), load_catalogue()
    today = date(scenario.first_year - 1, 12, 1)
    for crop in CROPS:
        begun = time.perf_counter()
        ways = make_room(scenario, catalogue, Question(crop=crop, plants=6), plan, today)
        seconds = time.perf_counter() - begun
        assert ways
        room = ways[0]
        tell(
            f"{len(ways)} ways, room for 6 {crop}: {seconds:.1f} s, {len(room.moves)} changed, at least {room.at_least}"
        )
        assert seconds <= MOST["room made by moving"]


@pytest.mark.parametrize("kind", ["must-have", "pins"])
def test_a_clash_is_found_soon(kind: str, scenario_of: ScenarioOf, tell: Tell) -> None:
    scenario = scenario_of("allotment")
    bed, year = scenario.beds[0].name, scenario.first_year
    must = tuple(
        MustHave(crop=crop, plants=10, year=y, bed=bed) for crop, y in (("tomato", year), ("potato", year + 1))
    )
    pins = tuple(
        PinnedPlanting(bed=bed, crop=crop, start=day)
        for crop, day in (("potato", date(year, 5, 15)), ("tomato", date(year + 1, 6, 1)))
    )
    wishes = {"household": scenario.household.model_copy(update={"must_have": must})} if kind == "must-have" else {}
    changed = scenario.model_copy(update=wishes or {"pinned": pins})
    begun = time.perf_counter()
    clash = smallest_clash(hard_program(make_garden(changed, load_catalogue())))
    seconds = time.perf_counter() - begun
    tell(f"a smallest clash of {kind}: {seconds:.1f} s, {len(clash)} claims")
    assert clash
    assert seconds <= MOST["a smallest clash"]
