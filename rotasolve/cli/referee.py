"""``rotasolve referee``: judge a plan by every rule, whoever made it."""

from __future__ import annotations

from rotasolve.cli import exit_codes
from rotasolve.cli.guard import guarded
from rotasolve.cli.inputs import mismatch, read_inputs
from rotasolve.cli.options import AsJson, OwnCrops, PlanArgument, ScenarioArgument
from rotasolve.cli.terminal import answer, answer_json, look_of_terminal, warn

HELP = """Judge a plan by every rule, whoever made or changed it, and count its points anew.

Examples:

\b
  rotasolve referee garden.yaml garden.plan.json
  rotasolve referee garden.yaml garden.plan.json --json
"""


@guarded
def referee(scenario: ScenarioArgument, plan: PlanArgument, own_crops: OwnCrops = None, json: AsJson = False) -> int:
    """Referee a plan."""
    from rotasolve.reading.plans import read_plan
    from rotasolve.tasks.refereeing import referee_plan
    from rotasolve.views.as_json import verdict_answer
    from rotasolve.views.page import verdict_page

    garden, catalogue = read_inputs(scenario, own_crops)
    written = read_plan(plan)
    other = mismatch(written, garden)
    judged = referee_plan(garden, catalogue, written)
    if json:
        answer_json(verdict_answer(judged, scenario_matches=not other))
    else:
        answer(verdict_page(judged, look_of_terminal()))
    warn(other)
    return exit_codes.FOUND if judged.verdict.breaches else exit_codes.FINE
