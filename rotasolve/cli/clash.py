"""``rotasolve clash``: why a scenario can have no plan, and what giving up would do."""

from __future__ import annotations

from rotasolve.cli import exit_codes
from rotasolve.cli.case import read_case
from rotasolve.cli.guard import guarded
from rotasolve.cli.options import AsJson, Details, Inches, OwnCrops, ScenarioArgument
from rotasolve.cli.terminal import answer_json, answer_page, look_of_terminal

HELP = """Say which demands of a scenario cannot all be met, and what giving up would do.

Examples:

\b
  rotasolve clash garden.yaml
  rotasolve clash garden.yaml --json

No plan is searched. A target out of reach is no clash: 'shortfall' tells of it. Exit status 1: there is a clash.
"""


@guarded
def clash(
    scenario: ScenarioArgument,
    own_crops: OwnCrops = None,
    details: Details = False,
    json: AsJson = False,
    inches: Inches = False,
) -> int:
    """Explain a clash."""
    from rotasolve.tasks.clashing import explain_clash
    from rotasolve.views.answers.clash_page import clash_page, no_clash_page
    from rotasolve.views.answers.question_answers import clash_answer

    case = read_case(scenario, own_crops)
    found = explain_clash(case.scenario, case.catalogue)
    look = look_of_terminal(inches=inches, codes=details)
    if json:
        answer_json(clash_answer(found))
    else:
        answer_page(
            no_clash_page(case.scenario, look) if found is None else clash_page(case.scenario, found, look), details
        )
    return exit_codes.FINE if found is None else exit_codes.FOUND
