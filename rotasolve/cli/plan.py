"""``rotasolve plan``: decide what to grow where, when and in what number."""

from __future__ import annotations

import math
import os
import threading
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from rotasolve.cli import exit_codes
from rotasolve.cli.guard import guarded
from rotasolve.cli.inputs import may_write, read_inputs
from rotasolve.cli.no_plan import say_none
from rotasolve.cli.options import AsJson, Force, Inches, OwnCrops, Quiet, ScenarioArgument, refuse_two_limits
from rotasolve.cli.progress import Teller, wait_for
from rotasolve.cli.terminal import answer, answer_json, look_of_terminal, talk, warn
from rotasolve.errors import FileTrouble

if TYPE_CHECKING:
    from rotasolve.domain.result import Result

HELP = """Decide what to grow where, when and in what number, over all years of a scenario.

Examples:

\b
  rotasolve plan family-garden --seconds 30
  rotasolve plan garden.yaml -o garden.plan.json
  rotasolve plan garden.yaml --effort 20 --json

Ctrl-C ends the search and keeps the best plan so far. Without -o nothing is written.
"""
_SECONDS = 60.0
_MOST_WORKERS = 8


@guarded
def plan(
    scenario: ScenarioArgument,
    output: Annotated[
        Path | None, typer.Option("--output", "-o", metavar="FILE", help="Write the plan to this file as well.")
    ] = None,
    seconds: Annotated[
        float | None, typer.Option(min=0.1, metavar="SECONDS", help="Search at most so long; 60 if not given.")
    ] = None,
    effort: Annotated[
        float | None,
        typer.Option(min=0.1, metavar="UNITS", help="Limit the work instead of the time: the same plan on every run."),
    ] = None,
    seed: Annotated[int, typer.Option(min=0, max=2**31 - 1, metavar="NUMBER", help="Where the search begins.")] = 1,
    workers: Annotated[
        int | None,
        typer.Option(min=1, max=64, metavar="NUMBER", help="Threads; one less than there are cores if not given."),
    ] = None,
    own_crops: OwnCrops = None,
    quiet: Quiet = False,
    json: AsJson = False,
    force: Force = False,
    inches: Inches = False,
) -> int:
    """Search a plan and show it."""
    refuse_two_limits(seconds, effort)
    if any(limit is not None and not math.isfinite(limit) for limit in (seconds, effort)):
        raise typer.BadParameter("the limit must be a finite number")
    # Asked before the search: nobody wants to wait a minute and then be refused.
    replace = may_write(output, force) if output is not None else False
    garden, catalogue = read_inputs(scenario, own_crops)

    from rotasolve.reading.plans import write_plan
    from rotasolve.reading.scenarios import scenario_hash, warnings_of
    from rotasolve.tasks.rotation import unmeetable_wishes

    warnings = (*warnings_of(garden, catalogue), *unmeetable_wishes(garden, catalogue))
    if not quiet:
        warn(warnings)
    stop, teller = threading.Event(), Teller(quiet)

    def search() -> Result:
        from rotasolve.solver.cpsat import Limits
        from rotasolve.tasks.rotation import plan_rotation

        threads = workers or max(1, min(_MOST_WORKERS, (os.cpu_count() or 1) - 1))
        limits = Limits(None if effort is not None else seconds or _SECONDS, effort, seed, threads)
        return plan_rotation(garden, catalogue, limits, teller.hear, stop, scenario_hash(garden))

    found = wait_for(search, stop, teller)

    from rotasolve.domain.result import Impossible, OutOfTime
    from rotasolve.views.as_json import plan_answer
    from rotasolve.views.page import plan_page

    if isinstance(found, Impossible | OutOfTime):
        return say_none(found, garden, warnings, json, stopped=stop.is_set())
    trouble = None
    if output is not None:
        try:
            write_plan(found.plan, output, replace)
        except FileTrouble as refusal:
            trouble = refusal  # told below: what took minutes to find is shown all the same
    if json:
        answer_json(plan_answer(found.plan, garden, catalogue, stopped_early=stop.is_set(), warnings=warnings))
    else:
        answer(plan_page(garden, catalogue, found.plan, look_of_terminal(inches=inches)))
    if trouble is not None:
        raise trouble
    if not quiet:
        if stop.is_set():
            talk("The search was stopped early: this is the best plan found until then.")
        if output is not None:
            talk(f"Written: {output}. See it again with: rotasolve show {scenario} {output}")
    return exit_codes.FINE
