"""Plans edited by hand into nonsense: the referee names each fault and never stumbles."""

from __future__ import annotations

from typing import Any

import pytest

from rotasolve.referee import blank_plan, judge, recount
from rotasolve.relations.ground.garden import make_garden
from rotasolve.solver.cpsat import Limits
from rotasolve.solver.search import Found, Search
from tests.helpers.tiny import CATALOGUE, bed, planting, scenario
from tests.helpers.words import said

LETTUCE = ("lettuce", (1,), "2027-05-08", "2027-07-31", "2027-07-07")


@pytest.mark.parametrize(
    ("change", "found"),
    [
        ({"strips": (1, 1)}, "lettuce names a strip twice"),
        ({"strips": (1, 3), "rows": 2, "plants": 8}, "its strips do not lie side by side as one block"),
        (
            {"clear": "2027-05-08", "last_harvest": "2027-07-31"},
            "lettuce is picked on days on which it does not stand",
        ),
        (
            # Ripe after 60 days: 8 May + 60 days = 7 July.
            {"first_harvest": "2027-07-06"},
            "lettuce picked on 6 July 2027 is ripe on 7 July 2027 at the soonest",
        ),
    ],
)
def test_nonsense_is_a_breach(change: dict[str, Any], found: str) -> None:
    place = scenario(("lettuce",), [bed("bed", 3)])
    garden = make_garden(place, CATALOGUE)
    assert not judge(garden, blank_plan(place, (planting(*LETTUCE),))).breaches
    edited = type(planting(*LETTUCE)).model_validate({**planting(*LETTUCE).model_dump(), **change})
    told = [said(breach) for breach in judge(garden, blank_plan(place, (edited,))).breaches]
    assert any(sentence.endswith(f"but {found}") for sentence in told), told


def test_a_plan_piled_on_itself_is_judged_and_scored() -> None:
    place = scenario(("kale",), [bed()])
    piled = blank_plan(place, (planting("kale", (1, 2), "2027-05-08", "2027-09-30"),) * 3)
    judged = recount(make_garden(place, CATALOGUE), piled)
    assert judged.verdict.breaches
    assert all(goal.lost >= 0 for goal in judged.goals)


def test_a_counted_garden_with_a_pin_on_one_strip_is_planned() -> None:
    pin = {"bed": "bed", "crop": "kale", "start": "2027-07-17", "strips": (1,)}
    place = scenario(["lettuce"], [bed(), bed("other")], targets=[{"crop": "kale", "kg": 1}], pinned=[pin])
    found = Search(make_garden(place, CATALOGUE, exact=False), Limits(effort=0.5)).run()
    assert isinstance(found, Found)
    assert any(1 in p.strips for p in found.plan.plantings if (p.bed, p.crop) == ("bed", "kale"))


def test_ground_held_from_before_is_free_from_the_next_half_month_on() -> None:
    # Held until 1 May, so to the end of the half month, 15 May: lettuce of 8 May is refused by model and referee alike.
    history = [{"bed": "bed", "crop": "garlic", "year": 2027, "until": "2027-05-01"}]
    place = scenario(("lettuce",), [bed()], history=history)
    plan = blank_plan(place, (planting(*LETTUCE),))
    assert [reason.claim.rule for reason in judge(make_garden(place, CATALOGUE), plan).breaches] == ["free-ground"]
