"""Clashes: claims that cannot all hold, any one of which is enough to give up; checked by trying them all."""

from __future__ import annotations

from typing import Any

import pytest
from ortools.sat.python import cp_model

from rotasolve.clash import find_clash
from rotasolve.domain.claim import Claim
from rotasolve.domain.result import Impossible
from rotasolve.relations.garden import Garden, make_garden
from rotasolve.solver.cpsat import Limits, translate
from rotasolve.solver.program import Program, build_program, loosened
from rotasolve.tasks.rotation import plan_rotation
from tests.helpers.tiny import CATALOGUE, bed, scenario

PIN = {"bed": "bed", "crop": "potato", "start": "2027-04-17"}
IMPOSSIBLE: list[tuple[dict[str, Any], set[str]]] = [
    # Potatoes stood here in 2026 and are pinned in 2027: 0 complete years, 2 needed.
    ({"history": [{"bed": "bed", "crop": "potato", "year": 2026}], "pinned": [PIN]}, {"rest", "as-pinned"}),
    # Two strips of 4 plants hold 8 potatoes at most.
    ({"household": {"must_have": [{"crop": "potato", "plants": 9}]}}, {"must-have", "free-ground"}),
    # Both strips are wished full of potatoes and of lettuce in the same months.
    (
        {"household": {"must_have": [{"crop": "potato", "plants": 8}, {"crop": "lettuce", "plants": 8}]}},
        {"must-have", "free-ground"},
    ),
]


def garden_of(**fields: Any) -> Garden:
    return make_garden(scenario(("potato", "lettuce"), [bed("bed")], **fields), CATALOGUE)


def can_hold(program: Program, claims: set[Claim]) -> bool:
    rows = tuple(row for row in program.rows if row.claim is None or row.claim in claims)
    model, _, _ = translate(Program(program.garden, program.upper, rows, {}, 0))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    return bool(solver.solve(model) in (cp_model.OPTIMAL, cp_model.FEASIBLE))


@pytest.mark.parametrize(("fields", "rules"), IMPOSSIBLE)
def test_a_clash_cannot_hold_and_any_claim_less_can(fields: dict[str, Any], rules: set[str]) -> None:
    garden = garden_of(**fields)
    program = loosened(build_program(garden, goals=False))
    clash = {reason.claim for reason in find_clash(garden)}
    assert clash
    assert {claim.rule for claim in clash} <= rules
    assert not can_hold(program, clash)
    for claim in clash:
        assert can_hold(program, clash - {claim}), f"{claim} is not needed for the clash"


def test_a_clash_is_shrunk_until_every_claim_in_it_is_needed() -> None:
    # In late July 12 potatoes and 12 lettuces take 3 + 3 strips, all that the two beds have; either the 12 kale or the
    # 8 beans are too many beside them, and the clash names one of the two, not both. In 2028 all goes well.
    wishes = [
        {"crop": "potato", "plants": 12, "year": 2027},
        {"crop": "lettuce", "plants": 12, "year": 2027},
        {"crop": "kale", "plants": 12},
        {"crop": "bean", "plants": 8},
    ]
    beds = [bed("bed", 3), bed("other", 3)]
    garden = make_garden(scenario((), beds, years=2, must=wishes), CATALOGUE)
    program = loosened(build_program(garden, goals=False))
    clash = {reason.claim for reason in find_clash(garden)}
    assert not can_hold(program, clash)
    assert all(can_hold(program, clash - {claim}) for claim in clash)
    wished = {claim.about[0] for claim in clash if claim.rule == "must-have"}
    assert wished in ({"potato", "lettuce", "bean"}, {"potato", "lettuce", "kale"})


def test_a_possible_garden_has_no_clash() -> None:
    assert find_clash(garden_of()) == ()


def test_the_clash_is_said_in_the_rules_own_words() -> None:
    garden = garden_of(**IMPOSSIBLE[0][0])
    result = plan_rotation(garden.scenario, CATALOGUE, Limits(effort=1))
    assert isinstance(result, Impossible)
    assert [reason.sentence for reason in result.clash] == [
        "nightshades rest for 2 complete years between plantings in bed",
        "you fixed potato in bed from 17 April 2027",
    ]
