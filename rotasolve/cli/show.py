"""``rotasolve show``: show a plan that was written to a file."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from rotasolve.cli import exit_codes
from rotasolve.cli.case import read_case
from rotasolve.cli.guard import guarded
from rotasolve.cli.inputs import known_bed, known_years
from rotasolve.cli.options import AsJson, Details, Inches, OwnCrops, PlanArgument, ScenarioArgument
from rotasolve.cli.terminal import answer_json, answer_page, look_of_terminal, warn

if TYPE_CHECKING:
    from rotasolve.domain.plan import Plan

HELP = """Show a year of a plan that was written to a file: its beds and harvests; with --bed maps and plantings too.

Examples:

\b
  rotasolve show garden.yaml garden.plan.json
  rotasolve show garden.yaml garden.plan.json --year 2027 --bed "gate bed"
  rotasolve show garden.yaml garden.plan.json --details

Without --year it is this year, or the plan's first one; with --details every year, with maps, points and cautions.
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
    details: Details = False,
    json: AsJson = False,
    inches: Inches = False,
) -> int:
    """Show a plan."""
    from rotasolve.views.exports.plan_json import plan_answer
    from rotasolve.views.pages.page import plan_page, year_page

    case = read_case(scenario, own_crops).with_plan(plan, lenient=True)
    known_years(year or (), case.plan)
    beds = tuple(known_bed(name, case.scenario) for name in bed or ())
    if json:
        answer_json(plan_answer(case.plan, case.scenario, case.catalogue, scenario_matches=case.matches))
    else:
        look = look_of_terminal(inches=inches, codes=details)
        years = tuple(year or ()) or (() if details else (_year_now(case.plan, case.scenario.site.south),))
        page = plan_page if details else year_page
        answer_page(page(case.scenario, case.catalogue, case.plan, look, years, beds), details)
    warn(case.warnings)
    return exit_codes.FINE


def _year_now(plan: Plan, south: bool) -> int:
    """Return this garden year if the plan has it, else its first."""
    from datetime import date

    from rotasolve.domain.seasons import garden_year

    now = garden_year(date.today(), south)
    return now if now in range(plan.first_year, plan.first_year + plan.years) else plan.first_year
