"""Clashes: claims that cannot all hold, any one of which is enough to give up; checked by trying them all."""

from __future__ import annotations

from itertools import combinations
from typing import Any

import pytest
from hypothesis import given, settings
from ortools.sat.python import cp_model

from rotasolve.clash import _shrunk, hard_program, smallest_clash, ways_out
from rotasolve.domain.claim import Claim
from rotasolve.domain.result import Impossible
from rotasolve.domain.scenario import Scenario
from rotasolve.relations.ground.garden import Garden, make_garden
from rotasolve.rules import WISHES
from rotasolve.solver.cpsat import Limits, translate, translate_switched
from rotasolve.solver.program import Program
from rotasolve.tasks.rotation import plan_rotation
from tests.helpers.strategies import scenarios
from tests.helpers.tiny import CATALOGUE, bed, catalogue, crop, figure, scenario
from tests.helpers.words import said

PIN = {"bed": "bed", "crop": "potato", "start": "2027-04-17"}
IMPOSSIBLE: list[tuple[dict[str, Any], set[str]]] = [
    # Potatoes stood here in 2026 and are pinned in 2027: 0 complete years, 2 needed.
    ({"history": [{"bed": "bed", "crop": "potato", "year": 2026}], "pinned": [PIN]}, {"rest", "as-pinned"}),
    # Two strips of 4 plants hold 8 potatoes at most.
    ({"household": {"must_have": [{"crop": "potato", "plants": 9}]}}, {"must-have", "free-ground", "family-once"}),
    # Both strips are wished full of potatoes and of lettuce in the same months.
    (
        {"household": {"must_have": [{"crop": "potato", "plants": 8}, {"crop": "lettuce", "plants": 8}]}},
        # Blocks of both that cover the whole bed cannot stand in the order of heights either.
        {"must-have", "free-ground", "pole-side"},
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
    program = hard_program(garden)
    clash = set(smallest_clash(program))
    assert clash
    assert {claim.rule for claim in clash} <= rules
    assert not can_hold(program, clash)
    for claim in clash:
        assert can_hold(program, clash - {claim}), f"{claim} is not needed for the clash"


def test_a_clash_is_shrunk_until_every_claim_in_it_is_needed() -> None:
    # In late July 12 potatoes and 12 lettuces take 3 + 3 strips, all that the two beds have; either the 12 kale or the
    # 8 beans are too many beside them. Any three of the four wishes ask for more than six strips, and the clash names
    # three, not all. In 2028 all goes well.
    wishes = [
        {"crop": "potato", "plants": 12, "year": 2027},
        {"crop": "lettuce", "plants": 12, "year": 2027},
        {"crop": "kale", "plants": 12},
        {"crop": "bean", "plants": 8},
    ]
    beds = [bed("bed", 3), bed("other", 3)]
    garden = make_garden(scenario((), beds, years=2, must=wishes), CATALOGUE)
    program = hard_program(garden)
    clash = set(smallest_clash(program))
    assert not can_hold(program, clash)
    assert all(can_hold(program, clash - {claim}) for claim in clash)
    wished = {claim.about[0] for claim in clash if claim.rule == "must-have"}
    assert len(wished) == 3


def test_a_possible_garden_has_no_clash() -> None:
    assert smallest_clash(hard_program(garden_of())) == ()


def test_the_clash_is_said_in_the_rules_own_words() -> None:
    garden = garden_of(**IMPOSSIBLE[0][0])
    result = plan_rotation(garden.scenario, CATALOGUE, Limits(effort=1))
    assert isinstance(result, Impossible)
    assert [said(claim) for claim in result.clash] == [
        "nightshades rest for 2 complete years between plantings in bed",
        "you fixed potato in bed from 17 April 2027",
    ]


def all_claims(program: Program) -> set[Claim]:
    return {row.claim for row in program.rows if row.claim is not None}


@settings(max_examples=40, deadline=None)
@given(scenarios())
def test_clashes_and_ways_out_are_minimal_in_random_gardens(wish: Scenario) -> None:
    # Brute force: every claim of the clash is needed for it, and every claim of a way out must be given up.
    garden = make_garden(wish, CATALOGUE, exact=True)
    program = hard_program(garden)
    every = all_claims(program)
    clash = set(smallest_clash(program))
    ways = [set(way) for way in ways_out(program)]
    assert bool(clash) is bool(ways) is not can_hold(program, every)
    if clash:
        assert not can_hold(program, clash)
        assert all(can_hold(program, clash - {claim}) for claim in clash)
    for way in ways:
        assert can_hold(program, every - way)
        assert all(not can_hold(program, every - way | {claim}) for claim in way)
        assert not any(way < other or other < way for other in ways)


def test_the_first_way_out_gives_up_the_fewest_wishes() -> None:
    # Tried all: every set of at most two claims that would do, the lightest first.
    garden = garden_of(**IMPOSSIBLE[0][0])
    program = hard_program(garden)
    every = all_claims(program)
    enough = [set(some) for n in (1, 2) for some in combinations(every, n) if can_hold(program, every - set(some))]
    least = min(sum(claim.rule in WISHES for claim in some) for some in enough)
    first, *others = ways_out(program)
    assert sum(claim.rule in WISHES for claim in first) == least == 0
    assert [said(claim) for claim in first] == ["nightshades rest for 2 complete years between plantings in bed"]
    assert [[said(claim) for claim in way] for way in others] == [["you fixed potato in bed from 17 April 2027"]]


def test_a_way_out_found_in_haste_is_shrunk_to_what_is_needed() -> None:
    garden = garden_of(**IMPOSSIBLE[0][0])
    program = hard_program(garden)
    model, _, switches = translate_switched(program)
    (left,) = _shrunk(model, switches, sorted(all_claims(program), key=str))
    assert can_hold(program, all_claims(program) - {left})
    assert left.rule == "rest"


def test_spacing_is_blamed_where_a_fixed_crop_does_not_fit() -> None:
    # Tomatoes 300 cm apart in a bed 120 cm broad.
    wide = crop("tomato", "nightshades", spacing_in_row=figure(300, "cm"))
    pin = {"bed": "bed", "crop": "tomato", "start": "2027-05-08"}
    garden = make_garden(scenario(pinned=[pin]), catalogue([wide]))
    assert [said(claim) for claim in smallest_clash(hard_program(garden))] == [
        "tomato in bed keeps its spacing",
        "you fixed tomato in bed from 8 May 2027",
    ]
