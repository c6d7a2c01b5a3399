"""``rotasolve water``: litres for each bed and week of a plan."""

from __future__ import annotations

from typing import Annotated

import typer

from rotasolve.cli import exit_codes
from rotasolve.cli.guard import guarded
from rotasolve.cli.inputs import known_years, mismatch, open_plan, read_inputs
from rotasolve.cli.options import AsJson, OwnCrops, PlanArgument, ScenarioArgument
from rotasolve.cli.terminal import answer, answer_json, look_of_terminal, warn
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
    json: AsJson = False,
) -> int:
    """Say the water."""
    from rotasolve.domain.seasons import say_year, year_end, year_start
    from rotasolve.relations.season.water_need import weeks_of_water
    from rotasolve.views.exports.season_json import water_answer
    from rotasolve.views.pages.water_page import water_notes, water_page

    garden, catalogue = read_inputs(scenario, own_crops)
    written = open_plan(plan, garden, catalogue)
    climate, south = garden.site.climate, garden.site.south
    if climate is None:
        raise GardenFault(
            f"{scenario}: the site has no climate, and water cannot be reckoned without temperatures; add climate: "
            "with mean_minima_c and mean_maxima_c, 12 monthly means each, January first (and rain_mm) under site:"
        )
    shown = known_years(() if year is None else (year,), written)[0]
    weeks = weeks_of_water(
        written.plantings,
        {bed.name: bed for bed in garden.beds},
        {crop.name: crop for crop in catalogue.crops},
        climate,
        garden.site.latitude,
        year_start(shown, south),
        year_end(shown, south),
    )
    other = mismatch(written, garden)
    if json:
        notes = water_notes(garden, weeks)
        rain_known = climate.rain_mm is not None
        answer_json(water_answer(weeks, rain_known=rain_known, scenario_matches=not other, notes=notes))
    elif weeks:
        answer(water_page(garden, say_year(shown, south), weeks, look_of_terminal()))
    else:
        answer(f"Nothing stands in the ground in {say_year(shown, south)}: no water is needed.")
    warn(other)
    return exit_codes.FINE
