"""``rotasolve shortfall``: the targets a plan does not reach, and what would give more."""

from __future__ import annotations

import threading
from typing import Annotated

import typer

from rotasolve.cli import exit_codes
from rotasolve.cli.case import read_case
from rotasolve.cli.guard import guarded
from rotasolve.cli.inputs import find_crop
from rotasolve.cli.options import AsJson, Inches, OwnCrops, PlanArgument, ScenarioArgument, Whole
from rotasolve.cli.progress import Teller, wait_for
from rotasolve.cli.terminal import answer_json, answer_page, look_of_terminal, talk, warn
from rotasolve.errors import GardenFault

HELP = """Say which yearly targets a plan does not reach, and what one change would give.

Examples:

\b
  rotasolve shortfall garden.yaml garden.plan.json
  rotasolve shortfall garden.yaml garden.plan.json tomato

Tried: one more bed, one more metre, a cover, one year less rest, no order of heights. The rest of the plan stays as it
is. Missing a target is no fault: the exit status is 0.
"""


@guarded
def shortfall(
    scenario: ScenarioArgument,
    plan: PlanArgument,
    crop: Annotated[str | None, typer.Argument(metavar="[CROP]", help="This crop only.", show_default=False)] = None,
    own_crops: OwnCrops = None,
    seconds: Annotated[
        float, typer.Option(min=1, max=86_400, metavar="SECONDS", help="Look at targets for so long.")
    ] = 60.0,
    details: Whole = False,
    json: AsJson = False,
    inches: Inches = False,
) -> int:
    """Explain missed targets."""
    case = read_case(scenario, own_crops).with_plan(plan)
    named = find_crop(crop, case.catalogue, case.scenario.words) if crop is not None else None

    from rotasolve.tasks.shortfall import find_shortfalls
    from rotasolve.views.answers.question_answers import shortfall_answer
    from rotasolve.views.answers.shortfall_page import shortfall_page

    stop, teller = threading.Event(), Teller(quiet=False)
    told = (named, teller.begin, stop)
    found = wait_for(lambda: find_shortfalls(case.scenario, case.catalogue, case.plan, *told), stop, teller, seconds)
    if stop.is_set() and not found:
        raise GardenFault("no target was looked at to its end in the time there was", "allow more with --seconds")
    if stop.is_set():
        talk("Stopped early, so targets are left out: allow more with --seconds, or name one crop.")
    if json:
        answer_json(shortfall_answer(found, scenario_matches=case.matches, stopped_early=stop.is_set()))
    else:
        answer_page(shortfall_page(case.scenario, case.plan, found, look_of_terminal(inches=inches), named), details)
    warn(case.warnings)
    return exit_codes.FINE
