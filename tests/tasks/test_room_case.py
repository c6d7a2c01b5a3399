"""The garden in which room by moving once ended in a defect: leeks for 2029, beside pinned garlic and leeks."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from rotasolve.domain.place import Question
from rotasolve.domain.plan import Plan
from rotasolve.domain.scenario import Scenario
from rotasolve.files.crops import load_catalogue
from rotasolve.files.plans import read_plan
from rotasolve.files.scenarios import read_scenario
from rotasolve.referee import blank_plan, breaches_of, judge
from rotasolve.relations.ground.following import followed
from rotasolve.relations.ground.garden import Garden, make_garden
from rotasolve.tasks.moving import make_room

FOLDER = Path(__file__).parents[1] / "data" / "room_by_moving"
CATALOGUE = load_catalogue()


def sound(garden: Garden, plan: Plan) -> Plan:
    """Return what of the plan still holds: it was made when beds held other rows, and its peppers are too many."""
    standing = [followed(garden, planting) for planting in plan.plantings]
    while True:
        told = [b for b in breaches_of(garden, blank_plan(garden.scenario, tuple(standing))) if b.plantings]
        if not told:
            return blank_plan(garden.scenario, tuple(standing))
        guilty = {id(breach.plantings[-1]) for breach in told}
        standing = [planting for planting in standing if id(planting) not in guilty]


def case() -> tuple[Scenario, Plan]:
    place = read_scenario(FOLDER / "garden.yaml", CATALOGUE)
    household = place.household.model_copy(update={"must_have": ()})
    place = place.model_copy(update={"household": household})
    return place, sound(make_garden(place, CATALOGUE), read_plan(FOLDER / "garden.plan.json").plan)


def test_room_for_leeks_is_made_and_refereed() -> None:
    place, plan = case()
    assert len(plan.plantings) > 40
    assert judge(make_garden(place, CATALOGUE), plan).breaches == ()
    question = Question(crop="leek", plants=38, year=2029)
    ways = make_room(place, CATALOGUE, question, plan, date(2027, 1, 1), effort=2.0)
    assert ways
    pinned = {(pin.bed, pin.crop, pin.start) for pin in place.pinned}
    for way in ways:
        assert judge(make_garden(place, CATALOGUE), way.plan).breaches == ()
        assert way.placed.plants == 38
        assert not {(move.before.bed, move.before.crop, move.before.start) for move in way.moves} & pinned
