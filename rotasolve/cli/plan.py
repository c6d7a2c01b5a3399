"""``rotasolve plan``: decide what to grow where, when and in what number."""

from __future__ import annotations

import math
import os
import threading
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from rotasolve.cli import exit_codes
from rotasolve.cli.earlier import Asked, read_earlier
from rotasolve.cli.guard import guarded
from rotasolve.cli.inputs import may_write, read_inputs
from rotasolve.cli.no_plan import say_none
from rotasolve.cli.options import AsJson, Force, Inches, OwnCrops, Quiet, ScenarioArgument, refuse_two_limits
from rotasolve.cli.progress import Teller, wait_for
from rotasolve.cli.terminal import answer, answer_json, look_of_terminal, talk, warn
from rotasolve.errors import FileTrouble

if TYPE_CHECKING:
    from rotasolve.domain.result import Result
    from rotasolve.tasks.replanning import Replanned

HELP = """Decide what to grow where, when and in what number, over all years of a scenario.

Examples:

\b
  rotasolve plan family-garden --seconds 30
  rotasolve plan garden.yaml -o garden.plan.json
  rotasolve plan garden.yaml --effort 20 --json
  rotasolve plan garden.yaml --from garden.plan.json -o new.plan.json
  rotasolve plan garden.yaml --from garden.plan.json --as-of "10 June 2027"
      --failed "tomato in gate bed"

Ctrl-C ends the search and keeps the best plan so far. Without -o nothing is written.
--from keeps some plantings of an earlier plan as they are, plans the rest around them, and says what changed.
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
    earlier: Annotated[
        Path | None, typer.Option("--from", metavar="PLAN", help="Plan on from this plan file.", show_default=False)
    ] = None,
    keep: Annotated[
        list[str] | None,
        typer.Option(
            metavar="WHAT",
            help="With --from: 'changed' (what was changed by hand, and kept before; if not given), 'all', 'nothing', "
            "or a bed or a crop; may be given several times.",
        ),
    ] = None,
    as_of: Annotated[
        str | None,
        typer.Option(metavar="DAY", help="With --from: keep what is in the ground by this day, start nothing by then."),
    ] = None,
    failed: Annotated[
        list[str] | None,
        typer.Option(metavar="CROP", help="With --as-of: this crop, or 'CROP in BED', is cleared on that day."),
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
    asked = Asked(earlier, keep or (), as_of, failed or ())
    asked.refuse_alone()
    # Asked before the search: nobody wants to wait a minute and then be refused.
    replace = may_write(output, force) if output is not None else False
    garden, catalogue = read_inputs(scenario, own_crops)

    from rotasolve.files.plans import write_plan
    from rotasolve.files.scenarios import scenario_hash, warnings_of
    from rotasolve.tasks.rotation import unmeetable_wishes
    from rotasolve.views.words.wishes import say_hopeless
    from rotasolve.views.words.wording import plain

    look = look_of_terminal(inches=inches)
    hopeless = (plain(f"{say_hopeless(wish, look)}.") for wish in unmeetable_wishes(garden, catalogue))
    warnings = (*warnings_of(garden, catalogue), *hopeless)
    if not quiet:
        warn(warnings)
    before = read_earlier(asked, garden, catalogue) if earlier is not None else None
    if before is not None and not quiet:
        warn(before[2])
    stop, teller = threading.Event(), Teller(quiet)

    def search() -> Result | Replanned:
        from rotasolve.solver.cpsat import Limits
        from rotasolve.tasks.replanning import plan_on
        from rotasolve.tasks.rotation import plan_rotation

        threads = workers or max(1, min(_MOST_WORKERS, (os.cpu_count() or 1) - 1))
        limits = Limits(None if effort is not None else seconds or _SECONDS, effort, seed, threads)
        told = (limits, teller.hear, stop, scenario_hash(garden))
        if before is not None:
            return plan_on(garden, catalogue, before[0], before[1], *told)
        return plan_rotation(garden, catalogue, *told)

    outcome = wait_for(search, stop, teller)

    from rotasolve.tasks.replanning import Replanned

    again = outcome if isinstance(outcome, Replanned) else None
    found = outcome.result if isinstance(outcome, Replanned) else outcome

    from rotasolve.domain.result import Impossible, OutOfTime
    from rotasolve.views.answers.changes_page import changes_answer, changes_page
    from rotasolve.views.exports.plan_json import plan_answer
    from rotasolve.views.pages.page import plan_page

    if isinstance(found, Impossible | OutOfTime):
        against = again.against if again else ()
        return say_none(found, garden, warnings, json, stopped=stop.is_set(), inches=inches, against=against)
    trouble = None
    if output is not None:
        try:
            write_plan(found.plan, output, replace)
        except FileTrouble as refusal:
            trouble = refusal  # told below: what took minutes to find is shown all the same
    if json:
        told = plan_answer(found.plan, garden, catalogue, stopped_early=stop.is_set(), warnings=warnings)
        if before is not None and again is not None and again.changes is not None:
            told["from"] = {"notes": list(before[2]), **changes_answer(before[0], found.plan, again.changes)}
        answer_json(told)
    else:
        answer(plan_page(garden, catalogue, found.plan, look))
        if before is not None and again is not None and again.changes is not None:
            south = garden.site.south
            answer("\n" + changes_page(before[0], found.plan, again.changes, south, look))
    if trouble is not None:
        raise trouble
    if not quiet:
        if stop.is_set():
            talk("The search was stopped early: this is the best plan found until then.")
        if output is not None:
            talk(f"Written: {output}. See it again with: rotasolve show {scenario} {output}")
    return exit_codes.FINE
