"""``rotasolve water``: litres for each bed and week of a plan."""

from __future__ import annotations

from typing import Annotated

import typer

from rotasolve.cli import exit_codes
from rotasolve.cli.case import read_case
from rotasolve.cli.guard import guarded
from rotasolve.cli.inputs import known_years
from rotasolve.cli.options import AsJson, OwnCrops, PlanArgument, ScenarioArgument, Whole
from rotasolve.cli.terminal import answer, answer_json, answer_page, look_of_terminal, warn
from rotasolve.errors import GardenFault

HELP = """Say how much water each bed of a plan needs week by week, in litres.

Examples:

\b
  rotasolve water garden.yaml garden.plan.json
  rotasolve water garden.yaml garden.plan.json --year 2027 --json

The scenario needs 12 monthly mean minima and maxima under site: climate:, and rain_mm if rain is to be taken off.
"""


@guarded
def water(
    scenario: ScenarioArgument,
    plan: PlanArgument,
    year: Annotated[
        int | None, typer.Option(metavar="YEAR", help="The garden year to show. Default: the first of the plan.")
    ] = None,
    own_crops: OwnCrops = None,
    details: Whole = False,
    json: AsJson = False,
) -> int:
    """Say the water."""
    from rotasolve.domain.seasons import say_year, year_end, year_start
    from rotasolve.relations.season.water_need import weeks_of_water
    from rotasolve.views.exports.season_json import water_answer
    from rotasolve.views.pages.water_page import water_notes, water_page

    case = read_case(scenario, own_crops).with_plan(plan)
    place, written, site = case.scenario, case.plan, case.scenario.site
    climate, south = site.climate, site.south
    if climate is None:
        raise GardenFault(
            f"{scenario}: the site has no climate, and water cannot be reckoned without temperatures; add climate: "
            "with mean_minima_c and mean_maxima_c, 12 monthly means each, January first (and rain_mm) under site:"
        )
    shown = known_years(() if year is None else (year,), written)[0]
    weeks = weeks_of_water(
        written.plantings,
        {bed.name: bed for bed in place.beds},
        {crop.name: crop for crop in case.catalogue.crops},
        climate,
        site.latitude,
        year_start(shown, south),
        year_end(shown, south),
    )
    if json:
        notes = water_notes(place, weeks)
        rain_known = climate.rain_mm is not None
        answer_json(water_answer(weeks, rain_known=rain_known, scenario_matches=case.matches, notes=notes))
    elif weeks:
        answer_page(water_page(place, say_year(shown, south), weeks, look_of_terminal()), details)
    else:
        answer(f"Nothing stands in the ground in {say_year(shown, south)}: no water is needed.")
    warn(case.warnings)
    return exit_codes.FINE
