"""``rotasolve referee``: judge a plan by every rule, whoever made it."""

from __future__ import annotations

from rotasolve.cli import exit_codes
from rotasolve.cli.guard import guarded
from rotasolve.cli.inputs import mismatch, read_inputs, take_up_file
from rotasolve.cli.options import AsJson, Inches, OwnCrops, PlanArgument, ScenarioArgument
from rotasolve.cli.terminal import answer, answer_json, look_of_terminal, warn

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
    json: AsJson = False,
    inches: Inches = False,
) -> int:
    """Referee a plan."""
    garden, catalogue = read_inputs(scenario, own_crops)

    from rotasolve.tasks.by_hand import findings
    from rotasolve.tasks.refereeing import referee_plan
    from rotasolve.views.pages.editing import refereed_answer, refereed_page

    file, written, notes = take_up_file(plan, garden, catalogue)
    other = mismatch(written, garden)
    judged = referee_plan(garden, catalogue, written)
    found = findings(garden, catalogue, judged)
    places = {number: file.place_of(number) for _, numbers in found for number in numbers}
    told = [f"{file.place_of(note.number)}: {note.sentence}" for note in notes]
    if json:
        answer_json(refereed_answer(judged, found, places, told, file.plan, scenario_matches=not other))
    else:
        answer(refereed_page(judged, found, places, told, file.plan, look_of_terminal(inches=inches)))
    warn(other)
    return exit_codes.FOUND if found else exit_codes.FINE
