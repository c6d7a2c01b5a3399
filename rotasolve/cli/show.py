"""``rotasolve show``: show a plan that was written to a file."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from rotasolve.cli import exit_codes
from rotasolve.cli.guard import guarded
from rotasolve.cli.inputs import known_bed, known_years, mismatch, open_plan, read_inputs
from rotasolve.cli.options import AsJson, Inches, OwnCrops, PlanArgument, ScenarioArgument
from rotasolve.cli.terminal import answer, answer_json, look_of_terminal, warn

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rotasolve.domain.plan import Plan
    from rotasolve.domain.scenario import Scenario

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

    garden, catalogue = read_inputs(scenario, own_crops)
    written = open_plan(plan, garden, catalogue, lenient=True)
    _refuse_unknown(year or (), bed or (), garden, written)
    other = mismatch(written, garden)
    if json:
        answer_json(plan_answer(written, garden, catalogue, scenario_matches=not other))
    else:
        look = look_of_terminal(inches=inches)
        answer(plan_page(garden, catalogue, written, look, tuple(year or ()), tuple(bed or ())))
    warn(other)
    return exit_codes.FINE


def _refuse_unknown(years: Sequence[int], beds: Sequence[str], scenario: Scenario, plan: Plan) -> None:
    known_years(years, plan)
    for bed in beds:
        known_bed(bed, scenario)
