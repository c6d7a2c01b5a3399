"""``rotasolve draw``: the site, the beds, their seasons and the harvest of a plan as SVG files."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from rotasolve.cli import exit_codes
from rotasolve.cli.case import read_case
from rotasolve.cli.guard import guarded
from rotasolve.cli.inputs import known_bed, known_years
from rotasolve.cli.options import AsJson, Force, Inches, OwnCrops, PlanArgument, ScenarioArgument, Whole
from rotasolve.cli.terminal import answer_json, answer_page, is_terminal, look_of_terminal, talk, warn
from rotasolve.errors import FileTrouble

if TYPE_CHECKING:
    from collections.abc import Sequence

HELP = """Draw a plan as SVG files: the site to scale, each bed with every plant, the seasons, the harvest.

Examples:

\b
  rotasolve draw garden.yaml garden.plan.json -o drawings
  rotasolve draw garden.yaml garden.plan.json -o drawings --year 2027 --bed "gate bed" --force

A folder that is not there yet is made. North is up; in the southern hemisphere south.
"""


@guarded
def draw(
    scenario: ScenarioArgument,
    plan: PlanArgument,
    output: Annotated[
        Path, typer.Option("--output", "-o", metavar="FOLDER", help="The folder for the files.", show_default=False)
    ],
    year: Annotated[
        list[int] | None, typer.Option(metavar="YEAR", help="Draw this year only; may be given several times.")
    ] = None,
    bed: Annotated[
        list[str] | None, typer.Option(metavar="NAME", help="Draw this bed only; may be given several times.")
    ] = None,
    own_crops: OwnCrops = None,
    details: Whole = False,
    json: AsJson = False,
    force: Force = False,
    inches: Inches = False,
) -> int:
    """Draw a plan."""
    case = read_case(scenario, own_crops).with_plan(plan)

    from rotasolve.files.files import write_text
    from rotasolve.relations.household.supply import supply_of
    from rotasolve.views.drawings.drawing_files import drawing_files, drawings_answer, drawings_page

    chosen = [known_bed(name, case.scenario) for name in dict.fromkeys(bed or ())]
    years = known_years(year or (), case.plan)
    supplies = supply_of(case.garden, case.plan.plantings)
    files = drawing_files(case.garden, case.plan, supplies, years, chosen or list(case.garden.beds), inches)
    replace = _may_write(output, [file.name for file in files], force)
    for file in files:
        write_text(file.drawing.standalone(), output / file.name, overwrite=replace)
    if json:
        answer_json(drawings_answer(files, str(output), scenario_matches=case.matches))
    else:
        answer_page(drawings_page(files, look_of_terminal()), details)
        talk(f"Written to {output}: {len(files)} drawings")
    warn(case.warnings)
    return exit_codes.FINE


def _may_write(folder: Path, names: Sequence[str], force: bool) -> bool:
    """Return whether files there may be replaced, once there is a folder; nothing is written if one may not."""
    from rotasolve.files.refusals import refused

    with refused(folder, "the folder cannot be made"):
        if folder.exists() and not folder.is_dir():
            raise FileTrouble(f"{folder}: this is a file, not a folder")
        folder.mkdir(exist_ok=True)
        there = [name for name in names if (folder / name).exists()]
    if force or not there:
        return force
    if is_terminal(sys.stdin) and is_terminal(sys.stderr):
        which = f"{len(there)} of the files are in {folder} already: {', '.join(there)}. Replace them?"
        if typer.confirm(which, default=False, err=True):
            return True
        raise FileTrouble(f"{folder} was left as it is")
    raise FileTrouble(
        f"{folder}: nothing was written, for these files are there already: {', '.join(there)}; --force replaces them"
    )
