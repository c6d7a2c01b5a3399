"""``rotasolve shopping``: what to buy or keep ready for a plan, and the room its seedlings take."""

from __future__ import annotations

from typing import Annotated

import typer

from rotasolve.cli import exit_codes
from rotasolve.cli.case import read_case
from rotasolve.cli.guard import guarded
from rotasolve.cli.options import AsJson, Inches, OwnCrops, PlanArgument, ScenarioArgument, Whole
from rotasolve.cli.terminal import answer_json, answer_page, look_of_terminal, warn
from rotasolve.errors import GardenFault

HELP = """Say what to buy or keep ready: seed, sets, tubers, plants, pots, compost, supports, fleece and mesh.

Examples:

\b
  rotasolve shopping garden.yaml garden.plan.json
  rotasolve shopping garden.yaml garden.plan.json --year 2027 --sill "30 cm"

A planting belongs to the garden year in which it is first sown. The seedlings' pots, trays and room on the window sill
are listed twice a month.
"""


@guarded
def shopping(
    scenario: ScenarioArgument,
    plan: PlanArgument,
    year: Annotated[
        list[int] | None, typer.Option(metavar="YEAR", help="This garden year only; may be given several times.")
    ] = None,
    sill: Annotated[str, typer.Option(metavar="LENGTH", help="How deep the window sill is.")] = "20 cm",
    own_crops: OwnCrops = None,
    details: Whole = False,
    json: AsJson = False,
    inches: Inches = False,
) -> int:
    """List what a plan needs."""
    from rotasolve.domain.measures import parse_length

    try:
        depth = parse_length(sill)
    except ValueError as refusal:
        raise typer.BadParameter(str(refusal), param_hint="--sill") from None
    if not 5 <= depth <= 500:
        raise typer.BadParameter(f"a sill is 5 cm to 5 m deep, not {sill}", param_hint="--sill")
    case = read_case(scenario, own_crops).with_plan(plan)

    from rotasolve.domain.seasons import first_day, garden_year
    from rotasolve.relations.work.seedlings import seedling_room
    from rotasolve.relations.work.shopping import purchases_of
    from rotasolve.views.exports.jobs_json import shopping_answer
    from rotasolve.views.pages.shopping_page import shopping_page

    garden, south = case.garden, case.scenario.site.south
    bought = purchases_of(garden, case.plan)
    for wanted in year or ():
        if wanted not in bought:
            years = ", ".join(str(known) for known in bought) or "none"
            raise GardenFault(f"nothing is begun in {wanted}; years in which something is: {years}")
    bought = {known: wares for known, wares in bought.items() if not year or known in year}
    months = seedling_room(garden, case.plan, depth)
    room = tuple(month for month in months if garden_year(first_day(month.period), south) in bought)
    if json:
        answer_json(shopping_answer(bought, room, sill_depth_cm=depth, scenario_matches=case.matches))
    else:
        answer_page(shopping_page(garden, bought, room, look_of_terminal(inches=inches), depth), details)
    warn(case.warnings)
    return exit_codes.FINE
