"""``rotasolve next``: the next year's scenario from a plan and its diary, and a plan of it."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from rotasolve.cli import exit_codes
from rotasolve.cli.case import read_case
from rotasolve.cli.earlier import Asked
from rotasolve.cli.guard import guarded
from rotasolve.cli.inputs import find_scenario, may_write, write_and_say
from rotasolve.cli.options import (
    AsJson,
    Details,
    DiaryOption,
    Effort,
    Force,
    Inches,
    OwnCrops,
    PlanArgument,
    Quiet,
    ScenarioArgument,
    Seed,
    refuse_odd_limits,
)
from rotasolve.cli.plan import Limited, Seconds, Shown, Workers, Written, search_and_say
from rotasolve.cli.terminal import answer_json, answer_page, look_of_terminal, talk
from rotasolve.cli.told import diary_if_any

HELP = """Write the next year's scenario: what was planned, or the diary tells, becomes history; what stands stays.

Examples:

\b
  rotasolve next garden.yaml garden.plan.json -o garden-2028.yaml
  rotasolve next garden.yaml garden.plan.json -o garden-2028.yaml
      --plan garden-2028.plan.json --seconds 60
  rotasolve next garden.yaml garden.plan.json -o garden-2029.yaml --years 2

Where the diary is silent the plan is taken to have happened. What is in the ground when the year begins is written as
pinned, all else as history; the rest of the file stays as it is. With --plan the new years are planned on from the
old plan at once, with few changes of what it had planned for them.
"""

_LIMITS_NO_SEARCH = "--seconds, --effort and --workers limit a search: give a file for its plan with --plan"


@guarded
def next_year(
    scenario: ScenarioArgument,
    plan: PlanArgument,
    output: Annotated[
        Path, typer.Option("--output", "-o", metavar="FILE", help="The new scenario file.", show_default=False)
    ],
    new_plan: Annotated[
        Path | None, typer.Option("--plan", metavar="FILE", help="Plan on from the old plan, and write the plan here.")
    ] = None,
    years: Annotated[int, typer.Option(min=1, max=10, metavar="NUMBER", help="So many years have gone by.")] = 1,
    diary: DiaryOption = None,
    seconds: Seconds = None,
    effort: Effort = None,
    seed: Seed = 1,
    workers: Workers = None,
    own_crops: OwnCrops = None,
    quiet: Quiet = False,
    details: Details = False,
    json: AsJson = False,
    force: Force = False,
    inches: Inches = False,
) -> int:
    """Write the next year's scenario, and plan it if a file is given for the plan."""
    refuse_odd_limits(seconds, effort)
    if new_plan is None and (seconds is not None or effort is not None or workers is not None):
        raise typer.BadParameter(_LIMITS_NO_SEARCH)
    replace = may_write(output, force)
    replace_plan = may_write(new_plan, force, Path(scenario)) if new_plan is not None else False
    file = find_scenario(scenario)
    case = read_case(scenario, own_crops).with_plan(plan)

    from rotasolve.files.files import read_text
    from rotasolve.files.next_scenario import next_scenario_text
    from rotasolve.tasks.next_year import NOTHING_TOLD
    from rotasolve.tasks.next_year import next_year as turned
    from rotasolve.views.answers.next_year_page import next_year_answer, next_year_page

    read = diary_if_any(case, scenario, diary)
    found = turned(case.garden, case.scenario, case.plan, read.diary if read is not None else NOTHING_TOLD, years)
    fields = ("history", "pinned", "seen", "manure", "closed")
    added = {field: getattr(found, field) for field in fields}
    gone = {("pinned",): found.pins_gone, ("household", "must_have"): found.musts_gone}
    text = next_scenario_text(read_text(file), str(file), case.catalogue, found.scenario, added, gone)
    write_and_say(text, output, replace)
    if json and new_plan is None:
        answer_json(next_year_answer(found, str(output)))
    elif not json:
        answer_page(next_year_page(found, look_of_terminal(inches=inches)), details)
    if new_plan is None:
        talk(f"Now: rotasolve plan {output} --from {plan} -o FILE")
        return exit_codes.FINE
    asked, limits = Asked(plan, ("nothing",), None, (), rolled_on=True), Limited(seconds, effort, seed, workers)
    case_now = read_case(str(output), own_crops)
    written, shown = Written(new_plan, replace_plan), Shown(quiet, details, json, inches)
    return search_and_say(str(output), case_now, asked, limits, written, shown)
