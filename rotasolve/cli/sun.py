"""``rotasolve sun``: hours of direct sun on every strip, month by month, and what takes the rest."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from rotasolve.cli import exit_codes
from rotasolve.cli.case import read_case
from rotasolve.cli.guard import guarded
from rotasolve.cli.inputs import known_bed, known_years, may_write, months_named, write_and_say
from rotasolve.cli.options import AsJson, Force, OwnCrops, ScenarioArgument, Whole
from rotasolve.cli.terminal import answer_json, answer_page, look_of_terminal, warn
from rotasolve.errors import GardenFault

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rotasolve.domain.scenario import Scenario
    from rotasolve.domain.sun import StripSun

HELP = """Show the hours of direct sun on every strip, month by month, and what takes the rest.

Examples:

\b
  rotasolve sun garden.yaml
  rotasolve sun garden.yaml --month June --html sun.html
  rotasolve sun garden.yaml --why "left bed" --strip 2
  rotasolve sun garden.yaml --plan garden.plan.json --year 2027 --month May

Beds need their place (east and north), or sun_hours that you have counted; walls, fences, hedges, trees and sheds
stand under obstacles: in the scenario.
"""
PlanFile = Annotated[
    Path | None, typer.Option("--plan", metavar="PLAN", help="Let the crops of this plan file cast shade too.")
]

StripNumber = Annotated[
    int,
    typer.Option(
        "--strip", metavar="N", help="The strip to explain, 1 on the north side (south of the equator: the south side)."
    ),
]


@guarded
def sun(
    scenario: ScenarioArgument,
    month: Annotated[
        list[str] | None, typer.Option("--month", metavar="MONTH", help="Show this month; may be given several times.")
    ] = None,
    why: Annotated[
        str | None, typer.Option("--why", metavar="BED", help="Say what takes the sun of a strip of this bed.")
    ] = None,
    strip: StripNumber = 1,
    plan: PlanFile = None,
    year: Annotated[
        int | None, typer.Option("--year", metavar="YEAR", help="The plan's garden year. Default: its first.")
    ] = None,
    svg: Annotated[Path | None, typer.Option("--svg", metavar="FILE", help="Write maps as SVG.")] = None,
    html: Annotated[Path | None, typer.Option("--html", metavar="FILE", help="Write maps and table as HTML.")] = None,
    force: Force = False,
    own_crops: OwnCrops = None,
    details: Whole = False,
    json: AsJson = False,
) -> int:
    """Show the sun."""
    from rotasolve.relations.sun.crop_shade import sun_under_plan
    from rotasolve.relations.sun.site_sun import strips_of_garden, sun_table
    from rotasolve.views.exports.sun_json import sun_answer
    from rotasolve.views.pages.sun_page import sun_notes, sun_page, why_page

    case = read_case(scenario, own_crops)
    place = case.scenario
    if not strips_of_garden(place):
        raise GardenFault(
            f"{scenario}: no bed has a place, so its sun cannot be worked out; give beds east and north, "
            "or sun_hours, the hours of direct sun a day that you have counted in midsummer"
        )
    only = None if why is None else _strip(place, why, strip)
    months = months_named(month or ()) or list(range(1, 13))
    files = [(file, may_write(file, force, Path(scenario))) for file in (svg, html) if file is not None]
    standing, written, shown = "", None, None
    if plan is not None:
        written = case.with_plan(plan)
        shown = known_years(() if year is None else (year,), written.plan)[0]
        standing = f" beside the crops of {shown}"
        crops = {crop.name: crop for crop in case.catalogue.crops}
        found = sun_under_plan(place, crops, written.plan.plantings, shown, months, only is not None or json, only)
    else:
        found = sun_table(place, months, why=only is not None or json)
        found = tuple(one for one in found if only in (None, (one.bed, one.strip)))
    if json:
        answer_json(sun_answer(found, sun_notes(place, found) if only is None else (), shown))
    elif only is not None:
        answer_page(why_page(place, found, look_of_terminal(), standing), details)
    else:
        answer_page(sun_page(place, found, look_of_terminal(), standing), details)
    _write_drawings(place, found, standing, files, svg)
    if written is not None:
        warn(written.warnings)
    return exit_codes.FINE


def _strip(scenario: Scenario, name: str, strip: int) -> tuple[str, int]:
    """Return bed and strip as the scenario spells them, if its sun is known."""
    from rotasolve.domain.strips import strips_in_bed

    known_bed(name, scenario)
    bed = next(bed for bed in scenario.beds if bed.name == name)
    if not bed.has_known_sun:
        raise GardenFault(f"nothing is known of the sun of bed '{name}'; give it east and north, or sun_hours")
    most = strips_in_bed(bed)
    if not 1 <= strip <= most:
        raise GardenFault(f"bed '{name}' has strips 1 to {most}, not {strip}; --strip names one of them")
    return name, strip


def _write_drawings(
    scenario: Scenario,
    found: Sequence[StripSun],
    standing: str,
    files: Sequence[tuple[Path, bool]],
    svg: Path | None,
) -> None:
    from rotasolve.views.report.sun_maps import sun_drawing, sun_html

    for file, replace in files:
        if file is svg:
            text = sun_drawing(scenario, found, standing).standalone()
        else:
            text = sun_html(scenario, found, standing)
        write_and_say(text, file, replace)
