"""``rotasolve supply``: when a plan's harvest comes, what is kept and when it runs out."""

from __future__ import annotations

from typing import Annotated, Literal

import typer

from rotasolve.cli import exit_codes
from rotasolve.cli.case import read_case
from rotasolve.cli.guard import guarded
from rotasolve.cli.options import AsJson, OwnCrops, PlanArgument, ScenarioArgument, Whole
from rotasolve.cli.terminal import answer_json, answer_page, look_of_terminal, warn
from rotasolve.errors import GardenFault

HELP = """Show what a plan supplies through the year: eaten fresh, kept, when it runs out, gaps and gluts.

Examples:

\b
  rotasolve supply garden.yaml garden.plan.json
  rotasolve supply garden.yaml garden.plan.json --yields low --crop carrot

Harvests are spread over the days of picking; wishes are spread evenly over their months.
"""


@guarded
def supply(
    scenario: ScenarioArgument,
    plan: PlanArgument,
    yields: Annotated[
        Literal["low", "typical", "high"],
        typer.Option(help="Count a poor, a usual or a good year."),
    ] = "typical",
    crop: Annotated[
        list[str] | None, typer.Option(metavar="NAME", help="Show this crop only; may be given several times.")
    ] = None,
    own_crops: OwnCrops = None,
    details: Whole = False,
    json: AsJson = False,
) -> int:
    """Show the supply over the year."""
    from rotasolve.files.wording import did_you_mean
    from rotasolve.relations.household.hungry_gap import springs_of
    from rotasolve.relations.household.supply import supply_of
    from rotasolve.views.pages.supply import supply_answer, supply_page

    case = read_case(scenario, own_crops).with_plan(plan)
    supplies = supply_of(case.garden, case.plan.plantings, yields)
    springs = springs_of(case.garden, supplies)
    known = [one.crop for one in supplies]
    for name in crop or ():
        if name not in known:
            hint = did_you_mean(name, known) or f"the crops are: {', '.join(known)}"
            raise GardenFault(f"neither a target nor the plan has a crop '{name}'; {hint}")
    if crop:
        springs = ()
    supplies = tuple(one for one in supplies if not crop or one.crop in crop)
    if json:
        answer_json(supply_answer(case.scenario, case.catalogue, supplies, springs, yields))
    else:
        answer_page(supply_page(case.scenario, case.catalogue, supplies, springs, yields, look_of_terminal()), details)
    warn(case.warnings)
    return exit_codes.FINE
