"""``rotasolve check``: read a scenario and say what is wrong with it, or what is in it."""

from __future__ import annotations

from rotasolve.cli import exit_codes
from rotasolve.cli.case import read_case
from rotasolve.cli.guard import guarded
from rotasolve.cli.options import AsJson, Inches, OwnCrops, ScenarioArgument, Whole
from rotasolve.cli.terminal import answer_json, answer_page, look_of_terminal, warn

HELP = """Read a scenario and say what is wrong with it, all at once, or what is in it.

Examples:

\b
  rotasolve check garden.yaml
  rotasolve check garden.yaml --json

Nothing is planned and nothing is changed. Beside faults it says what the wishes come to in kg, which crops stay off
which beds and until when, how much ground the wishes need through the year, and
if there is less, which wishes ask most and what would fit.
"""


@guarded
def check(
    scenario: ScenarioArgument,
    own_crops: OwnCrops = None,
    details: Whole = False,
    json: AsJson = False,
    inches: Inches = False,
) -> int:
    """Check a scenario."""
    from rotasolve.errors import InputFault
    from rotasolve.files.faults import say_faults
    from rotasolve.files.scenarios import warnings_of
    from rotasolve.relations.ground.closed_ground import closed_ground
    from rotasolve.relations.ground.garden import make_garden
    from rotasolve.relations.household.ground_need import ground_need
    from rotasolve.views.exports.as_json import check_answer
    from rotasolve.views.pages.wishes_page import understood_page
    from rotasolve.views.words.ground_need import need_facts, say_need
    from rotasolve.views.words.summary import summary_page

    try:
        case = read_case(scenario, own_crops)
    except InputFault as refusal:
        if json:
            answer_json(check_answer(None, refusal.faults, ()))
        else:
            answer_page(say_faults(refusal.faults), details)
        return exit_codes.FOUND
    # Counting strips, so that nobody asks how many places there are.
    garden = make_garden(case.scenario, case.catalogue, exact=False)
    warnings, need = warnings_of(case.scenario, case.catalogue), ground_need(garden)
    closed = closed_ground(garden)
    if json:
        answer_json(check_answer(case.scenario, (), warnings, need, closed))
        return exit_codes.FINE
    look = look_of_terminal(inches=inches)
    understood = understood_page(case.scenario, need, closed, look)
    page = summary_page(case.scenario, look, need_facts(need, look), say_need(need, look), understood)
    answer_page(page, details)
    warn(warnings)
    return exit_codes.FINE
