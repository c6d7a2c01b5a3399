"""Answers for programs about plans: a plan with its outcome, or why there is none, with the rules' words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.domain.edits import edits_of
from rotasolve.relations.ground.crop_shares import crop_shares
from rotasolve.views.exports.as_json import SCHEMA_VERSION
from rotasolve.views.words.cautions import cautions_of
from rotasolve.views.words.crop_shares import say_crop_share
from rotasolve.views.words.look import Look
from rotasolve.views.words.reasons import claim_of, say_hindrance, say_reason
from rotasolve.views.words.standing import say_reached
from rotasolve.views.words.wording import plain

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from rotasolve.domain.catalogue import Catalogue
    from rotasolve.domain.claim import Claim
    from rotasolve.domain.hindrance import Hindrance
    from rotasolve.domain.plan import Breach, GoalScore, Plan
    from rotasolve.domain.scenario import Scenario
    from rotasolve.views.exports.as_json import Answer


def edited_answer(plan: Plan) -> bool | None:
    """Return for programs whether a plan was edited by hand; None if that is unknown."""
    edits = edits_of(plan)
    return None if edits is None else edits.touched


def plan_answer(
    plan: Plan,
    scenario: Scenario,
    catalogue: Catalogue,
    *,
    stopped_early: bool = False,
    scenario_matches: bool = True,
    warnings: Sequence[str] = (),
) -> Answer:
    """Return a plan with its outcome and what must be told beside it; ``edited`` None if that is unknown.

    ``crop_shares`` name the plantings of less than a full crop by their place in the plan, the first being 0.
    """
    shares = crop_shares(plan.plantings, scenario, catalogue)
    return {
        "schema_version": SCHEMA_VERSION,
        "outcome": plan.standing.outcome if plan.standing is not None else "unknown",
        "stopped_early": stopped_early,
        "scenario_matches": scenario_matches,
        "edited": edited_answer(plan),
        "plan": written_plan(plan),
        "crop_shares": [
            {"planting": place, **told.model_dump(mode="json"), "sentence": plain(say_crop_share(told, planting.way))}
            for place, planting in enumerate(plan.plantings)
            if (told := shares.get(planting)) is not None
        ],
        "warnings": list(warnings),
        "cautions": list(cautions_of(plan, catalogue, scenario)),
    }


def no_plan_answer(
    outcome: str,
    clash: Iterable[Claim] = (),
    warnings: Sequence[str] = (),
    ways_out: Iterable[Iterable[Claim]] = (),
) -> Answer:
    """Return that there is no plan, with the claims that clash; giving up all of any one of ``ways_out`` would do."""
    return {
        "schema_version": SCHEMA_VERSION,
        "outcome": outcome,
        "plan": None,
        "clash": [reason_answer(reason) for reason in clash],
        "ways_out": [[reason_answer(reason) for reason in way] for way in ways_out],
        "warnings": list(warnings),
    }


def written_plan(plan: Plan) -> Answer:
    """Return a plan as it stands in a file, with each of its breaches and what its goals reach said beside it."""
    written: Answer = plan.model_dump(mode="json")
    written["goals"] = [goal_answer(goal) for goal in plan.goals]
    for told, breach in zip(written["verdict"]["breaches"], plan.verdict.breaches, strict=True):
        told["sentence"] = plain(say_reason(breach, Look()))
    return written


def goal_answer(goal: GoalScore) -> Answer:
    """Return the points a goal loses, with what the plan reaches in figures and in words."""
    return {**goal.model_dump(mode="json"), "sentence": say_reached(goal, Look())}


def reason_answer(reason: Claim | Breach) -> Answer:
    """Return a claim or a breach in words, with its rule and what it is about; lengths are metric for programs."""
    claim = claim_of(reason)
    return {"rule": claim.rule, "about": list(claim.about), "sentence": plain(say_reason(reason, Look()))}


def hindrance_answer(hindrance: Hindrance) -> Answer:
    """Return what stands against a planting in words, with its claim, the strips barred, until when, and by what."""
    claim, until, other = hindrance.claim, hindrance.until, hindrance.other
    return {
        "claim": {"rule": claim.rule, "about": list(claim.about)},
        "sentence": plain(say_hindrance(hindrance, Look())),
        "strips": list(hindrance.strips),
        "until": until.isoformat() if until is not None else None,
        "other": other.model_dump(mode="json") if other is not None else None,
    }
