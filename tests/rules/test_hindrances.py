"""What stands against one more planting: by hand, and always the claims whose rows it cannot meet beside the plan."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

from hypothesis import assume, given, settings
from hypothesis import strategies as st

from rotasolve.domain.claim import Claim
from rotasolve.domain.hindrance import Hindrance
from rotasolve.domain.plan import Plan, Planting
from rotasolve.referee import blank_plan, judge
from rotasolve.relations.ground.garden import Garden
from rotasolve.relations.ground.plantings import choice_of, planting_of, sowing_of
from rotasolve.rules import RULES
from rotasolve.solver.program import Program, build_program, loosened
from tests.helpers.agree import least_cost, plan_of, taken_of
from tests.helpers.strategies import gardens_with_plans

WISHES = ("must-have", "as-pinned")
"""What they ask is that something stands; one more planting cannot take it away."""


def hindrances_of(garden: Garden, plan: Plan, planting: Planting) -> list[Hindrance]:
    return [found for rule in RULES for found in rule.hinders(garden, plan, planting)]


def claims_it_cannot_meet(garden: Garden, plan: Plan, planting: Planting) -> set[Claim]:
    """Return the claims of which each alone leaves no way to put the planting beside the plan, all being fixed."""
    choices = tuple(choice_of(garden, standing) for standing in (*plan.plantings, planting))
    small = replace(garden, only=choices, exact_beds=frozenset(garden.beds))
    whole = loosened(build_program(small, goals=False))
    found = set()
    for claim in {row.claim for row in whole.rows if row.claim is not None and row.claim.rule not in WISHES}:
        rows = tuple(row for row in whole.rows if row.claim in (claim, None))
        alone = Program(small, whole.upper, rows, {}, 0)
        if least_cost(alone, [1] * len(choices)) is None:
            found.add(claim)
    return found


def sound_part(garden: Garden, chosen: frozenset[int]) -> Plan:
    """Return the plan of as many of the chosen choices as go together."""
    kept: list[int] = []
    for number in sorted(chosen):
        plan = plan_of(garden, taken_of(garden, [*kept, number]))
        if not [reason for reason in judge(garden, plan).breaches if reason.claim.rule not in WISHES]:
            kept.append(number)
    return plan_of(garden, taken_of(garden, kept))


@st.composite
def questions(draw: st.DrawFn) -> tuple[Garden, Plan, Planting]:
    """Draw a garden, a plan that holds, and a planting somewhere: now and then out of season or too crowded."""
    garden, chosen = draw(gardens_with_plans())
    plan = sound_part(garden, chosen)
    assume(garden.choices)
    choice = draw(st.sampled_from(garden.choices))
    planting = planting_of(garden, choice.bed, choice.sowing, tuple(cell.strip for cell in choice.cells))
    days = draw(st.sampled_from([0, 0, 0, 2, -30]))
    if days:
        moved = {"start": planting.start + timedelta(days=days)}
        planting = planting.model_copy(update=moved)
    return garden, plan, planting


@settings(max_examples=150, deadline=None)
@given(questions())
def test_each_hindrance_alone_forbids_the_planting_and_nothing_else_does(
    question: tuple[Garden, Plan, Planting],
) -> None:
    garden, plan, planting = question
    told = hindrances_of(garden, plan, planting)
    assert {hindrance.claim for hindrance in told} == claims_it_cannot_meet(garden, plan, planting)
    assert all(set(hindrance.strips) <= set(planting.strips) and hindrance.strips for hindrance in told)


@settings(max_examples=60, deadline=None)
@given(questions())
def test_without_a_hindrance_the_referee_lets_it_stand(question: tuple[Garden, Plan, Planting]) -> None:
    garden, plan, planting = question
    breaches = judge(garden, blank_plan(garden.scenario, (*plan.plantings, planting))).breaches
    broken = {reason.claim for reason in breaches if reason.claim.rule not in WISHES}
    told = {hindrance.claim for hindrance in hindrances_of(garden, plan, planting)}
    # The referee counts ground by days, the model by half months: it may let stand what the model does not.
    assert broken <= told


@settings(max_examples=60, deadline=None)
@given(gardens_with_plans())
def test_a_planting_read_back_is_the_sowing_it_came_from(question: tuple[Garden, frozenset[int]]) -> None:
    garden, chosen = question
    for number in chosen:
        choice = garden.choices[number]
        planting = planting_of(garden, choice.bed, choice.sowing, tuple(cell.strip for cell in choice.cells))
        back = choice_of(garden, planting)
        assert (back.cells, back.block, back.fits) == (choice.cells, choice.block, choice.fits)
        assert sowing_of(garden, planting) == replace(choice.sowing, pinned=True)
