"""``rotasolve referee``: judge a plan by every rule, whoever made it."""

from __future__ import annotations

from rotasolve.cli import exit_codes
from rotasolve.cli.case import read_case
from rotasolve.cli.guard import guarded
from rotasolve.cli.options import AsJson, Details, Inches, OwnCrops, PlanArgument, ScenarioArgument
from rotasolve.cli.terminal import answer_json, answer_page, look_of_terminal, warn

HELP = """Judge a plan by every rule, whoever made or changed it, and count its points anew.

Plantings may be moved, changed, added and taken out in the plan file with a text editor, one planting a line. What
follows from bed, strips, crop, way, start, clear and plants is worked out; an added planting may leave out way, clear,
plants, rows and harvest. Each breach names the plantings that cause it, with line and column.

Examples:

\b
  rotasolve referee garden.yaml garden.plan.json
  rotasolve referee garden.yaml garden.plan.json --json
"""


@guarded
def referee(
    scenario: ScenarioArgument,
    plan: PlanArgument,
    own_crops: OwnCrops = None,
    details: Details = False,
    json: AsJson = False,
    inches: Inches = False,
) -> int:
    """Referee a plan."""
    case = read_case(scenario, own_crops).with_plan(plan)

    from rotasolve.referee import recount
    from rotasolve.tasks.by_hand import findings
    from rotasolve.views.pages.editing import refereed_answer, refereed_page
    from rotasolve.views.words.worked_out import say_worked_out

    judged, file = recount(case.garden, case.plan), case.file
    found = findings(case.garden, judged)
    places = {number: file.place_of(number) for _, numbers in found for number in numbers}
    told = [f"{file.place_of(note.number)}: {say_worked_out(note)}" for note in case.notes]
    if json:
        answer_json(refereed_answer(judged, found, places, told, file.plan, scenario_matches=case.matches))
    else:
        answer_page(
            refereed_page(judged, found, places, told, file.plan, look_of_terminal(inches=inches, codes=details)),
            details,
        )
    warn(case.warnings)
    return exit_codes.FOUND if found else exit_codes.FINE
