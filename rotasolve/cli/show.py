"""``rotasolve show``: show a plan that was written to a file."""

from __future__ import annotations

from typing import Annotated

import typer

from rotasolve.cli import exit_codes
from rotasolve.cli.case import read_case
from rotasolve.cli.guard import guarded
from rotasolve.cli.inputs import known_bed, known_years
from rotasolve.cli.options import AsJson, Inches, OwnCrops, PlanArgument, ScenarioArgument
from rotasolve.cli.terminal import answer, answer_json, look_of_terminal, warn

HELP = """Show a plan that was written to a file: maps, plantings, harvests, points and cautions.

Examples:

\b
  rotasolve show garden.yaml garden.plan.json
  rotasolve show garden.yaml garden.plan.json --year 2027 --bed "gate bed"

The figures are those in the file, unless it was edited by hand; 'referee' counts them anew.
"""


@guarded
def show(
    scenario: ScenarioArgument,
    plan: PlanArgument,
    year: Annotated[
        list[int] | None, typer.Option(metavar="YEAR", help="Show this year only; may be given several times.")
    ] = None,
    bed: Annotated[
        list[str] | None, typer.Option(metavar="NAME", help="Show this bed only; may be given several times.")
    ] = None,
    own_crops: OwnCrops = None,
    json: AsJson = False,
    inches: Inches = False,
) -> int:
    """Show a plan."""
    from rotasolve.views.exports.plan_json import plan_answer
    from rotasolve.views.pages.page import plan_page

    case = read_case(scenario, own_crops).with_plan(plan, lenient=True)
    known_years(year or (), case.plan)
    beds = tuple(known_bed(name, case.scenario) for name in bed or ())
    if json:
        answer_json(plan_answer(case.plan, case.scenario, case.catalogue, scenario_matches=case.matches))
    else:
        look = look_of_terminal(inches=inches)
        answer(plan_page(case.scenario, case.catalogue, case.plan, look, tuple(year or ()), beds))
    warn(case.warnings)
    return exit_codes.FINE
